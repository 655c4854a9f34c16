"""Hand a cone program to Clarabel and read its answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import clarabel
import numpy as np

from net3d.netting.netting import Floats
from net3d.statics.program import CONE, WALL, Program

FARTHEST = 1e12  # bars, and of what a bar pulls: no net is so long


@dataclass(frozen=True)
class SolverLimits:
    """When to stop: accuracy asked of Clarabel, in scaled numbers, and the most steps it may take."""

    gap: float = 1e-13  # a bar lies off its pull by the root of this: at 1e-11 one net in five ended loosely
    feasibility: float = 1e-10
    iterations: int = 100
    careful: bool = False  # whether Clarabel scales rows and columns once more, and refines every step
    misfit: float = 1e-6  # of the pull and of a bar: with more left over it is tried once more, carefully
    give: float = 1e-4  # of a bar: so far twine may stretch otherwise than by its law, beyond any tape


@dataclass(frozen=True, eq=False)
class Answer:
    """What came back, in [m] and [N], and ``status`` in Clarabel's words.

    ``reaches`` are the bars' stretches or spans, ``tensions`` what all the bars of an orbit pull together
    and ``pulls`` (bars, 3) the same as vectors on their upper knots, ``row_forces`` (rows,) what each of the
    program's rows pushes with, ``wall_forces`` (walls, 3) the force of each wall and what it pushes its knot
    with along y and z.
    """

    status: str
    iterations: int
    coordinates: Floats
    reaches: Floats
    fit_lengths: Floats
    tensions: Floats
    pulls: Floats
    row_forces: Floats
    wall_forces: Floats

    @property
    def is_out_of_reach(self) -> bool:
        """No shape satisfies the constraints."""
        return self.status in {"PrimalInfeasible", "AlmostPrimalInfeasible"}

    @property
    def is_adrift(self) -> bool:
        """Some load moves its knots without end."""
        return self.status in {"DualInfeasible", "AlmostDualInfeasible"}


def solve(program: Program, limits: SolverLimits) -> Answer:
    """Solve a program."""
    quadratic, matrix = program.quadratic.compressed, program.matrix.compressed
    solution = clarabel.DefaultSolver(
        quadratic, program.linear, matrix, program.bounds, _cones(program), _settings(limits)
    ).solve()
    lengths = _bounded(solution.x) * program.length_scale
    coordinates, reaches, fits, _ = np.split(
        lengths, np.cumsum([program.coordinates, program.bars, program.fits])
    )
    forces = _bounded(solution.z) * program.force_scale
    bars, rows, walls = np.split(forces, np.cumsum([CONE * program.bars, program.rows]))
    bars = bars.reshape(-1, CONE)
    return Answer(
        status=str(solution.status),
        iterations=solution.iterations,
        coordinates=coordinates,
        reaches=reaches,
        fit_lengths=fits,
        tensions=np.maximum(bars[:, 0], 0.0),
        pulls=bars[:, 1:],
        row_forces=rows,
        wall_forces=walls.reshape(-1, WALL),
    )


def _bounded(numbers: Sequence[float]) -> Floats:
    """Scaled numbers no farther out than their squares can be reckoned with.

    Where nothing holds a net the solver may stop anywhere, at 1e200 of a bar too, and says that it failed.
    """
    return np.asarray(np.clip(np.nan_to_num(numbers), -FARTHEST, FARTHEST))


def _cones(program: Program) -> list[object]:
    cones: list[object] = [clarabel.SecondOrderConeT(CONE)] * program.bars
    if program.rows:
        cones.append(clarabel.NonnegativeConeT(program.rows))
    return cones + [clarabel.SecondOrderConeT(WALL)] * program.walls


def _settings(limits: SolverLimits) -> clarabel.DefaultSettings:
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    settings.max_iter = limits.iterations
    settings.tol_gap_abs = settings.tol_gap_rel = limits.gap
    settings.tol_feas = limits.feasibility
    settings.equilibrate_enable = settings.iterative_refinement_enable = limits.careful
    return settings
