"""The equilibrium of a net of twine, which pulls and cannot push, as a second-order cone program.

    minimise   - sum f . x + sum (EA / 2 L) e^2 + sum t l    EA a secant, see give.py
    subject to |x_i - x_j| <= L + e                       for every bar
               |x_i - x_j| <= l + e,  l >= least          for bars of a length l to be fitted at a tension t
               |x_i - x_j| <= s,  sum of s <= L + e       for the spans s of a line that runs freely

The dual value of a bar's cone is its tension. After Lobo, Vandenberghe, Boyd and Lebret, Applications of
second-order cone programming, Linear Algebra and its Applications 284 (1998), section 3.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.netting.netting import NONE, Floats, Ints, Netting
from net3d.statics.matrix import Matrix, diagonal, stacked
from net3d.statics.motion import Motion

CONE = 4  # rows of a bar's cone: its reach and the three components of x_i - x_j
WALL = 3  # rows of a knot's cone inside other netting: the radius there, y and z


@dataclass(frozen=True, eq=False)
class Program:
    """A cone program in scaled numbers, lengths by the bar and forces by what a bar pulls.

    minimise 1/2 z P z + q z subject to b - A z in the cones: second-order cones of four rows for the
    ``bars``, then ``rows`` that must not be negative, then cones of three rows for the ``walls``.
    z holds ``coordinates``, a stretch (or span) for every bar, the fitted lengths and the running lines'
    stretches, in that order.
    """

    quadratic: Matrix
    linear: Floats
    matrix: Matrix
    bounds: Floats
    coordinates: int
    bars: int
    fits: int
    rows: int
    walls: int
    length_scale: float
    force_scale: float

    @property
    def sizes(self) -> tuple[int, int, int, int, int]:
        """How many coordinates, bars, fitted lengths, rows and walls."""
        return self.coordinates, self.bars, self.fits, self.rows, self.walls


def cone_program(netting: Netting, motion: Motion, loads: Floats, orbits: tuple[Ints, Floats]) -> Program:
    """State the program.

    Parameters
    ----------
    netting, motion : what is tied, and how it may move
    loads : all forces on the knots (n, 3) [N]
    orbits : the bars that get a cone (k,), and how many bars each stands for (k,) [-]
    """
    bars, shares = orbits
    length_scale, force_scale = float(netting.bar_lengths.mean()), _usual_pull(netting, shares)
    coordinates, count = motion.matrix.shape[1], len(bars)
    fits, runs = len(netting.fit_tensions), len(netting.run_lengths)
    matrix, bounds = _bar_cones(netting, motion, bars)
    linear = np.zeros(matrix.shape[1])
    linear[:coordinates] = -(motion.matrix.T @ loads.ravel()) / force_scale
    linear[coordinates + count :][:fits] = netting.fit_tensions / force_scale
    program = Program(
        quadratic=diagonal(np.zeros(matrix.shape[1])),
        linear=linear,
        matrix=matrix,
        bounds=bounds / length_scale,
        coordinates=coordinates,
        bars=count,
        fits=fits,
        rows=0,
        walls=0,
        length_scale=length_scale,
        force_scale=force_scale,
    )
    program = with_twine(program, netting, motion, orbits)
    if runs:
        program = _with_runs(program, netting, bars, shares)
    return _with_least_fits(program, netting) if fits else program


def with_twine(program: Program, netting: Netting, motion: Motion, orbits: tuple[Ints, Floats]) -> Program:
    """The program of the same net with other EA [N]; what else it states stays.

    Parameters
    ----------
    netting, motion : what is tied, and how it may move
    orbits : the bars that have a cone (k,), and how many bars each stands for (k,) [-]
    """
    softness = [_bar_stiffness(netting, *orbits), np.zeros(program.fits), _run_stiffness(netting)]
    quadratic = np.concatenate([motion.stiffnesses, *softness]) * program.length_scale / program.force_scale
    return replace(program, quadratic=diagonal(quadratic))


def _usual_pull(netting: Netting, shares: Floats) -> float:
    """About what the bars of an orbit pull together if the pull is shared evenly around [N].

    With numbers near 1 the solver needs no scaling of its own, which costs it up to twice as many steps.
    """
    around = max(int(np.count_nonzero(netting.knot_carriers == 0)), 1)
    return netting.pull * float(shares.mean()) / around


def with_rows(program: Program, rows: Matrix, bounds: Floats) -> Program:
    """The program with more rows that must not be negative: ``bounds - rows z >= 0``, bounds in [m].

    ``rows`` need not be as wide as the program.
    """
    if program.walls:
        raise ValueError("walls come after all rows")
    return replace(
        program,
        matrix=stacked([program.matrix, rows]),
        bounds=np.concatenate([program.bounds, bounds / program.length_scale]),
        rows=program.rows + len(bounds),
    )


def _bar_cones(netting: Netting, motion: Motion, bars: Ints) -> tuple[Matrix, Floats]:
    """Rows and bounds [m] of the bars' cones."""
    count, coordinates = len(bars), motion.matrix.shape[1]
    differences = end_differences(netting.bars[bars], len(netting.knot_carriers))
    moving = differences.times(motion.matrix)
    fits, fixed = netting.bar_fits[bars], netting.bar_runs[bars] == NONE
    own_column = coordinates + np.arange(count)
    fitted = np.flatnonzero(fits != NONE)
    reach_rows = CONE * np.arange(count)
    rows = np.concatenate([CONE * (moving.rows // 3) + 1 + moving.rows % 3, reach_rows, reach_rows[fitted]])
    columns = np.concatenate([moving.columns, own_column, coordinates + count + fits[fitted]])
    values = np.concatenate([-moving.values, -np.ones(count + len(fitted))])
    width = coordinates + count + len(netting.fit_tensions) + len(netting.run_lengths)
    bounds = np.empty((count, CONE))
    bounds[:, 0] = np.where(fixed & (fits == NONE), netting.bar_lengths[bars], 0.0)
    bounds[:, 1:] = (differences @ motion.constant).reshape(-1, 3)
    return Matrix(rows, columns, values, (CONE * count, width)), bounds.ravel()


def _bar_stiffness(netting: Netting, bars: Ints, shares: Floats) -> Floats:
    """EA / L of the bars that stretch; none for the spans of a running line, which stretches as a whole."""
    own = netting.bar_runs[bars] == NONE
    stiffness = shares * netting.bar_stiffnesses[bars] / netting.bar_lengths[bars]
    return np.asarray(np.where(own, stiffness, 0.0))


def _run_stiffness(netting: Netting) -> Floats:
    return netting.run_stiffnesses / netting.run_lengths


def _with_runs(program: Program, netting: Netting, bars: Ints, shares: Floats) -> Program:
    """Rows ``L + e - sum of s >= 0``, one a running line."""
    spans = np.flatnonzero(netting.bar_runs[bars] != NONE)
    runs = np.arange(len(netting.run_lengths))
    width = program.matrix.shape[1]
    rows = np.concatenate([netting.bar_runs[bars][spans], runs])
    columns = np.concatenate([program.coordinates + spans, width - len(runs) + runs])
    values = np.concatenate([shares[spans], -np.ones(len(runs))])
    return with_rows(program, Matrix(rows, columns, values, (len(runs), width)), netting.run_lengths)


def _with_least_fits(program: Program, netting: Netting) -> Program:
    """Rows ``l - least >= 0``, one a fitted length."""
    fits = np.arange(program.fits)
    columns = program.coordinates + program.bars + fits
    shape = (program.fits, program.matrix.shape[1])
    return with_rows(program, Matrix(fits, columns, -np.ones(program.fits), shape), -netting.fit_least)


def end_differences(bars: Ints, knot_count: int) -> Matrix:
    """Matrix (3 m, 3 n) that takes knot positions to x_i - x_j of every bar."""
    count = len(bars)
    axes = np.arange(3)
    rows = (3 * np.arange(count)[:, None] + axes).ravel()
    upper, lower = ((3 * bars[:, [end]] + axes).ravel() for end in (0, 1))
    ones = np.ones(3 * count)
    return Matrix(
        np.concatenate([rows, rows]),
        np.concatenate([upper, lower]),
        np.concatenate([ones, -ones]),
        (3 * count, 3 * knot_count),
    )
