"""Where a piece of netting loses or gains meshes: how many in each row, and at which places.

A bating ties one knot to three of the row above, so those must come within reach of two bars. Off a hoop
that is hung wide they cannot: every knot must also lie within as many bars of each hoop knot that it hangs
from, through whatever path, as there are rows between. That is what ``reachable`` asks.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain, pairwise
from math import floor, sin

import numpy as np
from numpy.typing import NDArray

from net3d.plan.joins import PLAIN, Join, Row, RowChange, join_rows
from net3d.plan.placing import even_places, half_pitch, has_middle, mirrored_places

LAST_ODD = 4  # rows from the last on that may take an odd mesh to keep left and right alike
LEAST_SLACK = 0.98  # of the twine between them, so that the netting is not bar-tight there before it is hung


@dataclass(frozen=True)
class Piece:
    """Netting in the round, row by row from where it is sewn in: one change less than rows."""

    rows: tuple[Row, ...]
    changes: tuple[RowChange, ...]
    wanted: tuple[int, ...]  # how many meshes each row was to lose (or gain, below zero)
    moved: bool  # whether some could only be lost further down
    seams: tuple[int, ...] = ()  # where the seams of cut netting start, in half knots of the first row

    @property
    def knots(self) -> int:
        """Knots tied in this piece, those of its first row not counted."""
        return sum(row.count for row in self.rows[1:])

    @property
    def mirrored(self) -> bool:
        """Whether left and right are alike: every row stands on the reference mark or half off."""
        return all(half_pitch(row) is not None for row in self.rows)

    @property
    def joins(self) -> tuple[Join, ...]:
        """How each row is tied to the next."""
        return tuple(map(join_rows, self.rows, self.changes))

    @property
    def bars(self) -> int:
        """Bars in this piece, two for every loop."""
        creasings = sum(len(change.creasings) for change in self.changes)
        return 2 * (sum(row.count for row in self.rows[:-1]) + creasings)


@dataclass(frozen=True)
class Edge:
    """What a piece hangs from: its first row, the radius that row is held on, and the bar [m]."""

    row: Row
    radius: float
    bar: float


def share_out(total: int, joins: int, taper: float) -> tuple[int, ...]:
    """How many of ``total`` meshes each of ``joins`` rows loses, adding up exactly.

    The first k rows lose ``round(total (k / joins)^(1 + 2 taper))``, taper [-] from 0, even, to 1, late.
    Source: common practice; the power is this project's own.

    >>> share_out(5, 4, 0.0), share_out(8, 4, 1.0)
    ((1, 2, 1, 1), (0, 1, 2, 5))
    """
    done = [floor(total * (k / joins) ** (1.0 + 2.0 * taper) + 0.5) for k in range(joins + 1)]
    return tuple(after - before for before, after in pairwise(done))


def tie_down(edge: Edge, wanted: tuple[int, ...], exact: bool = False) -> Piece | None:
    """A piece that loses ``wanted[k]`` meshes in row k + 1, or as soon below as they can stand.

    Below zero a row gains meshes. Unless the rows' numbers are ``exact``, an odd mesh waits for the next row
    that loses one, or for the last, so that the sides mirror each other and no ridge forms between them;
    where the last has no knot at the top or at the bottom for it, for one of the few before it; and two of a
    row that loses every other knot are lost in the row before. None where some cannot stand in any row.
    """
    if exact:
        return _tied_down(edge, wanted, exact)
    pieces = (_tied_down(edge, wanted, exact, last_odd) for last_odd in range(1, LAST_ODD + 1))
    piece = next(pieces)
    if piece is None or piece.mirrored:
        return piece
    evened = (_tied_down(edge, some, exact) for some in _earlier(wanted))
    return next((other for other in chain(pieces, evened) if other is not None and other.mirrored), piece)


def _earlier(wanted: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """The same losses but for two meshes of one of the last rows, which the row before it loses."""
    for row in range(len(wanted) - 1, max(len(wanted) - 1 - LAST_ODD, 0), -1):
        if wanted[row] > 1:
            yield (*wanted[: row - 1], wanted[row - 1] + 2, wanted[row] - 2, *wanted[row + 1 :])


def _tied_down(edge: Edge, wanted: tuple[int, ...], exact: bool, last_odd: int = 1) -> Piece | None:
    """The same, an odd one left over at the end taken in the first of the ``last_odd`` rows that can."""
    rows, changes = [edge.row], list[RowChange]()
    waiting, turns, moved = 0, 0, False
    reach = Reach(np.arange(edge.row.count), np.zeros(edge.row.count, dtype=int), edge.row.count)
    for number, losing in enumerate(wanted):
        waiting += losing
        left = len(wanted) - number
        odd = (waiting + sum(wanted[number + 1 :])) % 2 == 1 and left <= last_odd and has_middle(rows[-1])
        row = (rows[-1], waiting, number, turns)
        change, held = _most_that_stand(edge, reach, row, None if exact or left == 1 else int(odd))
        join = join_rows(rows[-1], change)
        reach = reach.below(join)
        waiting += change.gain
        turns += change.gain != 0
        moved = moved or held
        rows.append(join.below)
        changes.append(change)
    if waiting:
        return None if exact else _tied_down(edge, wanted, exact=True)
    return Piece(tuple(rows), tuple(changes), wanted, moved)


@dataclass(frozen=True, eq=False)
class Reach:
    """The edge knots that each knot of a row hangs from: the first, and how many pitches to the last."""

    firsts: NDArray[np.int64]  # (knots,)
    widths: NDArray[np.int64]  # (knots,)
    around: int

    def below(self, join: Join) -> Reach:
        """The same for the next row."""
        loop_firsts = self.firsts[join.left]
        loop_widths = (self.firsts[join.right] - loop_firsts) % self.around + self.widths[join.right]
        second = join.owner == np.roll(join.owner, 1)
        firsts = np.empty(join.below.count, dtype=int)
        firsts[join.owner[~second]] = loop_firsts[~second]
        widths = np.zeros(join.below.count, dtype=int)
        np.maximum.at(widths, join.owner, (loop_firsts - firsts[join.owner]) % self.around + loop_widths)
        return Reach(firsts, widths, self.around)


def _most_that_stand(
    edge: Edge, reach: Reach, row: tuple[Row, int, int, int], parity: int | None
) -> tuple[RowChange, bool]:
    """As many of the waiting meshes as the row can lose, and whether reach keeps it from losing them all.

    Increases can stand anywhere.
    """
    above, waiting, number, turns = row
    if waiting <= 0:
        return _change(above, waiting, turns, parity), False
    for losing in range(waiting, 0, -1):
        change = _change(above, losing, turns, parity)
        if stands(edge, reach.below(join_rows(above, change)), number + 1):
            return change, losing < waiting
    return PLAIN, True


def stands(edge: Edge, reach: Reach, rows: int) -> bool:
    """Whether every knot, so many rows down, reaches the first and the last edge knot that it hangs from.

    ``2 R sin(pi k / N) <= 2 rows b`` for k edge pitches between them. Source: geometry, a chord of the edge.
    """
    widest = min(int(reach.widths.max()), edge.row.count // 2)
    chord = 2.0 * edge.radius * sin(widest * edge.row.pitch / 2.0)
    return chord <= LEAST_SLACK * 2.0 * rows * edge.bar


def _change(above: Row, losing: int, turns: int, parity: int | None) -> RowChange:
    """Spread the meshes that a row loses (or gains) evenly around, turned from each such row to the next.

    With a ``parity`` one fewer where they are odd and should be even (0), or even and should be odd (1).
    """
    count = min(abs(losing), above.count // 2 if losing > 0 else above.count)
    if parity is not None and count:
        count -= (count - parity) % 2  # odd ones could only stand at the top and the bottom, row after row
    if count == 0:
        return PLAIN
    apart = 2 if losing > 0 else 1
    knots = mirrored_places(above, count, turns, apart)
    if knots is None:
        knots = even_places(above, count, turns)
    if losing > 0:
        return RowChange(batings=tuple(int(knot) for knot in (knots - 1) % above.count))
    return RowChange(creasings=tuple(int(knot) for knot in knots))
