"""Sheets as tables for the page: a heading for every column and row, cells as the maker reads them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from net3d.chain import Design
from net3d.drawings.hoop_words import size_text
from net3d.tables import cautions
from net3d.tables.cuts import cuts_sheet
from net3d.tables.guides import guides_sheet, standing_guides_sheet
from net3d.tables.history import history_sheet
from net3d.tables.kept import kept_of, kept_sheet
from net3d.tables.loads import loads_sheet
from net3d.tables.marks import marks_sheet
from net3d.tables.materials import materials_sheet
from net3d.tables.sheet import Column, Sheet
from net3d.tables.standing import standing_sheet
from net3d.tables.throats import throat_sheet

SETTING = (cautions.LOCAL_CODE, cautions.WILDLIFE, cautions.ON_THE_WATER)
BUILDING = (cautions.BENDING, cautions.RUNNING_TWINE, cautions.HOT_KNIFE, cautions.DIP)


WIDEST = 10  # columns that a page of paper takes; a table of more is turned on its side


@dataclass(frozen=True)
class Table:
    """A table of texts: the first cell of every row is its heading; ``wordy`` columns hold words."""

    name: str
    heading: str
    caption: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wordy: tuple[bool, ...]
    notes: tuple[str, ...]
    blocks: tuple[Block, ...] = ()


@dataclass(frozen=True)
class Block:
    """A row that is too long for any table: what it is of, what is said of it, and its numbered readings."""

    title: str
    facts: tuple[tuple[str, str], ...]
    counted: str  # what the readings are
    readings: tuple[str, ...]


def tables_of(design: Design, day: date) -> tuple[Table, ...]:
    """How the net stands, then what to mark, cut and buy; its record by a day."""
    spec, plan = design.spec, design.plan
    throats = [("How the throats hang", throat_sheet(design))] if design.shape.throats else []
    river = [("What the river pulls", loads_sheet(design, design.loads))] if design.loads else []
    guides = [("Wings and leader", guides_sheet(spec, plan))] if plan.guides else []
    guides += [("How wings and leader stand", standing_guides_sheet(design))] if plan.guides else []
    fish = [("What the mesh keeps", kept_sheet(design, kept))] if (kept := kept_of(design)) else []
    sheets = [
        ("How the hoops stand", standing_sheet(spec, plan, design.shape)),
        *throats,
        *guides,
        *fish,
        *river,
        ("Materials", materials_sheet(spec, plan, design.string_lengths)),
        ("Netting to knit or cut", cuts_sheet(spec, plan)),
    ]
    if history := spec.source.history:
        sheets.append(("Its record", history_sheet(spec, history, day)))
    marks = blocks_of(marks_sheet(spec, plan), "Marks on the hoops")
    return (*(table_of(sheet, heading) for heading, sheet in sheets), marks)


def hoops_sheet(design: Design) -> Sheet:
    """Every hoop at a glance: how large, in words where there are frames, and how far behind the mouth."""
    framed, tape = design.plan.framed, design.spec.tape
    columns = (
        Column("hoop", "hoop"),
        Column("size", "outside") if framed else Column("outside_diameter", "across, outside", "reading"),
        Column("behind_mouth", "behind the mouth", "cut"),
    )
    places = design.shape.hoop_positions - design.shape.hoop_positions[0]
    standing = zip(design.plan.hoops, places.tolist(), strict=True)
    rows = tuple(
        (hoop.number, size_text(tape, hoop) if framed else hoop.outside_diameter, place)
        for hoop, place in standing
    )
    return Sheet("hoops", f"{design.spec.title}: hoops", tape, columns, rows)


def table_of(sheet: Sheet, heading: str) -> Table:
    """A sheet as a table; empty columns are left out, and cautions, which stand together on the page.

    >>> from net3d.tables.sheet import Column
    >>> from net3d.units import Tape
    >>> columns = (Column("hoop", "hoop"), Column("pitch", "pitch", "length"))
    >>> reach = Sheet("reach", "Reach", Tape("in"), columns, ((1, 0.0254), (2, 0.0889)))
    >>> table_of(reach, "Reach").rows
    (('1', '1'), ('2', '3.5'))
    """
    filled = sheet.filled()
    grid = filled.grid(down=len(filled.columns) > WIDEST)
    wordy = tuple(any(map(is_words, column)) for column in zip(*grid.lines, strict=True))
    return Table(sheet.name, heading, sheet.title, grid.headings, grid.lines, wordy, _notes(sheet))


def blocks_of(sheet: Sheet, heading: str) -> Table:
    """A sheet of long rows as a block a row: texts of any length wrap, and readings flow in columns.

    >>> from net3d.tables.sheet import Column
    >>> from net3d.units import Tape
    >>> columns = (Column("hoop", "hoop"), Column("mark", "mark 1", "reading", 1), Column("takes", "takes"))
    >>> (block,) = blocks_of(Sheet("m", "Marks", Tape("in"), columns, ((1, 0.0254, "body"),)), "Marks").blocks
    >>> block.title, block.facts, block.counted, block.readings
    ('Hoop 1', (('takes', 'body'),), 'mark (in)', ('1',))
    """
    grid = sheet.grid()
    series = [place for place, column in enumerate(sheet.columns) if column.number]
    facts = [place for place in range(1, len(sheet.columns)) if place not in series]
    column = sheet.columns[series[0]]
    counted = sheet.tape.header(column.heading.removesuffix(f" {column.number}"), column.kind)
    blocks = tuple(
        Block(
            f"{grid.headings[0]} {line[0]}".capitalize(),
            tuple((grid.headings[place], line[place]) for place in facts if line[place]),
            counted,
            tuple(line[place] for place in series if line[place]),
        )
        for line in grid.lines
    )
    return Table(sheet.name, heading, sheet.title, (), (), (), _notes(sheet), blocks)


def is_words(cell: str) -> bool:
    """Whether a cell may be broken between its words; a number may not be.

    >>> is_words("bridle legs at 0, 16 1/16"), is_words("26 13/16")
    (True, False)
    """
    return any(letter.isalpha() for letter in cell)


def _notes(sheet: Sheet) -> tuple[str, ...]:
    return tuple(note.text for note in sheet.notes if note.text not in SETTING + BUILDING)
