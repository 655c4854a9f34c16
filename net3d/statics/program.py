"""The equilibrium of a net of twine, which pulls and cannot push, as a second-order cone program.

    minimise   - sum f . x + sum (EA / 2 L) e^2
    subject to |x_i - x_j| <= L + e      for every bar

The dual value of a bar's cone is its tension. After Lobo, Vandenberghe, Boyd and Lebret, Applications of
second-order cone programming, Linear Algebra and its Applications 284 (1998), section 3.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import sparse

from net3d.netting.netting import Floats, Ints, Netting
from net3d.statics.motion import Motion

CONE = 4  # rows of a bar's cone: L + e and the three components of x_i - x_j


@dataclass(frozen=True, eq=False)
class Program:
    """A cone program in scaled numbers, lengths by the bar and forces by the pull.

    minimise 1/2 z P z + q z subject to b - A z in the cones: first ``bars`` second-order cones of four
    rows, then ``caps`` rows that must not be negative. z holds the motion's coordinates and then the
    stretch of every bar that has a cone.
    """

    quadratic: sparse.csc_matrix
    linear: Floats
    matrix: sparse.csc_matrix
    bounds: Floats
    bars: int
    caps: int
    length_scale: float
    force_scale: float


def cone_program(netting: Netting, motion: Motion, loads: Floats, bars: Ints, shares: Floats) -> Program:
    """State the program for the given bars (k,), each standing for ``shares`` (k,) bars like it.

    ``loads`` (n, 3) are all forces on the knots [N].
    """
    length_scale, force_scale = float(netting.bar_lengths.mean()), netting.pull
    differences = end_differences(netting.bars[bars], len(netting.knot_carriers))
    moving = (differences @ motion.matrix).tocoo()
    count, coordinates = len(bars), motion.matrix.shape[1]
    cone_rows = CONE * np.arange(count)
    rows = np.concatenate([CONE * (moving.row // 3) + 1 + moving.row % 3, cone_rows])
    columns = np.concatenate([moving.col, coordinates + np.arange(count)])
    values = np.concatenate([-moving.data, -np.ones(count)])
    bounds = np.empty((count, CONE))
    bounds[:, 0] = netting.bar_lengths[bars] / length_scale
    bounds[:, 1:] = (differences @ motion.constant).reshape(-1, 3) / length_scale
    stiffness = shares * netting.bar_stiffnesses[bars] / netting.bar_lengths[bars]
    return Program(
        quadratic=sparse.csc_matrix(
            sparse.diags(np.concatenate([np.zeros(coordinates), stiffness * length_scale / force_scale]))
        ),
        linear=np.concatenate([-(motion.matrix.T @ loads.ravel()) / force_scale, np.zeros(count)]),
        matrix=sparse.csc_matrix((values, (rows, columns)), shape=(CONE * count, coordinates + count)),
        bounds=bounds.ravel(),
        bars=count,
        caps=0,
        length_scale=length_scale,
        force_scale=force_scale,
    )


def end_differences(bars: Ints, knot_count: int) -> sparse.csr_matrix:
    """Matrix (3 m, 3 n) that takes knot positions to x_i - x_j of every bar."""
    count = len(bars)
    axes = np.arange(3)
    rows = (3 * np.arange(count)[:, None] + axes).ravel()
    upper, lower = ((3 * bars[:, [end]] + axes).ravel() for end in (0, 1))
    ones = np.ones(3 * count)
    return sparse.csr_matrix(
        (np.concatenate([ones, -ones]), (np.concatenate([rows, rows]), np.concatenate([upper, lower]))),
        shape=(3 * count, 3 * knot_count),
    )
