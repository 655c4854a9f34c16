"""How far the hoops, and the knots near them, are from where flat and round hoops would have them.

The page draws this so many times as large. A hoop departs along the net by its bow and by how it leans, and
outward by its ovality. Knots that ride on it depart with it; those of a section depart by what lies between
its two hoops, in the parts of its rows; a tail's and a throat's by less and less down to none at their ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from net3d.chain import Design
from net3d.netting.netting import Floats
from net3d.outline.pose import Pose
from net3d.plan.plan import HoopPlan

FACTORS = (2, 5, 10, 20, 50)
LEAST = 1e-4  # m; what is less is not worth showing
MOST = 0.5  # of the shortest section, or of the smallest hoop's radius: so far may a hoop be drawn off
MIDDLE, REACH = 128, 127  # a byte's value of no departure, and steps to either side of it


@dataclass(frozen=True, eq=False)
class Bow:
    """Departures of the net's knots, then of the points of its hoops (n, 2) [m], and factors to draw them."""

    departures: Floats
    hoops: tuple[Floats, ...]
    factors: tuple[int, ...]
    name: str


def bow_of(design: Design, knots: Floats, curves: Sequence[Floats]) -> Bow | None:
    """How far knots and hoops depart from flat and round; None where no hoop does.

    Parameters
    ----------
    design : the net
    knots : where they are (n, 3) [m]
    curves : points of each hoop (k, 3) [m]
    """
    standing = list(zip(design.plan.hoops, design.shape.poses, strict=True))
    if max(departed(hoop, pose) for hoop, pose in standing) < LEAST:
        return None
    hoops = tuple(
        pose.departures(hoop.outline, angles_of(curve))
        for (hoop, pose), curve in zip(standing, curves, strict=True)
    )
    departures = np.concatenate([knot_departures(design, knots), *hoops])
    bowed, oval = (departures[:, way].any() for way in (0, 1))
    name = "Bow and oval" if bowed and oval else "Bow" if bowed else "Oval"
    return Bow(departures, hoops, factors_for(design, departures), name)


def departed(hoop: HoopPlan, pose: Pose) -> float:
    """How far a hoop is bowed or oval, as it was sewn in or as it is bent [m]."""
    bent = float(np.abs(pose.bend.moves).max()) if pose.bend is not None else 0.0
    return max(bent, *(waves.height for waves in (hoop.outline.bow, hoop.outline.oval, pose.bow, pose.oval)))


def knot_departures(design: Design, knots: Floats) -> Floats:
    """Along the net and outward (n, 2) [m] of the net's ``knots`` (n, 3) [m]."""
    angles = angles_of(knots)
    total = np.zeros((len(knots), 2))
    for hoop, pose in zip(design.plan.hoops, design.shape.poses, strict=True):
        shares = _shares(design, hoop)
        near = np.flatnonzero(shares)
        total[near] += shares[near, None] * pose.departures(hoop.outline, angles[near])
    return total


def angles_of(points: Floats) -> Floats:
    """Angles from the top, clockwise as seen from the mouth (n,) [rad], of points (n, 3)."""
    return np.asarray(np.arctan2(-points[:, 1], points[:, 2]))


def factors_for(design: Design, departures: Floats) -> tuple[int, ...]:
    """How many times as large a departure (n, 2) [m] may be drawn, so that hoops stay apart and loops."""
    room = MOST * np.array(
        [
            min(section.length for section in design.shape.sections),
            min(hoop.narrowest for hoop in design.plan.hoops) / 2,
        ]
    )
    widest = np.abs(departures).max(axis=0)
    return tuple(factor for factor in FACTORS if (factor * widest <= room).all()) or FACTORS[:1]


def packed(departures: Floats) -> tuple[Floats, Floats]:
    """Departures (n, 2) [m] in two bytes each, and how long a step of either is (2,) [m].

    A number is 256 times the byte of the way along the net and the byte outward, both counted from 128.

    >>> numbers, steps = packed(np.array([[0.0127, 0.0], [0.0, 0.0], [-0.0127, 0.0]]))
    >>> (numbers // 256 - 128).tolist(), (numbers % 256 - 128).tolist(), steps.round(6).tolist()
    ([127, 0, -127], [0, 0, 0], [0.0001, 0.0])
    """
    steps = np.abs(departures).max(axis=0) / REACH
    counts = np.rint(departures / np.where(steps > 0, steps, 1.0)).astype(np.int64) + MIDDLE
    return counts @ np.array([256, 1]), steps


def _shares(design: Design, hoop: HoopPlan) -> Floats:
    """What part of a hoop's departure every knot takes (n,)."""
    netting, plan = design.netting, design.plan
    rows = [one.knot_row for one in plan.hoops]
    ends = [*rows, rows[-1] + plan.tail_rows] if plan.tail_rows else rows
    peak = np.eye(len(ends))[hoop.number - 1]
    body = netting.knots_that(lambda kind: kind.body)
    shares = np.where(body, np.interp(netting.knot_rows, ends, peak), 0.0)
    for throat in plan.throats:
        if throat.hoop == hoop.number:
            fading = np.interp(netting.knot_rows, [0, len(throat.piece.changes)], [1.0, 0.0])
            own = netting.knots_of(throat.part)
            shares[own] = fading[own]
    riding = (netting.knot_carriers >= 0) & (netting.knot_carriers < netting.hoop_count)
    return np.asarray(np.where(riding, netting.knot_carriers == hoop.number - 1, shares), float)
