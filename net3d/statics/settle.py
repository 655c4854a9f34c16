"""Bring a net to rest and measure it: rods, throats that lie on the body, sections, throats."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from net3d.netting.netting import NONE, Floats, Netting
from net3d.plan.plan import Plan
from net3d.statics.contact import INSIDE, LOOSELY, farthest_out, rest_inside, will_lie_on_body
from net3d.statics.equilibrium import Equilibrium, find_equilibrium, find_nearby
from net3d.statics.follows import end_follows, length_follows
from net3d.statics.loads import total_loads
from net3d.statics.possible import is_possible
from net3d.statics.profile import body_knots
from net3d.statics.reach import rod_shortfalls, without_rods
from net3d.statics.sections import section_shapes
from net3d.statics.shape import EndState, Shape
from net3d.statics.softening import differ, folds, softened
from net3d.statics.solver import SolverLimits
from net3d.statics.throats import throat_shapes
from net3d.statics.windows import Window, distances, no_window, string_window

GOOD = {EndState.SETTLED, EndState.SETTLED_LOOSELY}
QUICK = SolverLimits(gap=1e-9, feasibility=1e-8, misfit=1e-4)  # hoops within a tenth of a millimetre


def settle(netting: Netting, plan: Plan, limits: SolverLimits | None = None) -> Shape:
    """The equilibrium of a net whose hoops slide freely along it, but for spreader rods.

    Where rods hold hoops further apart than the netting stretches before it breaks, the shape is that
    without the rods, marked out of reach, with what each rod has too much.
    """
    limits = limits or SolverLimits()
    netting = tied_on_bench(netting, plan, limits)
    if all(carrier.follows is None for carrier in netting.carriers):
        return _settle(netting, plan, limits)
    shape = _settle(netting, plan, limits, capped=True)
    released = _settle(without_rods(netting), plan, limits)
    free_lengths = tuple(section.length for section in released.sections)
    if shape.state in GOOD:
        return replace(shape, free_lengths=free_lengths)
    shortfalls = rod_shortfalls(netting, total_loads(netting), limits)
    if not any(shortfalls):
        return replace(_settle(netting, plan, limits), free_lengths=free_lengths)
    state = EndState.OUT_OF_REACH if released.state in GOOD else released.state
    return replace(released, state=state, shortfalls=shortfalls, free_lengths=free_lengths)


def tied_on_bench(netting: Netting, plan: Plan, limits: SolverLimits) -> Netting:
    """The net with its strings tied as they fit on the bench; as it is where it is pulled as it is there."""
    fitted = netting.bar_fits != NONE
    if plan.bench_pull == netting.pull or not fitted.any():
        return netting
    bench = netting.pulled(plan.bench_pull)
    found = find_equilibrium(bench, total_loads(bench), replace(limits, gap=max(limits.gap, QUICK.gap)))
    return with_lengths(netting, found.rest_lengths) if found.state in GOOD else netting


def with_lengths(netting: Netting, lengths: Floats) -> Netting:
    """The net with every length that was to be fitted cut to what was found (m,) [m]."""
    fitted = netting.bar_fits != NONE
    return replace(
        netting,
        bar_lengths=np.where(fitted, lengths, netting.bar_lengths),
        bar_fits=np.full_like(netting.bar_fits, NONE),
        fit_tensions=np.zeros(0),
    )


def settle_quickly(netting: Netting, plan: Plan) -> Shape:
    """Where knots and hoops come to rest, within a tenth of a millimetre, to be drawn while a spec is typed.

    One solve for most nets: it is not looked for between which lengths strings fit, nor what rods cost.
    """
    netting = tied_on_bench(netting, plan, QUICK)
    capped = any(carrier.follows is not None for carrier in netting.carriers)
    netting, found = _at_rest(netting, plan, QUICK, capped)
    return measured(netting, plan, found, no_window(netting, plan, found) if found.state in GOOD else None)


def _settle(netting: Netting, plan: Plan, limits: SolverLimits, capped: bool = False) -> Shape:
    netting, found = _at_rest(netting, plan, limits, capped)
    window = string_window(netting, plan, found) if found.state in GOOD else None
    return measured(netting, plan, found, window)


def _at_rest(netting: Netting, plan: Plan, limits: SolverLimits, capped: bool) -> tuple[Netting, Equilibrium]:
    """The net with its hoops as soft as they are at rest, and how it rests, throats inside the body.

    Where a throat lies on the body, how the net rests without it is known well enough loosely.
    """
    loose = will_lie_on_body(netting, plan)
    soft, found = _without_walls(netting, LOOSELY if loose else limits, capped)
    if loose and (found.state not in GOOD or farthest_out(netting, plan, found) <= INSIDE):
        soft, found = _without_walls(netting, limits, capped)
    if found.state in GOOD and plan.throats:
        found = rest_inside(soft, plan, total_loads(soft), limits, found)
    return soft, found


def _without_walls(netting: Netting, limits: SolverLimits, capped: bool) -> tuple[Netting, Equilibrium]:
    """The net with its hoops as soft as at rest, and how it rests, its throats passing through the body."""
    loads = total_loads(netting)
    found = find_equilibrium(netting, loads, limits, capped=capped)
    soft = softened(netting, found.positions, found.tensions)
    if found.state in GOOD and folds(soft):
        return netting, replace(found, state=EndState.FOLDED)
    if found.state in GOOD and differ(netting, soft):
        netting = replace(soft, bar_expected=found.tensions)
        if capped:
            return netting, find_equilibrium(netting, loads, limits, capped=capped)
        return netting, find_nearby(netting, loads, limits, None, found)
    return netting, found


def measured(netting: Netting, plan: Plan, found: Equilibrium, window: Window | None = None) -> Shape:
    """What an equilibrium means for the maker; throats are told where it is known how their strings fit."""
    first, hung = found.poses[0].place, distances(netting, found)
    bags = np.maximum(window.free - hung, 0.0) if window else np.zeros_like(hung)
    tail, whole = end_follows(netting, plan, found)
    shape = Shape(
        state=found.state,
        knot_positions=found.positions - np.array([first, 0.0, 0.0]),
        bar_tensions=found.tensions,
        bar_rest_lengths=found.rest_lengths,
        knot_pushes=found.pushes,
        hoop_pushes=found.hoop_pushes,
        poses=tuple(pose.shifted(-first) for pose in found.poses),
        tail_end=float(found.positions[body_knots(netting), 0].max() - first),
        sections=section_shapes(netting, plan, found, bags),
        throats=throat_shapes(netting, plan, found, (window.strings, bags)) if window else (),
        free=tuple(window.free.tolist()) if window else (),
        length_follows=length_follows(netting, plan, found),
        tail_follows=tail,
        end_follows=whole,
        residual=found.residual,
        symmetry=found.symmetry,
        iterations=found.iterations,
    )
    if shape.state not in GOOD:
        return shape
    if not is_possible(netting, shape):
        return replace(shape, state=EndState.LIMIT_REACHED)
    slack = [*(one.slack_share for one in shape.sections), *(one.slack_share for one in shape.throats)]
    return replace(shape, one_of_many=not netting.bar_weights.any() and any(slack))
