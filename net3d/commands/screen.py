"""Sheets and findings as tables for a terminal; what a maker typed is never taken for markup.

No number and no word is ever broken: "26 13/1" over "6" reads as another number. A table that does not fit is
turned on its side, a block a row.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from io import StringIO
from typing import TYPE_CHECKING

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table
from rich.text import Text

from net3d.spec.keys import change_line
from net3d.tables.sheet import Grid, Sheet

if TYPE_CHECKING:  # the bench tables need no solver, and this would load it
    from net3d.checks.checks import Finding

NUMBER_WIDTH = 14  # characters; a longer heading goes on more than one line
LEVEL_STYLES = {"ok": "green", "caution": "yellow", "fail": "bold red"}
BOUND = "\ue000"  # stands for the blank in 3 1/2, at which no line may end
_MIXED = re.compile(r"(?<=\d) (?=\d+/\d)")


def bound(text: str) -> str:
    """A text whose mixed fractions hold together; ``unbound`` takes it back once lines are made."""
    return _MIXED.sub(BOUND, text)


def unbound(text: str) -> str:
    """What is printed of it."""
    return text.replace(BOUND, " ")


def sheet_table(sheet: Sheet, width: int) -> Table:
    """A sheet as a table in so many characters a line; one that is read down gets a column a row."""
    grid = sheet.grid(down=sheet.read_down)
    table = _upright(sheet, grid)
    return table if _is_whole(table, grid, width) else _on_its_side(sheet)


def _upright(sheet: Sheet, grid: Grid) -> Table:
    table = Table(title=Text(bound(sheet.title), "table.title"), box=SIMPLE_HEAD, title_justify="left")
    for place, (heading, words) in enumerate(zip(grid.headings, grid.wordy, strict=True)):
        table.add_column(
            Text(bound(heading), "table.header"),
            justify="left" if words else "right",
            min_width=_column_width(grid, place),
            max_width=None if words else max(NUMBER_WIDTH, _column_width(grid, place)),
        )
    for line in grid.lines:
        table.add_row(*(Text(bound(cell)) for cell in line))
    return table


def _is_whole(table: Table, grid: Grid, width: int) -> bool:
    """Whether every word and every number of a table is whole in so many characters a line."""
    console = Console(width=width, highlight=False, emoji=False, color_system=None, file=StringIO())
    with console.capture() as captured:
        console.print(table)
    shown = set(captured.get().split())
    titles = [str(table.title or "")]
    cells = (cell for line in (titles, grid.headings, *grid.lines) for cell in line)
    return all(piece in shown for cell in cells for piece in bound(cell).split())


def _column_width(grid: Grid, place: int) -> int:
    """The longest word of a column's heading and cells, or of a column of numbers the longest cell."""
    cells = [line[place] for line in grid.lines]
    pieces = [piece for cell in cells for piece in (bound(cell).split() if grid.wordy[place] else [cell])]
    return max(map(len, [*pieces, *bound(grid.headings[place]).split()]), default=0)


def _on_its_side(sheet: Sheet) -> Table:
    """A block for every row: each heading with its cell beside it, empty ones left out. It has no title."""
    grid = sheet.grid()
    table = Table(box=SIMPLE_HEAD, show_header=False)
    for line in grid.lines:
        for heading, cell in zip(grid.headings, line, strict=True):
            if cell:
                table.add_row(Text(bound(heading)), Text(bound(cell)))
        table.add_section()
    return table


def findings_table(findings: Sequence[Finding]) -> Table:
    """Findings with their level, where they are, and what to do."""
    table = Table(box=SIMPLE_HEAD, show_header=False)
    told: set[int] = set()
    for finding in findings:
        level = Text(finding.level.value, LEVEL_STYLES[finding.level.value])
        lines = [finding.message, *_advice(finding, told)]
        table.add_row(level, Text(bound(finding.where)), Text(bound("\n".join(lines))))
    return table


def _advice(finding: Finding, told: set[int]) -> Iterator[str]:
    """The lines of a finding's remedies, numbered, with what else comes of each; or why there are none.

    Those that were told, by their numbers, are only named.
    """
    again = [f"{remedy.number})" for remedy in finding.remedies if remedy.number in told]
    if again:
        yield f"{' and '.join(again)} above set{'' if len(again) > 1 else 's'} this right too."
    for remedy in finding.remedies:
        if remedy.number in told:
            continue
        told.add(remedy.number)
        typed = zip(remedy.changes.items(), remedy.places, strict=True)
        first, *more = (
            f"{change_line(*change)}{f'   ({place})' if place else ''}" for change, place in typed
        )
        yield f"{remedy.number}) {first}"
        yield from (f"   {line}" for line in more)
        yield from (f"   - {also}" for also in remedy.also)
    if finding.cause:
        yield finding.cause
