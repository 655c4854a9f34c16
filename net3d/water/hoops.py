"""What the netting and the bridle do to each hoop."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from net3d.netting.carriers import rod_of
from net3d.netting.netting import Floats, Netting
from net3d.outline.beams import bent_frame
from net3d.outline.elastic import Rod
from net3d.outline.modes import frame_modes
from net3d.outline.response import Bent, bent
from net3d.parts import BRIDLE
from net3d.plan.plan import HoopPlan, Plan
from net3d.statics.balance import bar_pulls, bar_spans, knot_forces
from net3d.water.rings import buckling_load, leg_bow, leg_inward, leg_stress

COMPARED_LEGS = (2, 3, 4, 6)
BRIDLED = 1  # number of the hoop that the legs of a bridle are tied to


@dataclass(frozen=True)
class Legs:
    """A hoop held by some legs: bow out of its plane [m] and largest stress [Pa]."""

    count: int
    bow: float
    stress: float


@dataclass(frozen=True)
class HoopLoad:
    """A hoop in its plane, and between the legs of a bridle where one is tied to it. SI units.

    A frame is not sprung.
    """

    number: int
    material: str
    line_load: float  # of the netting, inward, even around it [N/m]; below 0 it pulls outward
    compression: float  # in the rod [N]
    buckling: float  # inward load at which it buckles [N/m]
    strength: float  # of the material in bending [Pa]
    sprung_stress: float  # if a straight rod was sprung into it [Pa]
    legs: Legs | None = None
    is_frame: bool = False

    @property
    def buckling_factor(self) -> float:
        """By how much the inward load may grow until the hoop buckles [-]; infinite if there is none."""
        return self.buckling / self.line_load if self.line_load > 0 else float("inf")


def hoop_loads(
    netting: Netting, plan: Plan, positions: Floats, tensions: Floats, bridle: tuple[int, float] | None
) -> tuple[HoopLoad, ...]:
    """Every hoop's load from the tensions of the netting tied to it, and how it bends between bridle legs.

    ``q = sum of inward pulls / (2 pi R)``, compression ``q R``. Source: balance of a ring. A frame's pulls
    count by their arms over R, so that ``q R`` is the mean around it: see ``outline/modes.py``.

    Parameters
    ----------
    positions : of the knots (n, 3) [m]
    tensions : of the bars (m,) [N]
    bridle : how many legs hold the mouth hoop and how long they are [m], if any do
    """
    inward = inward_pulls(netting, positions, tensions)
    loads = []
    for hoop in plan.hoops:
        rod = rod_of(hoop)
        around = hoop.outline.inner_girth(hoop.rod_diameter / 2)
        riding = netting.knot_carriers == hoop.number - 1
        arms = np.linalg.norm(netting.knot_seats[riding, 1:], axis=1) if hoop.is_frame else rod.ring_radius
        line_load = float(np.sum(inward[riding] * arms)) / rod.ring_radius / around
        legs = None
        if bridle is not None and hoop.number == BRIDLED:
            bend = (
                frame_bent(hoop, netting, positions, tensions)
                if hoop.is_frame
                else bent(rod, *ring_forces(netting, hoop.number - 1, positions, tensions), line_load)
            )
            legs = Legs(bridle[0], bend.bow, bend.stress)
        loads.append(
            HoopLoad(
                number=hoop.number,
                material=hoop.material,
                line_load=line_load,
                compression=line_load * rod.ring_radius,
                buckling=_buckling(hoop, rod),
                strength=rod.material.strength,
                sprung_stress=0.0 if hoop.is_frame else rod.sprung_stress,
                legs=legs,
                is_frame=hoop.is_frame,
            )
        )
    return tuple(loads)


def _buckling(hoop: HoopPlan, rod: Rod) -> float:
    """The inward load at which a hoop buckles; of a frame the mean that folds it [N/m]."""
    if hoop.is_frame:
        return frame_modes(rod, hoop.outline).folding_compression / rod.ring_radius
    return buckling_load(rod)


def frame_bent(hoop: HoopPlan, netting: Netting, positions: Floats, tensions: Floats) -> Bent:
    """How all that is tied to a frame bends it.

    Parameters
    ----------
    hoop : the frame
    netting : the net
    positions : of its knots (n, 3) [m]
    tensions : of its bars (m,) [N]
    """
    forces = knot_forces(netting, netting.knot_loads, bar_pulls(netting, positions, tensions))
    riding = netting.knot_carriers == hoop.number - 1
    return bent_frame(rod_of(hoop), hoop.outline, netting.knot_angles[riding], forces[riding])


def ring_forces(netting: Netting, hoop: int, positions: Floats, tensions: Floats) -> tuple[Floats, Floats]:
    """Where bars pull at a hoop (k,) [rad], and with what along the net, outward and around (k, 3) [N].

    Parameters
    ----------
    hoop : its number from 0
    positions : of the knots (n, 3) [m]
    tensions : of the bars (m,) [N]
    """
    forces = knot_forces(netting, np.zeros_like(positions), bar_pulls(netting, positions, tensions))
    riding = netting.knot_carriers == hoop
    _, y, z = netting.knot_seats[riding].T
    angles = np.arctan2(-y, z)
    along, left, up = forces[riding].T
    sines, cosines = np.sin(angles), np.cos(angles)
    return angles, np.stack([along, up * cosines - left * sines, -left * cosines - up * sines], axis=1)


def held_by(rod: Rod, pull: float, count: int, length: float) -> Legs:
    """A hoop by itself, which an even pull along the net draws against some legs.

    Parameters
    ----------
    rod : of the hoop
    pull : along the net [N]
    count : legs
    length : of a leg [m]
    """
    inward = leg_inward(pull, rod.ring_radius, count, length)
    return Legs(count, leg_bow(pull, rod, count), leg_stress(pull, inward, rod, count))


def leg_pull(netting: Netting, positions: Floats, tensions: Floats) -> float:
    """What the legs of the bridle pull along the net, all together [N].

    Parameters
    ----------
    netting : the net
    positions : of its knots (n, 3) [m]
    tensions : of its bars (m,) [N]
    """
    legs = netting.bars_of(BRIDLE)
    spans, distances = bar_spans(netting, positions)
    return float(np.abs(np.sum(tensions[legs] * spans[legs, 0] / distances[legs])))


def inward_pulls(netting: Netting, positions: Floats, tensions: Floats) -> Floats:
    """What the netting pulls every knot toward the axis with (n,) [N]; lines and strings are left out.

    Arguments are those of a shape, as ``leg_pull`` has them.
    """
    netted = netting.bars_that(lambda kind: kind.netting)
    spans, distances = bar_spans(netting, positions)
    pulls = spans / np.maximum(distances, np.finfo(float).tiny)[:, None] * (tensions * netted)[:, None]
    forces = np.zeros_like(positions)
    np.add.at(forces, netting.bars[:, 0], pulls)
    np.add.at(forces, netting.bars[:, 1], -pulls)
    outward = positions[:, 1:] / np.maximum(np.linalg.norm(positions[:, 1:], axis=1), 1e-12)[:, None]
    return np.asarray(-np.sum(forces[:, 1:] * outward, axis=1))
