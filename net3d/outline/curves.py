"""Closed curves in the plane of a hoop, as seen from the mouth with the reference mark at the top.

A place on a curve is told by the way to it from the reference mark, clockwise along the outside: its arc, all
the way around being 2 pi, so that on a circle the arc is the angle. Coordinates are (y, z) as everywhere in
the net: y to the left as seen from the mouth, z up.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from net3d.outline.girth import girth_of
from net3d.outline.spread import Spread
from net3d.outline.waves import FLAT, Waves

Floats = NDArray[np.float64]
TURN = 2 * np.pi
STEPS_AROUND = 1440  # of an oval, in which lengths along it are summed
ANGLES = np.linspace(0.0, TURN, STEPS_AROUND + 1)
HAIR = 1e-9  # of a turn: nearer than this two places are one
NEAR = 1e-3  # of a turn: short pieces between nodes are so stiff that their numbers drown others
ROUNDS = 12  # each leaves a share of the error that is the square of the oval's


class Curve(Protocol):
    """What every kind of closed curve tells of itself; lengths in m, all of them around its outside."""

    @property
    def girth(self) -> float:
        """All around [m]."""

    @property
    def area(self) -> float:
        """Within it [m^2]."""

    @property
    def oval(self) -> Waves:
        """How far it departs outward from the circle that is as long around, by the angle [m]."""

    @property
    def corners(self) -> tuple[float, ...]:
        """Arcs of its corners' middles [rad]; none where it has none."""

    @property
    def spread(self) -> Spread:
        """Where its corners stand among meshes that are uneven along it; none where they are even."""

    def angles(self, arcs: Floats) -> Floats:
        """Angles at which it is seen from the middle (k,), clockwise from the reference mark [rad]."""

    def places(self, arcs: Floats, inside: float = 0.0) -> Floats:
        """Points of the curve, or inside it (k, 2) [m].

        Parameters
        ----------
        arcs : where, from the top (k,) [rad]
        inside : by so much, square to it [m]
        """

    def normals(self, arcs: Floats) -> Floats:
        """Unit vectors outward at arcs [rad] (k, 2) [-]."""

    def stations(self, count: int) -> Floats:
        """Arcs (k,) by which to draw it, as fine as a circle of so many [rad]."""

    def turned_over(self) -> Curve:
        """The same seen from its other side, reference mark at the top."""


@dataclass(frozen=True)
class Circle:
    """A round hoop of an outside ``diameter`` [m]."""

    diameter: float
    oval = FLAT
    corners = ()
    spread = ()

    @property
    def girth(self) -> float:
        """All around, pi D [m]."""
        return girth_of(self.diameter)

    @property
    def area(self) -> float:
        """Within it, pi D^2 / 4 [m^2]."""
        return np.pi / 4 * self.diameter**2

    def angles(self, arcs: Floats) -> Floats:
        """The arcs themselves (k,) [rad]."""
        return arcs

    def places(self, arcs: Floats, inside: float = 0.0) -> Floats:
        """As ``Curve.places``.

        >>> Circle(2.0).places(np.array([0.0, np.pi / 2]), 0.25).round(6).tolist()
        [[-0.0, 0.75], [-0.75, 0.0]]
        """
        radius = self.diameter / 2 - inside
        return np.stack([-radius * np.sin(arcs), radius * np.cos(arcs)], axis=1)

    def normals(self, arcs: Floats) -> Floats:
        """Unit vectors outward at arcs [rad] (k, 2) [-]."""
        return np.stack([-np.sin(arcs), np.cos(arcs)], axis=1)

    def stations(self, count: int) -> Floats:
        """So many arcs, evenly (count,) [rad]."""
        return even(count)

    def turned_over(self) -> Circle:
        """The same."""
        return self


