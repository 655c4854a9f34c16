"""Sheets as CSV files."""

from __future__ import annotations

import csv
from pathlib import Path

from net3d.tables.sheet import Cell, Column, Sheet, cell_number

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")


def write_table(sheet: Sheet, path: Path) -> None:
    """Write a sheet as CSV: UTF-8, lines ended as in RFC 4180, one header row that names the units.

    A text that a spreadsheet would run as a formula gets an apostrophe in front.
    """
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\r\n")
        table.writerow([_safe(column.header) for column in sheet.columns])
        for row in sheet.rows:
            table.writerow([_field(cell, column) for cell, column in zip(row, sheet.columns, strict=True)])


def _field(cell: Cell, column: Column) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return _safe(cell)
    text = f"{cell_number(cell, column):.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _safe(text: str) -> str:
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text
