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
    misfit: float = 1e-6  # of the pull and of a bar: with more left over it goes on by Newton's steps
    give: float = 1e-4  # of a bar: so far twine may stretch otherwise than by its law, beyond any tape


@dataclass(frozen=True, eq=False)
class Answer:
    """What came back, in [m] and [N], and ``status`` in Clarabel's words.

    ``lengths`` are the program's variables, ``forces`` what each row of its cones pushes with.
    """

    status: str
    iterations: int
    sizes: tuple[int, int, int, int, int]  # coordinates, bars, fits, rows and walls of the program
    lengths: Floats
    forces: Floats

    @property
    def coordinates(self) -> Floats:
        """Of what moves (coordinates,) [m]."""
        return self.lengths[: self.sizes[0]]

    @property
    def reaches(self) -> Floats:
        """The bars' stretches or spans (bars,) [m]."""
        return self.lengths[self.sizes[0] :][: self.sizes[1]]

    @property
    def fit_lengths(self) -> Floats:
        """What lengths that were to be fitted came to (fits,) [m]."""
        return self.lengths[sum(self.sizes[:2]) :][: self.sizes[2]]

    @property
    def tensions(self) -> Floats:
        """What all the bars of an orbit pull together (bars,) [N]."""
        return np.maximum(self._bars[:, 0], 0.0)

    @property
    def pulls(self) -> Floats:
        """The same as vectors on their upper knots (bars, 3) [N]."""
        return self._bars[:, 1:]

    @property
    def row_forces(self) -> Floats:
        """What each of the program's rows pushes with (rows,) [N]."""
        return self.forces[CONE * self.sizes[1] :][: self.sizes[3]]

    @property
    def wall_forces(self) -> Floats:
        """The force of each wall, and what it pushes its knot with along y and z (walls, 3) [N]."""
        return self.forces[CONE * self.sizes[1] + self.sizes[3] :].reshape(-1, WALL)

    @property
    def _bars(self) -> Floats:
        return self.forces[: CONE * self.sizes[1]].reshape(-1, CONE)

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
    found = bounded(solution.x), bounded(solution.z)
    return answer_of(program, found, str(solution.status), solution.iterations)


def answer_of(program: Program, found: tuple[Floats, Floats], status: str, iterations: int) -> Answer:
    """The answer of a program.

    Parameters
    ----------
    program : what was solved
    found : its variables and what the rows of its cones push with, in its scaled numbers [-]
    status, iterations : how it ended, and after how many steps [-]
    """
    lengths, forces = found
    return Answer(
        status, iterations, program.sizes, lengths * program.length_scale, forces * program.force_scale
    )


def bounded(numbers: Sequence[float]) -> Floats:
    """Scaled numbers [-] no farther out than their squares can be reckoned with.

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
