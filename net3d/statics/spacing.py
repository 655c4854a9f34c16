"""Distances between hoops: none passes another, and none is let far at a time where the last went far."""

from __future__ import annotations

import numpy as np
from scipy import sparse

from net3d.netting.netting import Floats, Netting
from net3d.statics.motion import Motion
from net3d.statics.program import Program, with_rows


def least_distances(netting: Netting) -> Floats:
    """From the middle of a hoop to the next where their rods touch (hoops - 1,) [m]."""
    rods = np.array([carrier.thickness for carrier in netting.carriers[: netting.hoop_count]])
    return np.asarray((rods[1:] + rods[:-1]) / 2)


def distance_rows(motion: Motion, hoops: int) -> tuple[sparse.csr_matrix, Floats]:
    """Distances from each hoop to the next as ``rows @ q + constants``, q all coordinates, unshared [m]."""
    width = motion.matrix.shape[1] if motion.sharing is None else motion.sharing.shape[0]
    rows = sparse.lil_matrix((hoops - 1, width))
    for place in range(hoops - 1):
        for hoop, sign in ((place, -1.0), (place + 1, 1.0)):
            column = motion.carrier_columns[hoop, 0]
            if column >= 0:
                rows[place, column] += sign
    return rows.tocsr(), np.diff(motion.carrier_offsets[:hoops])


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


def _with(program: Program, motion: Motion, rows: sparse.csr_matrix, bounds: Floats) -> Program:
    own = rows if motion.sharing is None else rows @ motion.sharing
    padding = sparse.csr_matrix((own.shape[0], program.matrix.shape[1] - own.shape[1]))
    return with_rows(program, sparse.csc_matrix(sparse.hstack([own, padding])), bounds)
