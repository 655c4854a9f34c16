"""Water past a net: the stream, what it does to every bar, and the net as it stands in it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import cos, sin

import numpy as np

from net3d.netting.netting import Floats, Ints, Netting
from net3d.outline.pose import Pose
from net3d.statics.contact import Contact
from net3d.statics.equilibrium import Equilibrium
from net3d.statics.shape import EndState

NO_ROWS = np.zeros(0, dtype=int)


@dataclass(frozen=True)
class Stream:
    """The river at a net: speed [m/s], direction, and what it carries."""

    speed: float
    toward: float  # along the net where the flow goes at angle 0: -1 to the mouth, +1 to the tail
    angle: float = 0.0  # in plan, from along the net [rad]
    blocked: float = 0.0  # part of the meshes that is blocked
    caught: float = 0.0  # part of the outline that leaves or grass cover

    @property
    def direction(self) -> Floats:
        """Where the water flows (3,), of length 1 [-]."""
        return np.array([self.toward * cos(self.angle), sin(self.angle), 0.0])


@dataclass(frozen=True, eq=False)
class Bands:
    """Rows of netting, each taken for a ring cut from a cone; k rows, lengths in m."""

    bar_bands: Ints  # (m,) row of every bar, or -1 for strings and lines
    parts: Ints  # (k,) number of the part
    places: Floats  # (k, 2) x of the upper and of the lower rim
    radii: Floats  # (k, 2) of the two rims
    middles: Floats  # (k, 2) y, z of the middle
    areas: Floats  # (k,) of the outline [m^2]
    counts: Ints  # (k,) bars
    twine_areas: Floats  # (k,) diameter times length of the bars [m^2]
    knot_areas: Floats  # (k,) what knots cover besides the bars [m^2]
    diameters: Floats  # (k,) of the twine
    bar_lengths: Floats  # (k,) mean
    shaped: Ints = field(default_factory=lambda: NO_ROWS)  # those far from round, by number
    outlines: Floats = field(default_factory=lambda: np.zeros(0))  # (k, 2, 193) of them: see ``outlines.py``

    @property
    def solidity(self) -> Floats:
        """Twine and knots over the outline (k,) [-]; 1 where netting is bunched so that it covers it all."""
        return np.minimum((self.twine_areas + self.knot_areas) / self.areas, 1.0)


@dataclass(frozen=True, eq=False)
class Drag:
    """What the water does to every bar and hoop. Forces in N."""

    bar_forces: Floats  # (m, 3)
    hoop_forces: Floats  # (hoops, 3)
    bar_speeds: Floats  # (m,) of the water there, slowed behind netting [m/s]

    def scaled(self, factor: float) -> Drag:
        """So many [-] times the forces."""
        return replace(self, bar_forces=factor * self.bar_forces, hoop_forces=factor * self.hoop_forces)

    def mismatch(self, other: Drag) -> float:
        """Sum of the differences on all bars over the sum of what the other has on them [-]."""
        off, whole = np.abs(other.bar_forces - self.bar_forces).sum(), np.abs(other.bar_forces).sum()
        return float(off / whole)

    @property
    def total(self) -> Floats:
        """Force on the whole net (3,) [N]: the sum over all bars and hoops."""
        return np.asarray(self.bar_forces.sum(axis=0) + self.hoop_forces.sum(axis=0))


@dataclass(frozen=True, eq=False)
class Standing:
    """A net as it stands in a stream, the mouth hoop at x = 0."""

    stream: Stream
    state: EndState
    positions: Floats  # (n, 3) [m]
    tensions: Floats  # (m,) [N]
    poses: tuple[Pose, ...]  # how the hoops stand
    bands: Bands
    drag: Drag
    tied: Netting  # the net, strings as long as they were tied, under pull and drag
    rest: Equilibrium  # how it came to rest
    contact: Contact  # of throats that lie on the body
    rounds: int  # how often the shape was found again
    mismatch: float  # between the drag that the shape was found with and that which it has, over the drag
    still: bool  # whether that is too little to matter, with every throat inside the body

    @property
    def hoop_positions(self) -> Floats:
        """Where each hoop stands along the net (hoops,) [m]."""
        return np.array([pose.place for pose in self.poses])

    @property
    def length(self) -> float:
        """From the first hoop to the last [m]."""
        return float(self.hoop_positions[-1] - self.hoop_positions[0])
