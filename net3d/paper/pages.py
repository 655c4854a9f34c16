"""Pages of paper: what stands on each of them, before any of it is set in type."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from textwrap import fill
from typing import Literal

from net3d.tables.sheet import Sheet

HEADING_WIDTH = 13  # letters, so that a narrow column is not widened by its heading


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
    large: bool  # whether there is room for large figures
    kind: str = field(default="readings", init=False)


@dataclass(frozen=True)
class Drawing:
    """A vector drawing: its height in inches, or none for what is to scale and so large as it says itself."""

    svg: str
    alt: str
    height: float | None
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


@dataclass(frozen=True)
class Steps:
    """Things to do in order, each with a box to tick: what to do, its numbers, its caution."""

    steps: tuple[tuple[str, str, str], ...]
    kind: str = field(default="steps", init=False)


@dataclass(frozen=True)
class Together:
    """Blocks that are not parted: where they do not fit below others, all go to the next sheet of paper."""

    blocks: tuple[Block, ...]
    kind: str = field(default="together", init=False)


Block = Steps | Heading | Listing | Readings | Drawing | Facts | Notes | Cautions | Together


@dataclass(frozen=True)
class Page:
    """What stands together under one title; it may run on over several sheets of paper."""

    title: str
    blocks: tuple[Block, ...]


def listing(sheet: Sheet, wide: Sequence[str] = (), strong: bool = False) -> Listing:
    """A sheet as a listing, its numbers as the maker reads them; empty columns left out.

    Columns whose keys are in ``wide`` share the width that is left over and stand to the left. ``strong``: in
    large figures, to be read from the floor.
    """
    shown = sheet.filled()
    grid = shown.grid()
    columns = tuple(
        PaperColumn(
            fill(heading, HEADING_WIDTH, break_long_words=False),
            *(("left", 1.0) if column.key in wide else ("centre", 0.0)),
            strong=strong,
        )
        for column, heading in zip(shown.columns, grid.headings, strict=True)
    )
    return Listing(columns, grid.lines)


def listing_down(sheet: Sheet) -> Listing:
    """A sheet with a column for each of its rows: what is read down, one thing after the other."""
    grid = sheet.grid(down=True)
    columns = tuple(
        PaperColumn(heading, "left" if not place else "centre", 1.0 if not place else 0.0, strong=place > 0)
        for place, heading in enumerate(grid.headings)
    )
    return Listing(columns, grid.lines)
