"""Smooth curves through a few points: piece by piece a cubic with given values and slopes at its ends.

Written out here because the library that has them takes a quarter of a second to load.
"""

from __future__ import annotations

import numpy as np

from net3d.netting.netting import Floats


def rounded(along: Floats, points: Floats, fine: Floats) -> Floats:
    """The natural cubic spline through some points (m, k) [mm].

    Slopes: ``s_i-1 / h_i-1 + 2 (1 / h_i-1 + 1 / h_i) s_i + s_i+1 / h_i = 3 (d_i-1 / h_i-1 + d_i / h_i)``
    for pieces of a length h and a straight slope d. Source: the second derivative is continuous, and 0 at
    either end.

    Parameters
    ----------
    along : where along the curve the points are (n,) [-]
    points : (n, k) [mm]
    fine : where it is asked for (m,) [-]
    """
    weights, rises = 1.0 / np.diff(along), np.diff(points, axis=0) / np.diff(along)[:, None]
    before, after = np.append(0.0, weights), np.append(weights, 0.0)
    matrix = np.diag(2.0 * (before + after)) + np.diag(weights, 1) + np.diag(weights, -1)
    pulls = 3.0 * weights[:, None] * rises
    zero = np.zeros_like(pulls[:1])
    slopes = np.linalg.solve(matrix, np.concatenate([zero, pulls]) + np.concatenate([pulls, zero]))
    return _pieces(along, points, slopes, fine)


def rising(along: Floats, heights: Floats, fine: Floats) -> Floats:
    """A smooth curve through heights that never goes past one of them (m,) [mm].

    Slopes are weighted harmonic means of those beside, and 0 at a crest. Source: Fritsch and Butland, A
    Method for Constructing Local Monotone Piecewise Cubic Interpolants, SIAM J. Sci. Stat. Comput. 5 (1984),
    from memory.

    Parameters
    ----------
    along : where along the curve the heights are (n,) [-]
    heights : (n,) [mm]
    fine : where it is asked for (m,) [-]
    """
    steps, rises = np.diff(along), np.diff(heights) / np.diff(along)
    first, second = 2.0 * steps[1:] + steps[:-1], steps[1:] + 2.0 * steps[:-1]
    level = rises[:-1] * rises[1:] <= 0.0
    before, after = (np.where(level, 1.0, part) for part in (rises[:-1], rises[1:]))
    middle = np.where(level, 0.0, (first + second) / (first / before + second / after))
    ends = (_end_slope(steps[:2], rises[:2]), _end_slope(steps[:-3:-1], rises[:-3:-1]))
    slopes = np.concatenate([ends[:1], middle, ends[1:]])
    return _pieces(along, heights[:, None], slopes[:, None], fine)[:, 0]


def _end_slope(steps: Floats, rises: Floats) -> float:
    """That of the parabola through the three points at an end, but no turn between them."""
    if len(steps) == 1:
        return float(rises[0])
    slope = float(((2.0 * steps[0] + steps[1]) * rises[0] - steps[0] * rises[1]) / (steps[0] + steps[1]))
    if slope * rises[0] <= 0.0:
        return 0.0
    turns = rises[0] * rises[1] <= 0.0 and abs(slope) > 3.0 * abs(rises[0])
    return float(3.0 * rises[0]) if turns else slope


def _pieces(along: Floats, points: Floats, slopes: Floats, fine: Floats) -> Floats:
    """Cubics with values and slopes (n, k) at their ends."""
    piece = np.clip(np.searchsorted(along, fine, side="right") - 1, 0, len(along) - 2)
    step = np.diff(along)[piece, None]
    t = (fine[:, None] - along[piece, None]) / step
    there, left = t * t * (3.0 - 2.0 * t), t * (1.0 - t)
    bulge = step * left * ((1.0 - t) * slopes[piece] - t * slopes[piece + 1])
    return np.asarray(points[piece] + there * (points[piece + 1] - points[piece]) + bulge)
