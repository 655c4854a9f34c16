"""How well a shape balances: the pulls at every knot, and the stretch of every bar, checked afresh."""

from __future__ import annotations

import numpy as np

from net3d.netting.netting import NONE, Floats, Netting
from net3d.statics.motion import Motion


def bar_spans(netting: Netting, positions: Floats) -> tuple[Floats, Floats]:
    """From the upper to the lower knot of every bar (m, 3) [m], and the distance (m,) [m]."""
    spans = positions[netting.bars[:, 1]] - positions[netting.bars[:, 0]]
    return spans, np.linalg.norm(spans, axis=1)


def bar_pulls(netting: Netting, positions: Floats, tensions: Floats) -> Floats:
    """The pull of every bar on its upper knot (m, 3) [N]: its tension along the way to the lower one.

    Parameters
    ----------
    netting : its m bars
    positions : of the knots (n, 3) [m]
    tensions : of the bars (m,) [N]
    """
    spans, distances = bar_spans(netting, positions)
    return np.asarray(spans / np.maximum(distances, np.finfo(float).tiny)[:, None] * tensions[:, None])


def knot_forces(netting: Netting, loads: Floats, pulls: Floats) -> Floats:
    """Loads and bar pulls together on every knot (n, 3) [N]; what rides on a carrier need not be 0.

    Parameters
    ----------
    netting : its m bars
    loads : on the knots (n, 3) [N]
    pulls : of the bars on their upper knots (m, 3) [N]
    """
    forces = loads.copy()
    for axis in range(3):
        forces[:, axis] += np.bincount(netting.bars[:, 0], pulls[:, axis], len(forces))
        forces[:, axis] -= np.bincount(netting.bars[:, 1], pulls[:, axis], len(forces))
    return forces


def unbalanced_force(netting: Netting, motion: Motion, forces: Floats, held: Floats) -> float:
    """Largest force left over on any free knot, carrier along its slide or wave of a hoop, over the pull [-].

    Parameters
    ----------
    netting, motion : what is tied, and how it may move
    forces : on the knots (n, 3) [N]
    held : what other things hold the coordinates with, bent rods and hoops that touch (coordinates,) [N]
    """
    left = motion.matrix.T @ forces.ravel() - held
    return float(np.abs(left).max(initial=0.0)) / netting.pull


def overstretch(netting: Netting, positions: Floats, tensions: Floats, lengths: Floats) -> float:
    """By how much any bar is longer than its tension stretches its rest length L, over the mean length [-].

    ``(|x_i - x_j| - L (1 + e(T))) / mean L``; spans of a running line are what they are under tension, and
    a fitted length stretches as its bar's length in the netting does, which is near it.

    Parameters
    ----------
    netting : its m bars
    positions : of the knots (n, 3) [m]
    tensions : of the bars (m,) [N]
    lengths : L, but of running lines their spans under tension (m,) [m]
    """
    _, distances = bar_spans(netting, positions)
    stretched = lengths + np.where(netting.bar_runs == NONE, netting.stretches(tensions), 0.0)
    return float((distances - stretched).max(initial=0.0) / lengths.mean())
