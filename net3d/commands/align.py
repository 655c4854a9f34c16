"""net3d align: how to turn hoops that are bowed so that the net pulls evenly."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from net3d.commands.options import json_option, spec_argument
from net3d.commands.printing import print_json, print_sheet, progress
from net3d.commands.reading import told_spec

if TYPE_CHECKING:
    from net3d.tables.sheet import Sheet

WAYS = 11  # in line, what the estimate likes, what it likes least, twists
FLIPPED_WAYS = 6  # more where hoops may be turned over
ORDERED_WAYS = 12  # more where hoops may change places


@click.command()
@spec_argument
@click.option("--flip", "flips", is_flag=True, help="Also turn hoops over, tail side to the mouth.")
@click.option(
    "--order",
    is_flag=True,
    help="Also try hoops in each other's places, and those of [[pile]], where they fit.",
)
@json_option
def align(path: Path, flips: bool, order: bool, as_json: bool) -> None:
    """Find how to turn hoops that are bowed so that the net pulls evenly.

    Reads gaps and across of every [[hoop]], and with --order of every [[pile]]. Compares reference marks in
    line with the best turns that were found and the worst that were tried, and says what to type into the
    spec. Turns and flips that the spec gives already are not looked at.
    """
    sheets = _work_out(path, flips, order)
    if as_json:
        _print_json(sheets)
        return
    for sheet in sheets:
        print_sheet(sheet)


def _work_out(path: Path, flips: bool, order: bool) -> tuple[Sheet, Sheet]:
    from net3d.align import align as find_ways
    from net3d.align.search import bare_body
    from net3d.tables.align import align_sheet, turns_sheet

    spec = bare_body(told_spec(path), order)
    with progress(WAYS + (FLIPPED_WAYS if flips else 0) + (ORDERED_WAYS if order else 0)) as announce:
        found = find_ways(spec, flips, order, announce)
    return align_sheet(spec, found), turns_sheet(spec, found)


def _print_json(sheets: tuple[Sheet, Sheet]) -> None:
    from net3d.writers.json_tables import sheet_records
    from net3d.writers.report import finite

    records = {sheet.name: sheet_records(sheet) for sheet in sheets}
    print_json(finite(records))
