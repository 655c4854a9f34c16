"""Meshes spread unevenly along a frame, so many from corner to corner: arcs by meshes, arcs by the tape."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
TURN = 2 * np.pi
Spread = tuple[tuple[float, float], ...]  # of each corner: its arc by meshes, and by the tape [rad]


def corner_arcs(meshes: tuple[int, ...]) -> Floats:
    """Arcs by meshes of the corners (k,) [rad], where the first of so many meshes a side stand about the top.

    >>> (corner_arcs((2, 1, 2, 1)) / np.pi * 3).round(6).tolist()
    [1.0, 2.0, 4.0, 5.0]
    """
    before = np.cumsum([0, *meshes[1:]])
    return np.asarray((meshes[0] / 2 + before) / sum(meshes) * TURN)


def by_tape(spread: Spread, arcs: Floats) -> Floats:
    """Arcs by the tape of places that are told by meshes (k,) [rad]; straight from corner to corner."""
    return _told(spread, arcs, 0)


def by_meshes(spread: Spread, arcs: Floats) -> Floats:
    """Arcs by meshes of places that are told by the tape (k,) [rad]."""
    return _told(spread, arcs, 1)


def _told(spread: Spread, arcs: Floats, column: int) -> Floats:
    if not spread:
        return np.asarray(arcs)
    turns = np.floor(np.asarray(arcs) / TURN) * TURN
    ends = np.array([(0.0, 0.0), *spread, (TURN, TURN)])
    return np.asarray(turns + np.interp(arcs - turns, ends[:, column], ends[:, 1 - column]))
