"""Lacing netting to its rib lines: a line runs from hoop to hoop through the knots of a column of meshes."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from net3d.handbook.rope import Rope
from net3d.netting.cords import rope_cord
from net3d.netting.fabric import Bars, Fabric
from net3d.netting.netting import Floats, Ints
from net3d.plan.plan import Plan, RibPlan

INWARD = 1 - 1e-9  # halfway between two knots it goes to the one nearer the top, left as right


def tie_rib(fabric: Fabric, plan: Plan, rib: RibPlan, rope: Rope) -> None:
    """The lines of a section, through a knot a mesh, tied to both hoops at the marks nearest."""
    first, last = (plan.hoops[place - 1].knot_row for place in (rib.from_hoop, rib.to_hoop))
    rows = [*range(first, last, 2), last]
    knots = [_knots_at(fabric, row, rib, (row - first) / (last - first)) for row in rows]
    for step, (above, below) in enumerate(pairwise(rows)):
        length = rib.length * (below - above) / (last - first)
        ends = np.stack([knots[step], knots[step + 1]], axis=1)
        fabric.add_bars(Bars(rib.part, step, ends, length, rope_cord(rope)))


def _knots_at(fabric: Fabric, row: int, rib: RibPlan, share: float) -> Ints:
    """The knots of a row of the body that the lines run through; ``share`` of the section is before it."""
    numbers, angles = fabric.body_row(row)
    arcs = rib.starts + share * (rib.ends - rib.starts)
    return numbers[nearest(angles, arcs)]


def nearest(angles: Floats, arcs: Floats) -> Ints:
    """The numbers of the knots (k,) that stand nearest to some places around.

    Parameters
    ----------
    angles : of the knots (n,) [rad]
    arcs : of the places (k,) [rad]

    Examples
    --------
    >>> nearest(np.array([0.0, 1.0, 2.0, 3.0]), np.array([0.4, 2.9])).tolist()
    [0, 3]
    """
    signed = ((arcs + np.pi) % (2 * np.pi) - np.pi) * INWARD
    ways = np.abs((angles[None] - signed[:, None] + np.pi) % (2 * np.pi) - np.pi)
    return np.asarray(ways.argmin(axis=1))
