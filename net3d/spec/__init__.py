"""The spec stage: what a maker typed becomes a checked record in SI."""

from net3d.spec.changes import vary
from net3d.spec.read import correct_spec, files_of, parse_spec, read_spec
from net3d.spec.starter import starter_spec

__all__ = ["correct_spec", "files_of", "parse_spec", "read_spec", "starter_spec", "vary"]
