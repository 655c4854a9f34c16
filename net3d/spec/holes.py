"""Holes of a net as a maker counts them: knots by their row and their place around."""

from __future__ import annotations

import re
from dataclasses import dataclass

BarEnds = tuple[tuple[int, int], tuple[int, int]]  # row and knot of either end

_KNOT = r"\s*(\d{1,6})\s*:\s*(\d{1,6})\s*"
_RUN, _BAR = re.compile(rf"{_KNOT}(?:-\s*(\d{{1,6}})\s*)?"), re.compile(rf"{_KNOT}to{_KNOT}")
RUN_SHAPE = "write 7:12, or 7:12-15 for knots 12 to 15 of row 7"
BAR_SHAPE = "write the knots at its ends, such as 7:12 to 8:12"


@dataclass(frozen=True)
class KnotRun:
    """Knots of a row, around clockwise from the first to the last, counted from 1; rows from 0."""

    row: int
    first: int
    last: int

    def __str__(self) -> str:
        return f"{self.row}:{self.first}" + (f"-{self.last}" if self.last != self.first else "")


@dataclass(frozen=True)
class Tear:
    """What is torn of the body or of a throat."""

    throat: int | None  # None: the body
    hoop: int | None  # that rows are counted from; None: the first
    knots: tuple[KnotRun, ...]
    bars: tuple[BarEnds, ...]

    def __str__(self) -> str:
        place = "body" if self.throat is None else f"throat {self.throat}"
        rows = f", rows from hoop {self.hoop}" if self.hoop else ""
        torn = [*map(str, self.knots), *(f"{a}:{b} to {c}:{d}" for (a, b), (c, d) in self.bars)]
        return f"{place}{rows}, {', '.join(torn)}"


def read_run(text: str) -> KnotRun | None:
    """Knots of a row as they are written, or None.

    >>> read_run("7:12-15"), read_run("7:12"), read_run("here")
    (KnotRun(row=7, first=12, last=15), KnotRun(row=7, first=12, last=12), None)
    """
    match = _RUN.fullmatch(text)
    return KnotRun(*(int(part or match[2]) for part in match.groups())) if match else None


def read_bar(text: str) -> BarEnds | None:
    """A bar as it is written, or None.

    >>> read_bar("7:12 to 8:11"), read_bar("7:12-8:11")
    (((7, 12), (8, 11)), None)
    """
    match = _BAR.fullmatch(text)
    if match is None:
        return None
    row, knot, other_row, other = (int(part) for part in match.groups())
    return (row, knot), (other_row, other)
