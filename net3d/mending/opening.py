"""How large a hole opens: the bars around it."""

from __future__ import annotations

from collections.abc import Set as AbstractSet
from dataclasses import dataclass

import numpy as np

from net3d.mending.lattice import Lattice
from net3d.netting.netting import Ints


def mesh_sides(lattice: Lattice) -> Ints:
    """The meshes on either side of every bar (bars, 2), each by the knot at its left, where bars go around.

    Meshes of the first and of the last row are halves, which the edge closes. Two bars between the same two
    knots close a mesh of their own, numbered after all knots.
    """
    sides = np.empty_like(lattice.ends)
    knots = sum(lattice.counts)
    for step in range(len(lattice.counts) - 1):
        bars = np.flatnonzero(lattice.steps == step)
        (upper, lower), (upper_next, lower_next) = lattice.ends[bars].T, np.roll(lattice.ends[bars], -1, 0).T
        after = np.where(upper == upper_next, lower, upper)
        after = np.where((upper == upper_next) & (lower == lower_next), knots + bars, after)
        sides[bars] = np.stack([np.roll(after, 1), after], axis=1)
    return sides


@dataclass(frozen=True)
class Opening:
    """The largest opening that torn bars leave, and the bars around all of them."""

    girth: float  # [m]
    rim: frozenset[int]


def opening_of(lattice: Lattice, torn: AbstractSet[int], bar: float, pitches: tuple[float, float]) -> Opening:
    """How large torn bars open netting: the bars between openings and whole meshes.

    A bar that hangs in the opening does not count. Twine does not stretch by what a fish is squeezed, so what
    is no larger around passes. Source: geometry.

    Parameters
    ----------
    lattice, torn : the netting, and the bars that are torn of it
    bar : its length [m]
    pitches : from knot to knot along the first row and along the last [m]
    """
    from scipy.sparse import coo_matrix, csgraph  # noqa: PLC0415 - loads slowly, and only holes need it

    sides, count = mesh_sides(lattice), sum(lattice.counts) + len(lattice.ends)
    gone = np.isin(np.arange(len(lattice.ends)), list(torn))
    across = (np.ones(int(gone.sum())), sides[gone].T)
    _, labels = csgraph.connected_components(coo_matrix(across, (count, count)), directed=False)
    ends = labels[sides]
    single = ends[:, 0] != ends[:, 1]  # of a torn bar both sides are one
    girths = bar * np.bincount(ends[single].ravel(), minlength=count)
    for row, pitch in zip((0, -1), pitches, strict=True):
        edge = int(lattice.firsts[row]) + np.arange(lattice.counts[row])
        girths += pitch * np.bincount(labels[edge], minlength=count)
    opened = np.unique(labels[sides[gone]])
    rim = np.flatnonzero(single & np.isin(ends, opened).any(axis=1))
    return Opening(float(girths[opened].max(initial=0.0)), frozenset(rim.tolist()))
