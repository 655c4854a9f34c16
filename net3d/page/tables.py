"""Sheets as tables for the page: a heading for every column and row, cells as the maker reads them."""

from __future__ import annotations

from dataclasses import dataclass

from net3d.chain import Design
from net3d.tables import cautions, cuts_sheet, marks_sheet, materials_sheet, standing_sheet
from net3d.tables.loads import loads_sheet
from net3d.tables.sheet import Sheet, cell_text
from net3d.tables.throats import throat_sheet

CAUTIONS = (
    cautions.LOCAL_CODE,
    cautions.WILDLIFE,
    cautions.ON_THE_WATER,
    cautions.BENDING,
    cautions.RUNNING_TWINE,
    cautions.HOT_KNIFE,
    cautions.DIP,
)


@dataclass(frozen=True)
class Table:
    """A table of texts: the first cell of every row is its heading; ``wordy`` columns hold sentences."""

    name: str
    heading: str
    caption: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wordy: tuple[bool, ...]
    notes: tuple[str, ...]


def tables_of(design: Design) -> tuple[Table, ...]:
    """How the net stands, then what to mark, cut and buy."""
    spec, plan = design.spec, design.plan
    throats = [("How the throats hang", throat_sheet(design))] if design.shape.throats else []
    river = [("What the river pulls", loads_sheet(design, design.loads))] if design.loads else []
    sheets = [
        ("How the hoops stand", standing_sheet(spec, plan, design.shape)),
        *throats,
        *river,
        ("Materials", materials_sheet(spec, plan, design.string_lengths)),
        ("Netting to knit or cut", cuts_sheet(spec, plan)),
        ("Marks on the hoops", marks_sheet(spec, plan)),
    ]
    return tuple(table_of(sheet, heading) for heading, sheet in sheets)


def table_of(sheet: Sheet, heading: str) -> Table:
    """A sheet as a table; empty columns are left out, and cautions, which stand together on the page.

    >>> from net3d.tables.sheet import Column
    >>> reach = Sheet("reach", "Reach", (Column("hoop"), Column("pitch", "in")), ((1, 0.0254), (2, 0.0889)))
    >>> table_of(reach, "Reach").rows
    (('1', '1'), ('2', '3.5'))
    """
    kept = [
        place
        for place in range(len(sheet.columns))
        if any(row[place] not in (None, "") for row in sheet.rows)
    ]
    columns = [sheet.columns[place] for place in kept]
    lines = [tuple(column.header for column in columns)]
    lines += [
        tuple(cell_text(row[place], column) for place, column in zip(kept, columns, strict=True))
        for row in sheet.rows
    ]
    wordy = [any(isinstance(row[place], str) for row in sheet.rows) for place in kept]
    if sheet.read_down:
        lines = list(zip(*lines, strict=True))
        wordy = [True, *[False] * len(sheet.rows)]
    notes = tuple(note for note in sheet.notes if note not in CAUTIONS)
    return Table(sheet.name, heading, sheet.title, lines[0], tuple(lines[1:]), tuple(wordy), notes)
