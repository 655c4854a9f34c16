"""Sheets as CSV files."""

from __future__ import annotations

import csv
from pathlib import Path

from net3d.tables.sheet import Cell, Column, Sheet
from net3d.units import Tape

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")


def write_table(sheet: Sheet, path: Path) -> None:
    """Write a sheet as CSV: UTF-8, lines ended as in RFC 4180, one header row of keys and units.

    A text that a spreadsheet would run as a formula gets an apostrophe in front.
    """
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\r\n")
        table.writerow([_header(column, sheet.tape) for column in sheet.columns])
        for row in sheet.rows:
            cells = zip(row, sheet.columns, strict=True)
            table.writerow([_field(cell, column, sheet.tape) for cell, column in cells])


def _header(column: Column, tape: Tape) -> str:
    """A column's name and unit: ``pitch_in``, ``mark_2_mm``, ``knots``."""
    return "_".join(filter(None, (column.name, tape.suffix(column.kind))))


def _field(cell: Cell, column: Column, tape: Tape) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return safe(cell)
    text = f"{tape.number(cell, column.kind):.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def safe(text: str) -> str:
    """A text for a cell, with an apostrophe in front where a spreadsheet would run it as a formula."""
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text
