"""Sheets and findings as tables for a terminal; what a maker typed is never taken for markup."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from rich.box import SIMPLE_HEAD
from rich.table import Table
from rich.text import Text

from net3d.tables.sheet import Sheet

if TYPE_CHECKING:  # the bench tables need no solver, and this would load it
    from net3d.checks.checks import Finding

NUMBER_WIDTH = 14  # characters; a longer heading goes on more than one line
LEVEL_STYLES = {"ok": "green", "caution": "yellow", "fail": "bold red"}


def sheet_table(sheet: Sheet) -> Table:
    """A sheet as a table; one that is read down gets a column for each of its rows."""
    grid = sheet.grid(down=sheet.read_down)
    table = Table(title=Text(sheet.title, "table.title"), box=SIMPLE_HEAD, title_justify="left")
    for heading, words in zip(grid.headings, grid.wordy, strict=True):
        table.add_column(
            Text(heading, "table.header"),
            justify="left" if words else "right",
            max_width=None if words else NUMBER_WIDTH,
            overflow="fold",
        )
    for line in grid.lines:
        table.add_row(*map(Text, line))
    return table


def findings_table(findings: Sequence[Finding]) -> Table:
    """Findings with their level, where they are, and what to do."""
    table = Table(box=SIMPLE_HEAD, show_header=False)
    for finding in findings:
        level = Text(finding.level.value, LEVEL_STYLES[finding.level.value])
        table.add_row(level, Text(finding.where), Text(finding.message))
    return table
