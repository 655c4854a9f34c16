"""How a hoop stands: what its netting, its legs and the water have moved it by from where it was sewn in."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.outline.curves import Floats, joined
from net3d.outline.modes import Bend
from net3d.outline.outline import Outline
from net3d.outline.waves import FLAT, Waves

STATIONS = 721  # places around at which what is left of a bow is looked at


@dataclass(frozen=True)
class Pose:
    """A hoop's place along the net, how it leans and turns, and how it bends.

    Leans, turns and waves are small, and taken as the equilibrium takes them: a point s of the hoop moves by

        place + w x s + waves,     w = (turn, up, -left)

    so that the knots that ride on a hoop lie on it as it is drawn.
    """

    place: float  # of its middle along the net [m]
    lean_up: float = 0.0  # how far what stands a metre above the middle leans toward the tail [m/m]
    lean_left: float = 0.0  # what stands a metre to the left of it, as seen from the mouth [m/m]
    turn: float = 0.0  # clockwise, beyond how it is sewn in [rad]
    bow: Waves = FLAT  # bent along the net, by the angle from the top [m]
    oval: Waves = FLAT  # bent outward in its plane, the rod keeping its length [m]
    bend: Bend | None = None  # of a frame

    def points(self, outline: Outline, arcs: Floats, inside: float = 0.0) -> Floats:
        """Points of a hoop as it stands (k, 3) [m].

        Parameters
        ----------
        arcs : parts of the way around from the top, all being 2 pi (k,) [rad]
        inside : how far inside the outline, square to it [m]

        Examples
        --------
        >>> from net3d.outline.curves import Circle
        >>> Pose(2.0, lean_up=0.1).points(Outline(Circle(1.0)), np.array([0.0, np.pi])).round(3).tolist()
        [[2.05, -0.0, 0.5], [1.95, -0.0, -0.5]]
        """
        rest = outline.points(arcs, inside)
        return rest + self.moves(rest, arcs)

    def moves(self, rest: Floats, arcs: Floats) -> Floats:
        """By how much points of the hoop have moved (k, 3) [m].

        Parameters
        ----------
        rest : where they are as it was sewn in (k, 3) [m]
        arcs : and where on it (k,) [rad]
        """
        x, y, z = rest.T
        rigid = np.stack(
            [
                self.place + self.lean_up * z + self.lean_left * y,
                -self.lean_left * x - self.turn * z,
                self.turn * y - self.lean_up * x,
            ],
            axis=1,
        )
        if self.bend is not None:
            return rigid + self.bend.at(arcs)
        return rigid + self._bending(np.arctan2(-y, z)) if self.bends else rigid

    def stations(self, outline: Outline, count: int) -> Floats:
        """Arcs (k,) by which to draw a hoop, as fine as a circle of so many; on bent sides too [rad]."""
        own = outline.stations(count)
        return own if self.bend is None else joined(own, self.bend.arcs)

    @property
    def bends(self) -> bool:
        """Whether anything bends it."""
        return bool(self.bow.numbers or self.oval.numbers or self.bend)

    def shifted(self, along: float) -> Pose:
        """The same so much further along the net [m]."""
        return replace(self, place=self.place + along)

    def departures(self, outline: Outline, angles: Floats) -> Floats:
        """How far it is from flat, square to the net and true, along and outward (k, 2) [m].

        Parameters
        ----------
        angles : from the top, clockwise, as points are seen from the middle (k,) [rad]
        """
        radius = outline.diameter / 2
        leans = radius * (self.lean_up * np.cos(angles) - self.lean_left * np.sin(angles))
        bent = np.column_stack([leans + self.bow.at(angles), self.oval.at(angles)])
        if self.bend is not None:
            along, left, up = self.bend.seen(angles).T
            bent += np.column_stack([along, up * np.cos(angles) - left * np.sin(angles)])
        return outline.departures(angles - self.turn) + bent

    def _bending(self, angles: Floats) -> Floats:
        """What the waves move points by (k, 3) [m]: outward by w, around by v, ``v' = -w``.

        Source: as in ``Bending``.
        """
        outward, around = self.oval.at(angles), -self.oval.integral().at(angles)
        sines, cosines = np.sin(angles), np.cos(angles)
        return np.stack(
            [self.bow.at(angles), -outward * sines - around * cosines, outward * cosines - around * sines],
            axis=1,
        )


def bow_left(outline: Outline, pose: Pose) -> float:
    """From the lowest to the highest point of a hoop as it stands, beyond its lean [m].

    >>> from net3d.outline.curves import Circle
    >>> own = Outline(Circle(1.0), bow=Waves((2,), (0.01,), (0.0,)))
    >>> round(bow_left(own, Pose(0.0, bow=Waves((2,), (-0.008,), (0.0,)))), 6)
    0.004
    """
    angles = np.linspace(0.0, 2 * np.pi, STATIONS)
    heights = outline.bow.at(angles - outline.turn) + pose.bow.at(angles)
    return float(np.ptp(heights))
