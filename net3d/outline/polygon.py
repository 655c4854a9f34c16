"""A frame: a convex polygon whose corners are rounded, in closed form."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from net3d.outline.spread import Spread, by_meshes, by_tape
from net3d.outline.waves import FLAT

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
TURN = 2 * np.pi
HAIR = 1e-12  # of the girth: rounding
NOWHERE = -1.0  # m along a piece


@dataclass(frozen=True, eq=False)
class _Pieces:
    """Straight pieces and arcs of the curve one behind the other, clockwise (k,) each."""

    lengths: Floats  # [m]
    starts: Floats  # (k, 2) [m]
    headings: Floats  # where each sets out to, from straight left (y) on [rad]
    curvatures: Floats  # how fast it turns [1/m]


@dataclass(frozen=True)
class Polygon:
    """A convex polygon around the middle, with a radius at every corner; all sizes of the outside [m].

    ``points`` are the sharp corners (y, z), clockwise as seen from the mouth; ``radii`` round them off. Only
    as far inside it as the least of these is there a curve square to it. Raises ``ValueError`` where two
    corners are rounded by more than fits between them, where it is not convex, or not around the middle.

    >>> square = Polygon(((0.5, 0.5), (-0.5, 0.5), (-0.5, -0.5), (0.5, -0.5)), (0.1,) * 4)
    >>> round(square.girth, 6), round(square.area, 6)  # 4 x 0.8 + 2 pi 0.1, 1 - (4 - pi) 0.1^2
    (3.828319, 0.991416)
    """

    points: tuple[tuple[float, float], ...]
    radii: tuple[float, ...]
    spread: Spread = ()  # where corners stand among its meshes; () where these are even along the tape
    oval = FLAT

    def __post_init__(self) -> None:
        """Refuse what is no such curve."""
        turns = self._turns()
        if (turns <= 0).any() or not np.isclose(turns.sum(), TURN):
            raise ValueError("a frame's corners go around once, clockwise, and none points inward")
        if (self._straights() < -HAIR * np.abs(self.points).max()).any():
            raise ValueError("two corners are rounded by more than there is room for between them")
        if not len(self._crossings()):
            raise ValueError("the middle must lie inside the frame")

    @cached_property
    def girth(self) -> float:
        """All around: the straight pieces and the corners' arcs, ``sum of s + sum of r theta`` [m]."""
        return float(self._pieces.lengths.sum())

    @property
    def area(self) -> float:
        """Within it [m^2]: the polygon's, less ``r^2 (tan(a / 2) - a / 2)`` at a corner that turns by a."""
        points, turns = np.array(self.points), self._turns()
        following = np.roll(points, -1, axis=0)
        sharp = abs(np.sum(points[:, 0] * following[:, 1] - points[:, 1] * following[:, 0])) / 2
        return float(sharp - np.sum(np.square(self.radii) * (np.tan(turns / 2) - turns / 2)))

    @property
    def corners(self) -> tuple[float, ...]:
        """Arcs of the middles of its corners [rad], in their order from the reference mark."""
        ends = np.cumsum(self._pieces.lengths)
        middles = (ends - self._pieces.lengths / 2)[1::2]
        arcs = np.sort((middles - self._start) / self.girth * TURN % TURN)
        return tuple(by_meshes(self.spread, arcs).tolist())

    def angles(self, arcs: Floats) -> Floats:
        """Angles at which its points are seen from the middle (k,), clockwise from the top [rad]."""
        y, z = self.places(arcs).T
        seen = np.arctan2(-y, z)
        return np.asarray(seen + TURN * np.rint((arcs - seen) / TURN))

    def places(self, arcs: Floats, inside: float = 0.0) -> Floats:
        """As ``Curve.places``.

        A piece of length u and curvature c that sets out at h ends a chord of ``u sinc(c u / 2)`` away at
        ``h + c u / 2``.
        """
        pieces, numbers, ways = self._pieces, *self._found(arcs)
        half = pieces.curvatures[numbers] * ways / 2
        chords = ways * np.sinc(half / np.pi)
        toward = pieces.headings[numbers] + half
        outside = pieces.starts[numbers] + chords[:, None] * _headed(toward)
        return np.asarray(outside - inside * self.normals(arcs) if inside else outside)

    def normals(self, arcs: Floats) -> Floats:
        """Unit vectors outward at arcs [rad] (k, 2): a quarter turn to the left of where the curve runs."""
        numbers, ways = self._found(arcs)
        return _headed(self._pieces.headings[numbers] + self._pieces.curvatures[numbers] * ways - np.pi / 2)

    def stations(self, count: int) -> Floats:
        """Arcs of the ends of its sides, and on its corners as many as make ``count`` a turn (k,) [rad]."""
        pieces, before = self._pieces, np.cumsum(self._pieces.lengths) - self._pieces.lengths
        steps = np.ceil(pieces.lengths * pieces.curvatures / TURN * count - HAIR).astype(int)
        found = [
            start + length * np.arange(1, step + 1) / step
            for start, length, step in zip(before, pieces.lengths, np.maximum(steps, 1), strict=True)
            if length > HAIR * self.girth
        ]
        ways = np.sort((np.concatenate(found) - self._start) % self.girth)
        return by_meshes(self.spread, ways / self.girth * TURN)

    def turned_over(self) -> Polygon:
        """The same seen from its other side."""
        spread = tuple((TURN - arc, TURN - tape) for arc, tape in reversed(self.spread))
        return Polygon(tuple((-y, z) for y, z in reversed(self.points)), self.radii[::-1], spread)

    def _sides(self) -> Floats:
        """The side into every corner (k, 2) [m]."""
        return np.asarray(np.array(self.points) - np.roll(self.points, 1, axis=0))

    def _turns(self) -> Floats:
        """By how much the curve turns at every corner (k,) [rad]."""
        headings = _heading(self._sides())
        return np.asarray((np.roll(headings, -1) - headings + np.pi) % TURN - np.pi)

    def _straights(self) -> Floats:
        """What is left straight of the side into every corner (k,) [m]."""
        taken = self.radii * np.tan(self._turns() / 2)
        return np.asarray(np.linalg.norm(self._sides(), axis=1) - taken - np.roll(taken, 1))

    @cached_property
    def _pieces(self) -> _Pieces:
        """The side into every corner and the corner's own arc, one after the other."""
        turns, radii = self._turns(), np.array(self.radii)
        headings, straights = _heading(self._sides()), np.maximum(self._straights(), 0.0)
        ends = self.points - (radii * np.tan(turns / 2))[:, None] * _headed(headings)
        curvatures = np.divide(1.0, radii, out=np.zeros_like(radii), where=radii > 0)

        def woven(sides: Floats, corners: Floats) -> Floats:
            return np.stack([sides, corners], axis=1).reshape(-1, *sides.shape[1:])

        return _Pieces(
            woven(straights, radii * turns),
            woven(ends - straights[:, None] * _headed(headings), ends),
            woven(headings, headings),
            woven(np.zeros_like(radii), curvatures),
        )

    @cached_property
    def _start(self) -> float:
        """How far along the pieces the reference mark is [m]."""
        return float(self._crossings()[0])

    def _crossings(self) -> Floats:
        """How far along the pieces the curve passes above the middle [m]; none where that lies outside."""
        pieces = self._pieces
        ends = np.cumsum(pieces.lengths)
        ways = np.where(pieces.curvatures > 0, self._arc_tops(), self._side_tops())
        over = np.minimum(ways, pieces.lengths - ways) >= -HAIR * ends[-1]
        return np.asarray((ends - pieces.lengths + ways)[over])

    def _side_tops(self) -> Floats:
        """How far along straight pieces ``y + u cos h = 0``, above the middle and clockwise (k,) [m].

        Source: geometry.
        """
        pieces = self._pieces
        y, z = pieces.starts.T
        along, up = _headed(pieces.headings).T
        ways = np.divide(-y, along, out=np.full_like(y, NOWHERE), where=along < -HAIR)
        return np.where(z + ways * up > 0, ways, NOWHERE)

    def _arc_tops(self) -> Floats:
        """How far along arcs ``y_c + r cos p = 0``, p where the normal points, above the middle (k,) [m].

        Source: geometry.
        """
        pieces = self._pieces
        bends = np.where(pieces.curvatures > 0, pieces.curvatures, 1.0)
        middles = pieces.starts + _headed(pieces.headings + np.pi / 2) / bends[:, None]
        normals = np.arccos(np.clip(-middles[:, 0] * bends, -1.0, 1.0))
        turned = (normals - pieces.headings + np.pi / 2 + HAIR) % TURN - HAIR
        met = (np.abs(middles[:, 0] * bends) <= 1.0) & (middles[:, 1] + np.sin(normals) / bends > 0)
        return np.where(met, turned / bends, NOWHERE)

    def _found(self, arcs: Floats) -> tuple[Ints, Floats]:
        """On which piece a way along the curve ends (k,), and how far along it (k,) [m]."""
        lengths = self._pieces.lengths
        ways = (by_tape(self.spread, np.asarray(arcs)) / TURN * self.girth + self._start) % self.girth
        ends = np.cumsum(lengths)
        numbers = np.minimum(np.searchsorted(ends, ways, side="right"), len(ends) - 1)
        return numbers, ways - (ends - lengths)[numbers]


def rectangle(width: float, height: float, corner: float) -> Polygon:
    """A frame with four square corners, rounded; all sizes of its outside.

    Parameters
    ----------
    width, height : of the frame [m]
    corner : radius of its corners [m]

    >>> round(rectangle(1.0, 1.0, 0.5).girth, 6)  # as round as can be
    3.141593
    """
    right, top = width / 2, height / 2
    return Polygon(((right, top), (-right, top), (-right, -top), (right, -top)), (corner,) * 4)


def _heading(ways: Floats) -> Floats:
    return np.arctan2(ways[:, 1], ways[:, 0])


def _headed(headings: Floats) -> Floats:
    """Unit vectors (k, 2) in some directions (k,) [rad]."""
    return np.stack([np.cos(headings), np.sin(headings)], axis=1)
