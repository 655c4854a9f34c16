"""net3d cuts: what netting to knit or cut."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.commands.options import json_option, spec_argument
from net3d.commands.printing import show
from net3d.commands.reading import told_spec


@click.command()
@spec_argument
@json_option
def cuts(path: Path, as_json: bool) -> None:
    """Print what netting to knit or cut, from mouth to tail."""
    from net3d.plan import lay_out
    from net3d.tables.cuts import cuts_sheet

    spec = told_spec(path)
    show(cuts_sheet(spec, lay_out(spec)), as_json)
