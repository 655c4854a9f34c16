"""net3d rework: how an old net is made into another."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.commands.options import SpecFile, json_option
from net3d.commands.printing import show
from net3d.commands.reading import told_spec


@click.command()
@click.argument("old", metavar="OLD", type=SpecFile(path_type=Path))
@click.argument("new", metavar="NEW", type=SpecFile(path_type=Path))
@json_option
def rework(old: Path, new: Path, as_json: bool) -> None:
    """Print how the net of the spec OLD is made into that of NEW: hoops, rows, throats and lacing.

    Both have the same mesh and meshes around. Which hoops go where, where the body is cut open, which rows
    are knitted on or taken out, what is laced again, and the hours of it.
    """
    from net3d.plan import lay_out
    from net3d.tables.rework import rework_sheet

    first, second = told_spec(old), told_spec(new)
    show(rework_sheet((first, lay_out(first)), (second, lay_out(second))), as_json)
