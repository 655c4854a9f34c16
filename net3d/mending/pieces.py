"""The largest whole pieces of a torn tube of netting: rectangles of bars on a cylinder.

Half a pitch around and a row of bars deep there is one bar: so plain netting is a grid of cells, and a cell
whose bar is torn belongs to no piece. Source: arithmetic on the lattice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import pi

import numpy as np

from net3d.mending.lattice import Lattice
from net3d.netting.netting import Bools

LEAST_CELLS = 6  # three meshes either way: less is not worth a seam; common practice, no source


@dataclass(frozen=True)
class Whole:
    """A whole piece: its first row of knots, its first knot there, and its size in half meshes."""

    row: int  # of knots, from 0
    left: int  # half pitches clockwise from the band's first knot, from 0
    across: int
    deep: int  # rows of bars
    ring: bool  # whether it goes all around, as a tube
    angle: float  # of its left edge from the reference mark [rad]

    @property
    def meshes(self) -> float:
        """Meshes in it: half as many across as half pitches, and half as many deep as rows of bars [-]."""
        return self.across * self.deep / 4


def whole_pieces(lattice: Lattice, torn: frozenset[int], tubes: bool = False) -> tuple[Whole, ...]:
    """Whole pieces of a tube, each the largest that those before it leave, largest first.

    Netting that loses or gains meshes is in none: its rows part the tube into bands. ``tubes``: those that go
    all around before the largest.
    """
    found: list[Whole] = []
    for first, last in _bands(lattice):
        cells = whole_cells(lattice, torn, first, last)
        around = cells.shape[1]
        while best := (tubes and largest(cells, LEAST_CELLS, around)) or largest(cells, LEAST_CELLS):
            top, left, across, deep = best
            ring = across == around
            edge = float(lattice.angles[lattice.knot(first, 0)]) + left * 2 * pi / around
            found.append(Whole(first + top, left, across, deep, ring, edge % (2 * pi)))
            cells = cells.copy()
            cells[top : top + deep, np.arange(left, left + across) % around] = False
    return tuple(sorted(found, key=lambda one: -one.meshes))


def knots_along(lattice: Lattice, piece: Whole) -> tuple[int, int]:
    """The first and the last knot of a piece's first row, clockwise, from 1."""
    count = lattice.counts[piece.row]
    half = pi / count
    own = lattice.angles[lattice.knot(piece.row, 0) + np.arange(count)]
    past = np.rint((own - piece.angle) / half).astype(int) % (2 * count)
    inside = np.flatnonzero(past <= piece.across)
    first, last = inside[np.argmin(past[inside])], inside[np.argmax(past[inside])]
    return int(first) + 1, int(last) + 1


def largest(cells: Bools, least: int = 1, across_least: int = 1) -> tuple[int, int, int, int] | None:
    """The largest rectangle of whole cells (rows, around) on a cylinder: row, left, across, deep; or None.

    None of its sides is less than ``least``, and it is ``across_least`` cells wide or wider.

    Columns are gone around twice, so that a rectangle across the seam is one; none is wider than once around.
    Every rectangle that cannot grow upward is met where a column is lower than the last: a stack of columns.
    """
    rows, around = cells.shape
    heights, best = np.zeros(around, dtype=int), None
    for row in range(rows):
        heights = np.where(cells[row], heights + 1, 0)
        for left, across, deep in _under(np.tile(heights, 2).tolist(), around):
            wide = across >= max(least, across_least) and deep >= least
            if wide and (best is None or across * deep > best[2] * best[3]):
                best = (row + 1 - deep, left % around, across, deep)
    return best


def _under(heights: list[int], around: int) -> Iterator[tuple[int, int, int]]:
    """Rectangles below a row of columns, each as wide as its least column allows: left, across, deep."""
    stack: list[tuple[int, int]] = []  # where a column may begin, and how high it is
    for place, height in enumerate([*heights, 0]):
        begun = place
        while stack and stack[-1][1] > height:
            begun, deep = stack.pop()
            yield begun, min(place - begun, around), deep
        if height and (not stack or stack[-1][1] < height):
            stack.append((begun, height))


def _bands(lattice: Lattice) -> Iterator[tuple[int, int]]:
    """Runs of rows of knots of plain netting: the first and the last of each."""
    counts, steps = lattice.counts, len(lattice.counts) - 1
    taken = np.bincount(lattice.ends[:, 1], minlength=sum(counts))
    ends = np.cumsum(counts)
    plain = [
        counts[step] == counts[step + 1] and bool((taken[ends[step] : ends[step + 1]] == 2).all())
        for step in range(steps)
    ]
    first = 0
    for step in range(steps + 1):
        if step == steps or not plain[step]:
            if step > first:
                yield first, step
            first = step + 1


def whole_cells(lattice: Lattice, torn: frozenset[int], first: int, last: int) -> Bools:
    """Which cells of a band of plain rows of knots hold a bar that is whole (rows of bars, half pitches)."""
    count = lattice.counts[first]
    bars = np.flatnonzero((lattice.steps >= first) & (lattice.steps < last))
    start = float(lattice.angles[lattice.knot(first, 0)])
    upper, lower = lattice.angles[lattice.ends[bars]].T
    across = (lower - upper + pi) % (2 * pi) - pi
    places = np.floor((upper + across / 2 - start) / (pi / count)).astype(int) % (2 * count)
    cells = np.zeros((last - first, 2 * count), dtype=bool)
    cells[lattice.steps[bars] - first, places] = ~np.isin(bars, list(torn))
    return cells
