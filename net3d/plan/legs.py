"""Where the legs of a bridle are tied to the mouth hoop."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from net3d.plan.joins import Row
from net3d.plan.plan import HoopPlan


def at_corners(hoop: HoopPlan, legs: int) -> bool:
    """Whether every corner of a frame has a leg: a rod is bent least by what pulls at its corners."""
    return hoop.frame is not None and hoop.frame.shape != "d" and legs == len(hoop.corners)


def leg_arcs(hoop: HoopPlan, legs: int) -> NDArray[np.float64]:
    """Arcs of the legs, clockwise from the top of the net (legs,) [rad]: at the corners, or evenly."""
    return np.array(hoop.corners) if at_corners(hoop, legs) else Row(legs).angles()
