"""net3d schema: the form of a spec, for editors."""

from __future__ import annotations

import click

from net3d.commands.printing import print_json


@click.command()
def schema() -> None:
    """Print the JSON Schema of the spec, for editors."""
    from net3d.spec.schema import spec_schema

    print_json(spec_schema())
