"""Sheets: tables for the bench, printed and written as CSV from the same record."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from net3d.units import Tape, three_figures, unit_factor

Cell = str | int | float | None


@dataclass(frozen=True)
class Column:
    """One column: what it holds and the unit it is printed in.

    Cells of a column with a unit are SI floats. ``tape_step`` [m] says that they are read off a tape
    with marks so far apart, and so are printed the way the tape shows them.
    """

    heading: str
    unit: str = ""
    tape_step: float | None = None

    @property
    def header(self) -> str:
        """Heading with the unit it is printed in."""
        return f"{self.heading} ({self.unit})" if self.unit else self.heading


@dataclass(frozen=True)
class Sheet:
    """A table with a name, a title, and notes that the work at the bench needs.

    ``read_down`` sheets are printed with one column for each row, since that is how their long rows
    of readings are used; in a CSV file they stay rows.
    """

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()
    read_down: bool = False


def cell_number(cell: int | float, column: Column) -> float:
    """A number cell in the unit of its column.

    >>> round(cell_number(0.0889, Column("pitch", "in")), 9)
    3.5
    """
    return cell / float(unit_factor(column.unit)[0]) if column.unit else float(cell)


def cell_text(cell: Cell, column: Column) -> str:
    """A cell as the maker reads it; the unit stands in the column's header.

    >>> cell_text(0.0873, Column("mark 2", "in", 0.0254 / 16)), cell_text(1.2345, Column("twine", "kg"))
    ('3 7/16', '1.23')
    """
    if cell is None:
        return ""
    if isinstance(cell, str | int):
        return str(cell)
    if column.tape_step is not None:
        return Tape(column.unit, column.tape_step).reading(cell)
    return three_figures(cell_number(cell, column))


def sheet_records(sheet: Sheet) -> dict[str, Any]:
    """A sheet as names and plain values for scripts: its rows by column heading, numbers in SI."""
    headings = [column.heading for column in sheet.columns]
    return {
        "name": sheet.name,
        "title": sheet.title,
        "rows": [dict(zip(headings, row, strict=True)) for row in sheet.rows],
        "notes": list(sheet.notes),
    }
