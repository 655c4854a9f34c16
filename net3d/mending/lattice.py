"""A piece of netting as knots and the bars between them, row by row."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from net3d.netting.netting import Floats, Ints
from net3d.plan.decreases import Piece


@dataclass(frozen=True, eq=False)
class Lattice:
    """Knots numbered through all rows, and the bars between each row and the next.

    Two bars that follow each other, an even number and the odd one after it, make one loop.
    """

    counts: tuple[int, ...]  # knots in every row
    ends: Ints  # (bars, 2) upper and lower knot of each
    steps: Ints  # (bars,) the row that each hangs from
    angles: Floats  # (knots,) from the reference mark [rad]

    @property
    def firsts(self) -> Ints:
        """The first knot of every row (rows,)."""
        return np.cumsum((0, *self.counts[:-1]))

    @property
    def full(self) -> Ints:
        """How many bars meet in every knot of whole netting (knots,)."""
        return np.bincount(self.ends.ravel(), minlength=sum(self.counts))

    def knot(self, row: int, place: int) -> int:
        """The knot of a row, from 0 at the row that the piece hangs from, at a place around, from 0."""
        return int(self.firsts[row]) + place % self.counts[row]

    def row_and_place(self, knot: int) -> tuple[int, int]:
        """The row and the place around of a knot, from 0 each."""
        row = int(np.searchsorted(self.firsts, knot, side="right")) - 1
        return row, knot - int(self.firsts[row])

    def bars_at(self, knots: set[int]) -> frozenset[int]:
        """The bars that end in any of some knots."""
        return frozenset(np.flatnonzero(np.isin(self.ends, list(knots)).any(axis=1)).tolist())


def lattice_of(*pieces: Piece) -> Lattice:
    """The knots and bars of pieces that follow each other, each hanging from the last row of the one before.

    >>> from net3d.plan.joins import Row, RowChange
    >>> lattice = lattice_of(Piece((Row(4), Row(4, 0.8)), (RowChange(),), (0,), False))
    >>> lattice.counts, lattice.ends[:3].tolist(), lattice.row_and_place(5)
    ((4, 4), [[0, 4], [1, 4], [1, 5]], (1, 1))
    """
    rows = [pieces[0].rows[0], *(row for piece in pieces for row in piece.rows[1:])]
    firsts = np.cumsum((0, *(row.count for row in rows[:-1])))
    ends, steps = [], []
    for step, join in enumerate(join for piece in pieces for join in piece.joins):
        upper, lower = join.bars()
        ends.append(np.stack([firsts[step] + upper, firsts[step + 1] + lower], axis=1))
        steps.append(np.full(len(upper), step))
    angles = np.concatenate([row.angles() for row in rows])
    return Lattice(tuple(row.count for row in rows), np.concatenate(ends), np.concatenate(steps), angles)