@dataclass(frozen=True)
class Oval:
    """A hoop that is not round: ``r(t) = R + w(t)``, as long around as a round one of a ``diameter`` [m].

    A rod keeps its length when its hoop goes out of round: ``integral of sqrt(r^2 + r'^2) dt = pi D``. A wave
    of m crests and a height a takes about ``m^2 a^2 / 2 D`` off the mean radius. Source: geometry.

    >>> round(Oval(1.0, Waves((2,), (0.02,), (0.0,))).mean_radius, 5)
    0.4992
    """

    diameter: float
    oval: Waves
    corners = ()
    spread = ()

    @property
    def girth(self) -> float:
        """All around, pi D [m]."""
        return girth_of(self.diameter)

    @property
    def area(self) -> float:
        """Within it, ``integral of r^2 / 2 dt = pi (R^2 + sum (a^2 + b^2) / 2)`` [m^2]."""
        squares = sum(part**2 for part in (*self.oval.cosines, *self.oval.sines))
        return float(np.pi * (self.mean_radius**2 + squares / 2))

    @cached_property
    def mean_radius(self) -> float:
        """R [m]."""
        mean = self.diameter / 2
        for _ in range(ROUNDS):
            mean += self.diameter / 2 - self._ways(mean)[-1] / TURN
        return float(mean)

    def angles(self, arcs: Floats) -> Floats:
        """Angles at which distances along it end (k,) [rad]: where it bulges, a tape spans less of an angle.

        >>> oval = Oval(1.0, Waves((2,), (0.02,), (0.0,)))
        >>> oval.angles(np.array([0.0, np.pi / 4, np.pi])).round(3).tolist()
        [0.0, 0.765, 3.142]
        """
        ways = self._along
        turns, parts = np.divmod(np.asarray(arcs) / TURN, 1.0)
        return np.asarray(TURN * turns + np.interp(parts, ways / ways[-1], ANGLES))

    def places(self, arcs: Floats, inside: float = 0.0) -> Floats:
        """As ``Curve.places``."""
        angles = self.angles(arcs)
        radii = self.mean_radius + self.oval.at(angles)
        outward, _ = _ways_out(angles)
        return np.asarray(radii[:, None] * outward - inside * self.normals(arcs))

    def normals(self, arcs: Floats) -> Floats:
        """Unit vectors outward at arcs [rad] (k, 2): ``(r e_r - r' e_t) / sqrt(r^2 + r'^2)``."""
        angles = self.angles(arcs)
        radii, rises = self.mean_radius + self.oval.at(angles), self.oval.slope().at(angles)
        outward, around = _ways_out(angles)
        normals = radii[:, None] * outward - rises[:, None] * around
        return np.asarray(normals / np.hypot(radii, rises)[:, None])

    def stations(self, count: int) -> Floats:
        """So many arcs, evenly (count,) [rad]."""
        return even(count)

    def turned_over(self) -> Oval:
        """The same seen from its other side."""
        return Oval(self.diameter, self.oval.mirrored())

    @cached_property
    def _along(self) -> Floats:
        return self._ways(self.mean_radius)

    def _ways(self, mean: float) -> Floats:
        """Lengths along it from 0 to every one of ``ANGLES`` [m] with a mean radius [m]."""
        steps = np.hypot(mean + self.oval.at(ANGLES), self.oval.slope().at(ANGLES))
        means = (steps[1:] + steps[:-1]) / 2
        return np.asarray(np.concatenate([[0.0], np.cumsum(means)]) * (ANGLES[1] - ANGLES[0]))


def even(count: int) -> Floats:
    """So many arcs evenly around, from the reference mark (count,) [rad].

    >>> even(4).round(3).tolist()
    [0.0, 1.571, 3.142, 4.712]
    """
    return TURN * np.arange(count) / count


def distinct(arcs: Floats) -> Floats:
    """Arcs within one turn, in order, and of those a hair apart one only [rad].

    >>> distinct(np.array([1.0, 0.5, 1.0 + TURN, -1e-12])).tolist()
    [0.0, 0.5, 1.0]
    """
    own = np.asarray(arcs) % TURN
    own = np.sort(np.where(own >= TURN * (1 - HAIR), 0.0, own))
    return np.asarray(own[np.append(True, np.diff(own) > HAIR * TURN)])


def joined(arcs: Floats, others: Floats) -> Floats:
    """Arcs within one turn, in order [rad].

    Parameters
    ----------
    arcs : all of which are kept (k,) [rad]
    others : kept where they are not near one of these (n,) [rad]

    Examples
    --------
    >>> joined(np.array([0.0, 1.0]), np.array([1.001, 0.5, -0.001])).tolist()
    [0.0, 0.5, 1.0]
    """
    ways = np.abs((others[:, None] - arcs + TURN / 2) % TURN - TURN / 2).min(axis=1, initial=TURN)
    return distinct(np.concatenate([arcs, others[ways > NEAR * TURN]]))


def _ways_out(angles: Floats) -> tuple[Floats, Floats]:
    """Unit vectors away from the middle and around it, clockwise (k, 2) each."""
    sines, cosines = np.sin(angles), np.cos(angles)
    return np.stack([-sines, cosines], axis=1), np.stack([-cosines, -sines], axis=1)
