"""Bring a net to rest in a stream: loads from the shape, the shape from the loads, until it stays put."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from net3d.handbook.water import water_constant
from net3d.netting.netting import NONE, Floats, Netting
from net3d.outline.pose import Pose
from net3d.plan.plan import Plan
from net3d.statics.contact import rest_inside
from net3d.statics.equilibrium import Equilibrium, find_equilibrium
from net3d.statics.settle import GOOD, total_loads
from net3d.statics.shape import Shape
from net3d.statics.softening import softened
from net3d.statics.solver import SolverLimits
from net3d.statics.symmetry import MIRROR, find_symmetry, mirror_image
from net3d.water.bands import netting_bands
from net3d.water.cylinders import drag_on
from net3d.water.water import Drag, Standing, Stream

ENOUGH = SolverLimits(gap=1e-11, feasibility=1e-8)  # at 1e-9 one in two ends loosely, and is solved again
STAYS_PUT = 0.1  # bars: the drag of the whole net then changes by less than a thousandth
MOST_ROUNDS = 12


def stand_in(
    netting: Netting, plan: Plan, shape: Shape, stream: Stream, start: Standing | None = None
) -> Standing:
    """The net in a stream: solve, work the loads out anew, until no knot moves a tenth of a bar or more.

    Strings are as long as they were tied in still water. Hoops slide along the net and stay upright: the
    bottom holds them sideways.

    Parameters
    ----------
    shape : the net in still water
    start : to begin from, such as the net in a weaker current; ``shape`` if None
    """
    tied = softened(tied_fast(netting, shape), shape.knot_positions, shape.bar_tensions)
    positions, poses = (start.positions, start.poses) if start else (shape.knot_positions, shape.poses)
    drag = _drag(tied, plan, (positions, poses), stream)
    rounds, moved = 0, float("inf")
    while moved >= STAYS_PUT * plan.bar and rounds < MOST_ROUNDS:
        rounds += 1
        found = _rest(tied, plan, drag, along=stream.angle == 0.0)
        moved = _furthest((positions, poses), found)
        positions, poses = found.positions, found.poses
        drag = _drag(tied, plan, (positions, poses), stream)
        if found.state not in GOOD:
            break
    first = poses[0].place
    shifted = positions - [first, 0.0, 0.0]
    return Standing(
        stream=stream,
        state=found.state,
        positions=shifted,
        tensions=found.tensions,
        poses=tuple(pose.shifted(-first) for pose in poses),
        bands=netting_bands(tied, shifted),
        drag=drag,
        rounds=rounds,
        moved=moved,
        still=moved < STAYS_PUT * plan.bar,
    )


def tied_fast(netting: Netting, shape: Shape) -> Netting:
    """The net with every length that was fitted in still water cut to what was found there."""
    fitted = netting.bar_fits != NONE
    return replace(
        netting,
        bar_lengths=np.where(fitted, shape.bar_rest_lengths, netting.bar_lengths),
        bar_fits=np.full_like(netting.bar_fits, NONE),
        fit_tensions=np.zeros(0),
    )


def knot_loads(netting: Netting, drag: Drag) -> Floats:
    """Drag on the knots (n, 3) [N]: half of each bar's at either end, a hoop's evenly on its knots."""
    loads = np.zeros((len(netting.knot_carriers), 3))
    for end in (0, 1):
        np.add.at(loads, netting.bars[:, end], drag.bar_forces / 2)
    for hoop, force in enumerate(drag.hoop_forces):
        riding = np.flatnonzero(netting.knot_carriers == hoop)
        loads[riding] += force / len(riding)
    return loads


def _drag(netting: Netting, plan: Plan, placed: tuple[Floats, tuple[Pose, ...]], stream: Stream) -> Drag:
    positions, poses = placed
    with_bands = (positions, poses, netting_bands(netting, positions))
    return drag_on(netting, plan, with_bands, stream, water_constant("tangential_share"))


def _rest(netting: Netting, plan: Plan, drag: Drag, along: bool) -> Equilibrium:
    still = total_loads(netting)
    loads = still + (
        _evened(netting, knot_loads(netting, drag), still) if along else knot_loads(netting, drag)
    )
    pulled = replace(netting, pull=netting.pull + float(np.linalg.norm(drag.total)))
    capped = any(carrier.follows is not None for carrier in netting.carriers)
    found = find_equilibrium(pulled, loads, ENOUGH, capped=capped)
    if plan.throats and found.state in GOOD:
        return rest_inside(pulled, plan, loads, ENOUGH, found)
    return found


def _evened(netting: Netting, drag: Floats, still: Floats) -> Floats:
    """Loads of a flow along the net made exactly alike left and right: the program is then half."""
    if not find_symmetry(netting, still).mirrored:
        return drag
    return np.asarray((drag + drag[mirror_image(netting)] @ MIRROR) / 2)


def _furthest(before: tuple[Floats, tuple[Pose, ...]], after: Equilibrium) -> float:
    """Furthest that a knot moved, the net's own shift along x left out [m]."""
    positions, poses = before
    shift = after.poses[0].place - poses[0].place
    return float(np.linalg.norm(after.positions - positions - [shift, 0.0, 0.0], axis=1).max())
