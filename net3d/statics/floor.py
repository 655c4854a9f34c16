"""Netting at rest over the bottom: what is let down lies on it, and slides over it freely."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.netting.netting import Floats, Ints, Netting
from net3d.statics.balance import bar_pulls, knot_forces, overstretch
from net3d.statics.matrix import Matrix
from net3d.statics.motion import Motion, free_motion
from net3d.statics.program import cone_program, with_rows
from net3d.statics.shape import EndState
from net3d.statics.solver import Answer, SolverLimits, solve

LIMITS = SolverLimits(gap=1e-10, feasibility=1e-9, misfit=1e-4)
LOOSE = 1e-2  # a misfit so large is no shape


@dataclass(frozen=True, eq=False)
class Lying:
    """Netting over the bottom at rest."""

    state: EndState
    positions: Floats  # (n, 3) [m]
    tensions: Floats  # (m,) [N]
    presses: Floats  # (n,) of the bottom on knots that lie on it [N]
    pulls: Floats  # (n, 3) of the netting on the knots that are held [N]
    misfit: float  # largest unbalanced force over the pull, or overstretch over a bar


def rest_on_bottom(netting: Netting, loads: Floats, bottom: float) -> Lying:
    """The equilibrium of netting none of whose knots goes below the bottom, which bears without friction.

    Parameters
    ----------
    netting : its carriers hold their knots
    loads : on the knots (n, 3) [N]
    bottom : its height [m]
    """
    motion, every = free_motion(netting), np.arange(len(netting.bars))
    program = cone_program(netting, motion, loads, (every, np.ones(len(every))))
    moving, depths = _depths(motion)
    program = with_rows(program, depths, motion.constant[2::3][moving] - bottom)
    stated = (netting, motion, loads, moving)
    found = _read(stated, solve(program, LIMITS))
    if found.misfit <= LIMITS.misfit or found.state in {EndState.OUT_OF_REACH, EndState.ADRIFT}:
        return found
    other = _read(stated, solve(program, replace(LIMITS, careful=True)))
    return min(found, other, key=lambda one: one.misfit)


def _depths(motion: Motion) -> tuple[Ints, Matrix]:
    """The knots that move up and down, and how far down each is, but for where it is held."""
    every = motion.matrix
    up = every.rows % 3 == 2
    moving, rows = np.unique(every.rows[up] // 3, return_inverse=True)
    return moving, Matrix(rows, every.columns[up], -every.values[up], (len(moving), every.shape[1]))


def _read(stated: tuple[Netting, Motion, Floats, Ints], answer: Answer) -> Lying:
    netting, motion, loads, moving = stated
    positions, presses = motion.positions(answer.coordinates), np.zeros(len(loads))
    presses[moving] = answer.row_forces
    forces = knot_forces(netting, loads, bar_pulls(netting, positions, answer.tensions))
    forces[:, 2] += presses
    left = float(np.abs(forces[moving]).max(initial=0.0)) / netting.pull
    misfit = max(left, overstretch(netting, positions, answer.tensions, netting.bar_lengths))
    forces[moving] = 0.0
    return Lying(_state(answer, misfit), positions, answer.tensions, presses, forces, misfit)


def _state(answer: Answer, misfit: float) -> EndState:
    if answer.is_out_of_reach:
        return EndState.OUT_OF_REACH
    if answer.is_adrift:
        return EndState.ADRIFT
    if misfit <= LIMITS.misfit:
        return EndState.SETTLED
    return EndState.SETTLED_LOOSELY if misfit <= LOOSE else EndState.LIMIT_REACHED
