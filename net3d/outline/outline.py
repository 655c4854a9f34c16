"""The outline of a hoop: the closed curve that its rod is bent to, as it is sewn in, before anything pulls.

Arcs count from the top of the net, clockwise as seen from the mouth, as the rows of netting do: a part of the
way around of which all is 2 pi. The hoop's own reference mark stands at the arc ``turn``.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.outline.curves import TURN, Circle, Curve, Floats, even
from net3d.outline.girth import diameter_of
from net3d.outline.spread import by_tape
from net3d.outline.waves import FLAT, Waves

CHECKED = 360  # places around at which the two halves are compared
ALIKE = 1e-9  # of the girth


@dataclass(frozen=True)
class Outline:
    """A closed curve around the outside of a rod, and how far the rod is bent out of its plane.

    Lengths in m, points (x, y, z) from the hoop's middle: x toward the tail, y left as seen from the mouth, z
    up. What a bow takes off the width of its hoop is of second order, ``m^2 a^2 / 2 D``, and left out.
    """

    curve: Curve
    bow: Waves = FLAT  # toward the tail, by the angle from the reference mark [m]
    turn: float = 0.0  # where the reference mark stands, from the top, clockwise [rad]

    @property
    def girth(self) -> float:
        """Around the outside with a tape [m]."""
        return self.curve.girth

    @property
    def diameter(self) -> float:
        """Outside diameter of the round hoop that is as long around [m]."""
        return self.curve.diameter if isinstance(self.curve, Circle) else diameter_of(self.girth)

    @property
    def oval(self) -> Waves:
        """How far it departs outward from that, as waves [m]."""
        return self.curve.oval

    @property
    def is_true(self) -> bool:
        """Whether it is flat and as it was meant to be, as far as anyone has measured."""
        return not (self.bow.numbers or self.oval.numbers)

    @property
    def wave_numbers(self) -> frozenset[int]:
        """Numbers of the waves in which it is bowed or oval."""
        return frozenset((*self.bow.numbers, *self.oval.numbers))

    @property
    def corners(self) -> Floats:
        """Arcs of the middles of its corners, from the top [rad]."""
        return np.array(self.curve.corners) + self.turn

    @property
    def mirrored(self) -> bool:
        """Whether its left half is the mirror image of its right as it is sewn in."""
        arcs = even(CHECKED)
        left, right = self.points(-arcs) * (1.0, -1.0, 1.0), self.points(arcs)
        return bool(np.abs(left - right).max() < ALIKE * self.girth)

    @property
    def reach(self) -> tuple[float, float]:
        """Its lowest and its highest point, from the middle up [m]."""
        if isinstance(self.curve, Circle):
            return -self.diameter / 2, self.diameter / 2
        heights = self.points(self.stations(CHECKED))[:, 2]
        return float(heights.min()), float(heights.max())

    def inner_girth(self, inside: float) -> float:
        """Around what lies ``inside`` it by so much [m] everywhere, ``C - 2 pi inside`` [m].

        Steiner's formula: a curve that turns once loses 2 pi for every metre inward, whatever its shape.
        """
        return Circle(self.diameter - 2 * inside).girth

    def inner_area(self, inside: float) -> float:
        """Within that [m^2]: ``A - C inside + pi inside^2``, Steiner's formula again."""
        return self.curve.area - self.girth * inside + np.pi * inside**2

    def pitch(self, count: int) -> float:
        """From one to the next of so many places, evenly along the outside [m]."""
        return self.girth / count

    def length(self, arc: float) -> float:
        """Along the outside [m], by the arc that it takes from the reference mark [rad]."""
        return self.girth * float(by_tape(self.curve.spread, np.array(arc))) / TURN

    def points(self, arcs: Floats, inside: float = 0.0) -> Floats:
        """Points of it (k, 3) [m].

        Parameters
        ----------
        arcs : from the top (k,) [rad]
        inside : it by so much, square to it [m]

        >>> Outline(Circle(2.0)).points(np.array([0.0, np.pi / 2]), 0.5).round(6).tolist()
        [[0.0, -0.0, 0.5], [0.0, -0.5, 0.0]]
        """
        own = arcs - self.turn
        return self._turned(self.bow.at(self.curve.angles(own)), self.curve.places(own, inside))

    def normals(self, arcs: Floats) -> Floats:
        """Unit vectors outward at arcs [rad], across the net (k, 3) [-]."""
        own = arcs - self.turn
        return self._turned(np.zeros_like(own), self.curve.normals(own))

    def departures(self, angles: Floats) -> Floats:
        """How far it is from flat and true, along the net and outward (k, 2) [m], at angles from the top."""
        own = angles - self.turn
        return np.column_stack([self.bow.at(own), self.oval.at(own)])

    def stations(self, count: int) -> Floats:
        """Arcs from the top (k,) by which to draw it, as fine as a circle of so many [rad].

        Where it is round any will do, and they begin at the top; where it has corners they are its own.
        """
        own = self.curve.stations(count)
        return own + self.turn if self.curve.corners else own

    def turned_over(self) -> Outline:
        """The hoop turned over, tail side to the mouth, its reference mark staying where it is."""
        return replace(self, curve=self.curve.turned_over(), bow=self.bow.flipped())

    def trued(self) -> Outline:
        """The round, flat hoop that is as long around."""
        return replace(self, curve=Circle(self.diameter), bow=FLAT)

    def _turned(self, along: Floats, across: Floats) -> Floats:
        """Points or directions of the hoop's own frame, its mark at the top, in the net's (k, 3)."""
        y, z = across.T
        if self.turn:
            cosine, sine = np.cos(self.turn), np.sin(self.turn)
            y, z = y * cosine - z * sine, y * sine + z * cosine
        return np.stack([along, y, z], axis=1)
