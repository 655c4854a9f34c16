"""Distances between hoops: none passes another, and none is let far at a time where the last went far."""

from __future__ import annotations

import numpy as np

from net3d.netting.netting import Floats, Ints, Netting
from net3d.statics.matrix import Matrix
from net3d.statics.motion import Motion
from net3d.statics.program import Program, with_rows


def least_distances(netting: Netting) -> Floats:
    """From the middle of a hoop to the next where their rods touch (hoops - 1,) [m]."""
    rods = np.array([carrier.thickness for carrier in netting.carriers[: netting.hoop_count]])
    return np.asarray((rods[1:] + rods[:-1]) / 2)


def distance_rows(motion: Motion, hoops: int) -> tuple[Matrix, Floats]:
    """Distances from each hoop to the next as ``rows @ q + constants``, q all coordinates, unshared [m]."""
    width = motion.matrix.shape[1] if motion.sharing is None else motion.sharing.shape[0]
    every = np.arange(hoops)
    return shifts_apart(motion, every[:-1], every[1:], width), np.diff(motion.carrier_offsets[:hoops])


def shifts_apart(motion: Motion, before: Ints, behind: Ints, width: int) -> Matrix:
    """How much further carriers shift along the net than others, ``rows @ q``.

    Parameters
    ----------
    motion : whose unshared coordinates are q
    before, behind : numbers of the carriers (rows,) each
    width : of the rows [-]
    """
    columns = motion.carrier_columns[np.concatenate([before, behind]), 0]
    rows, signs = np.tile(np.arange(len(before)), 2), np.repeat([-1.0, 1.0], len(before))
    moving = columns >= 0
    return Matrix(rows[moving], columns[moving], signs[moving], (len(before), width))


def keep_apart(program: Program, motion: Motion, least: Floats) -> Program:
    """The program with every hoop at least so far behind the one before it (hoops - 1,) [m]."""
    rows, constants = distance_rows(motion, len(least) + 1)
    return _with(program, motion, -rows, constants - least)


def keep_near(program: Program, motion: Motion, distances: Floats, reach: float) -> Program:
    """The program with the distances between hoops near some others.

    Parameters
    ----------
    program, motion : what is solved, and how hoops move in it
    distances : between hoops (hoops - 1,) [m]
    reach : by which they may differ at the most [m]
    """
    rows, constants = distance_rows(motion, len(distances) + 1)
    nearer = _with(program, motion, -rows, constants - distances + reach)
    return _with(nearer, motion, rows, distances + reach - constants)


def _with(program: Program, motion: Motion, rows: Matrix, bounds: Floats) -> Program:
    return with_rows(program, rows if motion.sharing is None else rows.times(motion.sharing), bounds)
