"""Knitting a piece of netting: what each knot takes of the row above, as it is called at the bench.

Knots and loops are numbered from 1, clockwise as seen from the mouth, from a marker thread at the reference
mark. Loop 1 hangs between knots 1 and 2, and the last between the last knot and knot 1.
"""

from __future__ import annotations

from dataclasses import dataclass

from net3d.plan.decreases import Piece
from net3d.plan.joins import Join

EXTRA = "x"  # before the number of the knot on which an extra loop hangs


@dataclass(frozen=True)
class KnitRow:
    """One row of knots, or several plain ones that follow each other."""

    first: int  # counted from 1 below the row that the piece hangs from
    last: int
    knots: int  # in each row
    starts: tuple[str, ...]  # the loop that knot 1 takes first; two that alternate in several plain rows
    together: tuple[str, ...]  # loops taken together in one knot, such as 5+6
    extras: tuple[int, ...]  # knots of the row above with an extra loop

    @property
    def plain(self) -> bool:
        """Whether every knot takes one loop."""
        return not self.together and not self.extras


def knit_rows(piece: Piece) -> tuple[KnitRow, ...]:
    """The rows of a piece in the order they are knitted, plain ones that follow each other in one entry.

    >>> from net3d.plan.joins import Row, RowChange
    >>> rows = (Row(4), Row(4, 0.8), Row(4), Row(3))
    >>> piece = Piece(rows, (RowChange(), RowChange(), RowChange(batings=(1,))), (0, 0, 1), False)
    >>> [(row.first, row.last, row.knots, row.together) for row in knit_rows(piece)]
    [(1, 2, 4, ()), (3, 3, 3, ('2+3',))]
    """
    merged: list[KnitRow] = []
    for row in single_rows(piece):
        if merged and merged[-1].plain and row.plain:
            row = _both(merged.pop(), row)  # noqa: PLW2901
        merged.append(row)
    return tuple(merged)


def single_rows(piece: Piece) -> list[KnitRow]:
    """The rows of a piece one by one, plain ones too."""
    return [
        _row(number, join, tuple(knot + 1 for knot in change.creasings))
        for number, (join, change) in enumerate(zip(piece.joins, piece.changes, strict=True), start=1)
    ]


def _row(number: int, join: Join, extras: tuple[int, ...]) -> KnitRow:
    labels = [_label(int(left), int(right)) for left, right in zip(join.left, join.right, strict=True)]
    taken: list[list[str]] = [[] for _ in range(join.below.count)]
    for label, owner in zip(labels, join.owner, strict=True):
        taken[owner].append(label)
    together = tuple("+".join(loops) for loops in taken if len(loops) > 1)
    return KnitRow(number, number, join.below.count, (taken[0][0],), together, extras)


def _label(left: int, right: int) -> str:
    return f"{EXTRA}{left + 1}" if left == right else f"{left + 1}"


def _both(before: KnitRow, row: KnitRow) -> KnitRow:
    starts = before.starts if len(before.starts) == 2 else (*before.starts, *row.starts)
    return KnitRow(before.first, row.last, row.knots, starts, (), ())
