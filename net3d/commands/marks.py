"""net3d marks: where the chalk marks go."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.commands.options import json_option, spec_argument
from net3d.commands.printing import show
from net3d.commands.reading import told_spec


@click.command()
@spec_argument
@json_option
def marks(path: Path, as_json: bool) -> None:
    """Print where the chalk marks go on every hoop.

    Tape readings around the outside of the hoop, from the reference mark at the top.
    """
    from net3d.plan import lay_out
    from net3d.tables.marks import marks_sheet

    spec = told_spec(path)
    show(marks_sheet(spec, lay_out(spec)), as_json)
