"""How one row of knots is tied to the next: which loops of the row above each knot takes.

Between two neighbouring knots of a row hangs a loop, and each knot of the next row takes one. A knot that
takes two loops is a bating: the row loses a mesh. An extra loop hung on one knot is a creasing: the next row
gains one.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import pi

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
JUST_SHORT = 1e-9  # of a pitch, so that half a pitch counts as half a pitch


@dataclass(frozen=True)
class Row:
    """A row of knots spread evenly around: how many, and the angle of the first from the reference mark."""

    count: int
    phase: float = 0.0  # rad, less than a pitch

    @property
    def pitch(self) -> float:
        """Angle from knot to knot [rad]."""
        return 2.0 * pi / self.count

    def angles(self) -> NDArray[np.float64]:
        """Angle of every knot from the reference mark, clockwise seen from the mouth (count,) [rad].

        >>> Row(4).angles().round(2).tolist()
        [0.0, 1.57, 3.14, 4.71]
        """
        return np.asarray(self.phase + np.arange(self.count) * self.pitch)

    def seen_from(self, angle: float) -> Row:
        """The same places with their angles counted from another one [rad], the first place after it first.

        >>> round(Row(4, 0.1).seen_from(0.5).phase, 4), Row(4).seen_from(pi).phase
        (1.1708, 0.0)
        """
        phase = (self.phase - angle) % self.pitch
        return Row(self.count, 0.0 if self.pitch - phase < JUST_SHORT * self.pitch else phase)

    def place_of_first(self, angle: float) -> int:
        """Which of the places that are seen from an angle [rad] is this row's own first, counted from 1.

        >>> Row(16).place_of_first(0.0), Row(16).place_of_first(3 * 2 * pi / 16)
        (1, 14)
        """
        own = self.seen_from(angle)
        return round((self.phase - angle - own.phase) / self.pitch) % self.count + 1


@dataclass(frozen=True)
class RowChange:
    """Where a row of knots departs from one loop a knot.

    ``batings`` are loops of the row above that are taken together with the next one, ``creasings`` are knots
    of the row above on which an extra loop is hung; both counted around from the row's first knot.
    """

    batings: tuple[int, ...] = ()
    creasings: tuple[int, ...] = ()

    @property
    def gain(self) -> int:
        """By how many knots the next row has more."""
        return len(self.creasings) - len(self.batings)


PLAIN = RowChange()


@dataclass(frozen=True, eq=False)
class Join:
    """The loops that hang from one row and the knots of the row below that take them.

    Loop l hangs from the knots ``left[l]`` and ``right[l]`` of the row above and is taken by knot
    ``owner[l]`` of the row ``below``: two bars, one from each.
    """

    left: Ints  # (loops,)
    right: Ints  # (loops,)
    owner: Ints  # (loops,)
    below: Row

    def bars(self) -> tuple[Ints, Ints]:
        """Places of the upper and the lower end of every bar, loop by loop, (2 loops,) each."""
        upper = np.stack([self.left, self.right], axis=1).ravel()
        return upper, np.repeat(self.owner, 2)


@lru_cache(maxsize=1024)  # whoever counts seams, knots or bars asks for the same rows again
def join_rows(above: Row, change: RowChange = PLAIN) -> Join:
    """Hang the next row of knots below a row.

    Knot 0 of the new row is the one nearest behind the reference mark, so that rows do not creep around.

    >>> join = join_rows(Row(3))
    >>> [places.tolist() for places in join.bars()], round(join.below.phase / join.below.pitch, 6)
    ([[0, 1, 1, 2, 2, 0], [0, 0, 1, 1, 2, 2]], 0.5)
    >>> join_rows(Row(4), RowChange(batings=(1,))).owner.tolist()
    [0, 1, 1, 2]
    """
    left, right, places = _loops(above, change)
    merged = np.isin(left, change.batings) & (left != right)
    owner = np.cumsum(~np.roll(merged, 1)) - 1
    count = above.count + change.gain
    wrapped = owner < 0
    owner[wrapped] = count - 1
    places[wrapped] += above.count
    middles = above.phase + above.pitch * np.bincount(owner, places) / np.bincount(owner)
    phase = float(np.mean(middles - np.arange(count) * (2 * pi / count)))
    turned = int(np.floor(phase * count / (2 * pi) + JUST_SHORT))
    owner = (owner + turned) % count
    first = -int(np.flatnonzero((owner == 0) & (np.roll(owner, 1) != 0))[0])
    left, right, owner = (np.roll(places, first) for places in (left, right, owner))
    return Join(left, right, owner, Row(count, phase - turned * (2 * pi / count)))


def _loops(above: Row, change: RowChange) -> tuple[Ints, Ints, NDArray[np.float64]]:
    """Upper ends of every loop, in their order around, and where its middle hangs, in pitches."""
    plain = np.arange(above.count)
    extra = np.asarray(change.creasings, dtype=int)
    places = np.concatenate([plain + 0.5, extra.astype(float)])
    order = np.argsort(places, kind="stable")
    left = np.concatenate([plain, extra])[order]
    right = np.concatenate([plain + 1, extra])[order] % above.count
    return left, right, places[order]
