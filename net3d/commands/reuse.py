"""net3d reuse: what an old net still gives."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.commands.options import SpecFile, json_option, spec_argument
from net3d.commands.printing import print_json, print_sheet
from net3d.commands.reading import told_spec


@click.command()
@spec_argument
@click.option(
    "--for",
    "wanted",
    metavar="SPEC",
    type=SpecFile(path_type=Path),
    help="Another net: which of its parts the whole pieces make.",
)
@json_option
def reuse(path: Path, wanted: Path | None, as_json: bool) -> None:
    """Print the largest whole pieces that the holes of an old net leave, and what they make of another net.

    The body is looked through, its holes being the [[hole]] tables of its spec.
    """
    from net3d.plan import lay_out
    from net3d.tables.reuse import best_cut, pieces_of, pieces_sheet, reuse_sheet

    spec = told_spec(path)
    plan = lay_out(spec)
    if wanted is None:
        sheets = [pieces_sheet(spec, plan, pieces_of(spec, plan))]
    else:
        other = told_spec(wanted)
        cut, made = best_cut(spec, plan, (other, lay_out(other)))
        sheets = [pieces_sheet(spec, plan, cut), reuse_sheet(spec, other, made)]
    if as_json:
        from net3d.writers.json_tables import sheet_records

        print_json([sheet_records(sheet) for sheet in sheets])
    else:
        for sheet in sheets:
            print_sheet(sheet)
