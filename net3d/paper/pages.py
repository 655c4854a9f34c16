"""Pages of paper: what stands on each of them, before any of it is set in type."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from textwrap import fill
from typing import Literal

from net3d.drawings.figure import Figure, figure_svg
from net3d.tables.sheet import Sheet

REST = 0.0  # the height of a drawing that takes what is left of its page
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
    small: bool = False  # type
    kind: str = field(default="listing", init=False)


@dataclass(frozen=True)
class Readings:
    """Numbered tape readings in columns, read down: number, reading, note."""

    cells: tuple[tuple[str, str, str], ...]
    across: int
    size: float  # of the figures [pt]
    kind: str = field(default="readings", init=False)


@dataclass(frozen=True)
class Drawing:
    """A vector drawing: its height in inches; none: so large as it says; ``REST``: what the page has left."""

    svg: str
    alt: str
    height: float | None
    kind: str = field(default="drawing", init=False)


@dataclass(frozen=True)
class Facts:
    """Names and values, in small type where two stand side by side."""

    facts: tuple[tuple[str, str], ...]
    across: int = 1
    kind: str = field(default="facts", init=False)


@dataclass(frozen=True)
class Blanks:
    """Fields to fill in by hand, at the foot of the page."""

    names: tuple[str, ...]
    kind: str = field(default="blanks", init=False)


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
    first: int = 1  # number of the first of them
    kind: str = field(default="steps", init=False)


@dataclass(frozen=True)
class Figures:
    """Drawings of the work side by side: title, SVG and what is said of each."""

    figures: tuple[tuple[str, str, str], ...]
    kind: str = field(default="figures", init=False)


@dataclass(frozen=True)
class Beside:
    """Two blocks side by side."""

    left: Block
    right: Block
    kind: str = field(default="beside", init=False)


@dataclass(frozen=True)
class Together:
    """Blocks that are not parted: where they do not fit below others, all go to the next sheet of paper."""

    blocks: tuple[Block, ...]
    kind: str = field(default="together", init=False)


Block = (
    Steps
    | Heading
    | Listing
    | Readings
    | Drawing
    | Facts
    | Blanks
    | Notes
    | Cautions
    | Figures
    | Beside
    | Together
)


@dataclass(frozen=True)
class Page:
    """What stands together under one title; it may run on over several sheets of paper."""

    title: str
    blocks: tuple[Block, ...]
    lying: bool = False  # on the long side of the paper


def figures(shown: Sequence[Figure]) -> Figures:
    """Figures of the work as a block."""
    return Figures(tuple((figure.title, figure_svg(figure), figure.about) for figure in shown))


def listing(sheet: Sheet, wide: Sequence[str] = (), strong: bool = False, small: bool = False) -> Listing:
    """A sheet as a listing, its numbers as the maker reads them; empty columns left out.

    Columns whose keys are in ``wide`` share the width that is left over and stand to the left. ``strong``: in
    large figures, to be read from the floor; ``small``: in small type.
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
    return Listing(columns, grid.lines, small)


def listing_down(sheet: Sheet) -> Listing:
    """A sheet with a column for each of its rows: what is read down, one thing after the other."""
    grid = sheet.grid(down=True)
    columns = tuple(
        PaperColumn(heading, "left" if not place else "centre", 1.0 if not place else 0.0, strong=place > 0)
        for place, heading in enumerate(grid.headings)
    )
    return Listing(columns, grid.lines)
