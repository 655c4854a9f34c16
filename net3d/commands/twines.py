"""net3d twines: the twines that a spec can name."""

from __future__ import annotations

import click

from net3d.commands.options import json_option
from net3d.commands.printing import show


@click.command()
@click.option("--metric", is_flag=True, help="In millimetres, newtons and metres a kilogram.")
@json_option
def twines(metric: bool, as_json: bool) -> None:
    """List the twines that a spec can name, with their figures and where these come from."""
    from net3d.tables.twines import twines_sheet
    from net3d.units import plain_tape

    show(twines_sheet(plain_tape(metric)), as_json)
