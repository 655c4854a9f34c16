"""Pages of paper: what stands on each of them, before any of it is set in type."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from net3d.sheets.sheets import Sheet, cell_text


@dataclass(frozen=True)
class PaperColumn:
    """A column of a listing on paper. ``width`` is its part of what is left over; 0: as wide as its text."""

    heading: str
    align: Literal["left", "centre"] = "centre"
    width: float = 0
    strong: bool = False
    tick: bool = False  # an empty box to tick off


@dataclass(frozen=True)
class Heading:
    """A heading within a page."""

    text: str
    kind: str = field(default="heading", init=False)


@dataclass(frozen=True)
class Listing:
    """A table."""

    columns: tuple[PaperColumn, ...]
    rows: tuple[tuple[str, ...], ...]
    kind: str = field(default="listing", init=False)


@dataclass(frozen=True)
class Readings:
    """Numbered tape readings in columns, read down: number, reading, note."""

    cells: tuple[tuple[str, str, str], ...]
    across: int
    kind: str = field(default="readings", init=False)


@dataclass(frozen=True)
class Drawing:
    """A vector drawing: width in parts of 100 of the page, height in inches."""

    svg: str
    alt: str
    width: float = 100
    height: float = 4.0
    kind: str = field(default="drawing", init=False)


@dataclass(frozen=True)
class Facts:
    """Names and values."""

    facts: tuple[tuple[str, str], ...]
    kind: str = field(default="facts", init=False)


@dataclass(frozen=True)
class Notes:
    """Plain sentences."""

    lines: tuple[str, ...]
    kind: str = field(default="notes", init=False)


@dataclass(frozen=True)
class Cautions:
    """Sentences in a frame: where the work can hurt."""

    lines: tuple[str, ...]
    kind: str = field(default="cautions", init=False)


Block = Heading | Listing | Readings | Drawing | Facts | Notes | Cautions


@dataclass(frozen=True)
class Page:
    """What stands together under one title; it may run on over several sheets of paper."""

    title: str
    blocks: tuple[Block, ...]


def listing(sheet: Sheet, headings: Sequence[str], wide: Sequence[str] = ()) -> Listing:
    """Some columns of a sheet as a listing, its numbers as the maker reads them; empty columns left out.

    Columns named in ``wide`` share the width that is left over and stand to the left.
    """
    places = [
        next(place for place, column in enumerate(sheet.columns) if column.heading == heading)
        for heading in headings
    ]
    filled = [place for place in places if any(row[place] not in (None, "") for row in sheet.rows)]
    columns = tuple(
        PaperColumn(
            sheet.columns[place].header,
            *(("left", 1.0) if sheet.columns[place].heading in wide else ("centre", 0.0)),
        )
        for place in filled
    )
    rows = tuple(tuple(cell_text(row[place], sheet.columns[place]) for place in filled) for row in sheet.rows)
    return Listing(columns, rows)
