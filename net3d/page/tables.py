"""Sheets as tables for the page: a heading for every column and row, cells as the maker reads them."""

from __future__ import annotations

from dataclasses import dataclass

from net3d.chain import Design
from net3d.tables import cautions, cuts_sheet, marks_sheet, materials_sheet, standing_sheet
from net3d.tables.loads import loads_sheet
from net3d.tables.sheet import Sheet
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
    >>> from net3d.units import Tape
    >>> columns = (Column("hoop", "hoop"), Column("pitch", "pitch", "length"))
    >>> reach = Sheet("reach", "Reach", Tape("in"), columns, ((1, 0.0254), (2, 0.0889)))
    >>> table_of(reach, "Reach").rows
    (('1', '1'), ('2', '3.5'))
    """
    grid = sheet.filled().grid(down=sheet.read_down)
    notes = tuple(note.text for note in sheet.notes if note.text not in CAUTIONS)
    return Table(sheet.name, heading, sheet.title, grid.headings, grid.lines, grid.wordy, notes)
