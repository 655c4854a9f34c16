"""Bring a net to rest: state its program, solve it, check the balance afresh, measure the sections."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from net3d.netting.netting import Floats, Netting
from net3d.plan.plan import Plan
from net3d.statics.balance import knot_forces, overstretch, unbalanced_force
from net3d.statics.motion import Motion, free_motion
from net3d.statics.program import cone_program
from net3d.statics.reach import cap_stretch, rod_shortfalls, without_rods
from net3d.statics.sections import section_shapes
from net3d.statics.shape import EndState, Shape
from net3d.statics.solver import Answer, SolverLimits, solve
from net3d.statics.symmetry import Symmetry, bar_orbits, find_symmetry, reduce_motion

SETTLED_WITHIN = 1e-6  # of the pull, and of a bar's length
LOOSELY_WITHIN = 1e-3
ROUGHNESS = (EndState.SETTLED, EndState.SETTLED_LOOSELY, EndState.LIMIT_REACHED, *EndState)


def settle(netting: Netting, plan: Plan, limits: SolverLimits | None = None) -> Shape:
    """The equilibrium of a net whose hoops slide freely along it, but for spreader rods.

    Where rods hold hoops further apart than the netting stretches before it breaks, the shape is that
    without the rods, marked out of reach, with what each rod has too much.
    """
    limits = limits or SolverLimits()
    if all(carrier.follows is None for carrier in netting.carriers):
        return _settle(netting, plan, limits)
    shape = _settle(netting, plan, limits, capped=True)
    released = _settle(without_rods(netting), plan, limits)
    free_lengths = tuple(section.length for section in released.sections)
    if shape.state in {EndState.SETTLED, EndState.SETTLED_LOOSELY}:
        return replace(shape, free_lengths=free_lengths)
    shortfalls = rod_shortfalls(netting, total_loads(netting), limits)
    if not any(shortfalls):
        return replace(_settle(netting, plan, limits), free_lengths=free_lengths)
    return replace(released, state=EndState.OUT_OF_REACH, shortfalls=shortfalls, free_lengths=free_lengths)


def total_loads(netting: Netting) -> Floats:
    """Every load on the knots (n, 3) [N]: pulls, and half of each bar's weight in water at either end."""
    loads = netting.knot_loads.copy()
    for end in (0, 1):
        loads[:, 2] -= np.bincount(netting.bars[:, end], netting.bar_weights / 2, len(loads))
    return loads


def _settle(netting: Netting, plan: Plan, limits: SolverLimits, capped: bool = False) -> Shape:
    loads = total_loads(netting)
    motion = free_motion(netting)
    symmetry = find_symmetry(netting, loads)
    orbits, bars = bar_orbits(netting, symmetry)
    shares = np.bincount(orbits).astype(float)
    shared = reduce_motion(netting, motion, symmetry)
    program = cone_program(netting, shared, loads, bars, shares)
    if capped:
        program = cap_stretch(program, netting, bars)

    def attempt(limits: SolverLimits) -> Shape:
        answer = solve(program, limits)
        found = shared.positions(answer.coordinates), (answer.tensions / shares)[orbits]
        return _read_shape(netting, plan, (motion, symmetry, answer), loads, found)

    shape = attempt(limits)
    if shape.state not in {EndState.SETTLED_LOOSELY, EndState.LIMIT_REACHED}:
        return shape
    # One net in fifty stalls just short of balance in one scaling, hardly any in both.
    other = attempt(replace(limits, rescaled=not limits.rescaled))
    return min(shape, other, key=lambda shape: (ROUGHNESS.index(shape.state), shape.residual))


def _read_shape(
    netting: Netting,
    plan: Plan,
    solved: tuple[Motion, Symmetry, Answer],
    loads: Floats,
    found: tuple[Floats, Floats],
) -> Shape:
    motion, symmetry, answer = solved
    positions, tensions = found
    hoops = _hoop_positions(netting, positions)
    positions = positions - np.array([hoops[0], 0.0, 0.0])
    residual = unbalanced_force(netting, motion, knot_forces(netting, loads, positions, tensions))
    misfit = max(residual, overstretch(netting, positions, tensions))
    return Shape(
        state=_end_state(answer, misfit),
        knot_positions=positions,
        bar_tensions=tensions,
        hoop_positions=hoops - hoops[0],
        sections=section_shapes(netting, plan, positions, tensions, hoops),
        residual=residual,
        symmetry=symmetry,
        iterations=answer.iterations,
    )


def _end_state(answer: Answer, misfit: float) -> EndState:
    """Judged by the balance that was found, whatever the solver says of its own numbers."""
    if answer.is_out_of_reach:
        return EndState.OUT_OF_REACH
    if answer.is_adrift:
        return EndState.ADRIFT
    if misfit <= SETTLED_WITHIN:
        return EndState.SETTLED
    return EndState.SETTLED_LOOSELY if misfit <= LOOSELY_WITHIN else EndState.LIMIT_REACHED


def _hoop_positions(netting: Netting, positions: Floats) -> Floats:
    """Where each hoop stands along the net (hoops,) [m]: the middle of the knots that ride on it."""
    riding = (netting.knot_carriers >= 0) & (netting.knot_carriers < netting.hoop_count)
    carriers = netting.knot_carriers[riding]
    places = positions[riding, 0] - netting.knot_seats[riding, 0]
    return np.asarray(np.bincount(carriers, places) / np.bincount(carriers))
