"""Sheets and findings as tables for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from rich.box import SIMPLE_HEAD
from rich.markup import escape
from rich.table import Table

from net3d.checks.checks import Finding, Level
from net3d.sheets.sheets import Sheet, cell_text

LEVEL_STYLES = {Level.OK: "green", Level.CAUTION: "yellow", Level.FAIL: "bold red"}


def sheet_table(sheet: Sheet) -> Table:
    """A sheet as a table; one that is read down gets a column for each of its rows."""
    lines = [[column.header for column in sheet.columns]]
    lines += [
        [cell_text(cell, column) for cell, column in zip(row, sheet.columns, strict=True)]
        for row in sheet.rows
    ]
    if sheet.read_down:
        lines = [list(line) for line in zip(*lines, strict=True)]
    table = Table(title=escape(sheet.title), box=SIMPLE_HEAD, title_justify="left")
    for number, heading in enumerate(lines[0]):
        text_column = all(isinstance(row[number], str) for row in sheet.rows) and not sheet.read_down
        table.add_column(escape(heading), justify="left" if text_column or not number else "right")
    for line in lines[1:]:
        table.add_row(*map(escape, line))
    return table


def findings_table(findings: Sequence[Finding]) -> Table:
    """Findings with their level, where they are, and what to do."""
    table = Table(box=SIMPLE_HEAD, show_header=False)
    for finding in findings:
        style = LEVEL_STYLES[finding.level]
        table.add_row(f"[{style}]{finding.level.value}[/]", escape(finding.where), escape(finding.message))
    return table
