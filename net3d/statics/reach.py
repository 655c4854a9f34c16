"""Spreader rods: whether the netting can stretch between hoops that are held apart, and what is too much.

Twine stretches by its load until it breaks, so no bar is longer than ``L (1 + e(strength))``.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from net3d.netting.netting import NONE, Floats, Ints, Netting
from net3d.statics.matrix import Matrix
from net3d.statics.motion import free_motion
from net3d.statics.program import Program, cone_program, with_rows
from net3d.statics.solver import SolverLimits, solve
from net3d.statics.spacing import shifts_apart

LEAST_SHORTFALL = 1e-4  # m; a tenth of a millimetre is beyond any tape


def cap_stretch(program: Program, netting: Netting, bars: Ints) -> Program:
    """The program with the stretch of the given bars (k,) held to what breaks them."""
    own = np.flatnonzero((netting.bar_fits[bars] == NONE) & (netting.bar_runs[bars] == NONE))
    most = netting.stretches(netting.bar_strengths)
    columns = program.coordinates + own
    rows = Matrix(np.arange(len(own)), columns, np.ones(len(own)), (len(own), program.matrix.shape[1]))
    return with_rows(program, rows, most[bars][own])


def without_rods(netting: Netting) -> Netting:
    """The same net with every rod taken out."""
    free = [replace(carrier, follows=None, offset=0.0) for carrier in netting.carriers]
    return replace(netting, carriers=tuple(free))


def rod_shortfalls(netting: Netting, loads: Floats, limits: SolverLimits) -> tuple[float, ...]:
    """By how much the netting falls short of each section's rod at its breaking load (sections,) [m].

    Each rod pushes its hoops apart, stronger than all the twine around, as far as its own length:
    what is then missing is the shortfall. Empty where even that cannot be.
    """
    released = without_rods(netting)
    rods = [(n, c.follows, c.offset) for n, c in enumerate(netting.carriers) if c.follows is not None]
    ends, leaders = np.array([rod[:2] for rod in rods]).T
    offsets = np.array([offset for *_, offset in rods])
    motion = free_motion(released)
    bars = np.arange(len(netting.bars))
    orbits = (bars, np.ones(len(bars)))
    push = 10.0 * float(netting.bar_strengths.sum())
    program = cap_stretch(cone_program(released, motion, loads, orbits), released, bars)
    shifts = shifts_apart(motion, leaders, ends, program.coordinates)
    linear = program.linear.copy()
    linear[: program.coordinates] -= shifts.T @ np.full(len(rods), push / program.force_scale)
    program = with_rows(replace(program, linear=linear), shifts, offsets)
    answer = solve(program, limits)
    if answer.is_out_of_reach or answer.is_adrift:
        return ()
    reached = shifts @ answer.coordinates
    missing = np.zeros(netting.hoop_count - 1)
    missing[ends - 1] = offsets - reached
    return tuple(float(gap) if gap > LEAST_SHORTFALL else 0.0 for gap in missing)
