"""A spec as every command reads it: what is hardly meant is told before anything is made of it."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from net3d.spec.spec import NetSpec


def told_spec(path: Path) -> NetSpec:
    """The spec of a file; its doubts go to the errors, so that tables and JSON stay as they are."""
    from net3d.checks import told_once
    from net3d.checks.doubts import check_doubts
    from net3d.spec import read_spec

    spec = read_spec(path)
    for doubt in told_once(check_doubts(spec)):
        with suppress(OSError):
            click.echo(f"In doubt: {doubt.message}", err=True)
    return spec
