"""net3d materials: what a net takes."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.chain import shaped
from net3d.commands.options import json_option, spec_argument
from net3d.commands.printing import show
from net3d.commands.reading import told_spec


@click.command()
@spec_argument
@json_option
def materials(path: Path, as_json: bool) -> None:
    """Print the twine, rod, rope and dip that a net takes, and cautions."""
    from net3d.plan import lay_out
    from net3d.tables.materials import materials_sheet

    spec = told_spec(path)
    if spec.throats:  # how long a throat's strings must be follows from the shape
        design = shaped(spec)
        show(materials_sheet(spec, design.plan, design.string_lengths), as_json)
    else:
        show(materials_sheet(spec, lay_out(spec)), as_json)
