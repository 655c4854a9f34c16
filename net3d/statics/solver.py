"""Hand a cone program to Clarabel and read its answer."""

from __future__ import annotations

from dataclasses import dataclass

import clarabel
import numpy as np
from scipy import sparse

from net3d.netting.netting import Floats
from net3d.statics.program import CONE, Program


@dataclass(frozen=True)
class SolverLimits:
    """When to stop: accuracy asked of Clarabel, in scaled numbers, and the most steps it may take."""

    gap: float = 1e-13  # a bar lies off its pull by the root of this: at 1e-11 one net in five ended loosely
    feasibility: float = 1e-10
    iterations: int = 100
    rescaled: bool = True  # whether Clarabel scales rows and columns once more, on top of bar and pull


@dataclass(frozen=True, eq=False)
class Answer:
    """What came back: ``status`` in Clarabel's words, coordinates [m] and bar tensions [N] with shares."""

    status: str
    coordinates: Floats
    tensions: Floats
    iterations: int

    @property
    def is_out_of_reach(self) -> bool:
        """No shape satisfies the constraints."""
        return self.status in {"PrimalInfeasible", "AlmostPrimalInfeasible"}

    @property
    def is_adrift(self) -> bool:
        """Some load moves its knots without end."""
        return self.status in {"DualInfeasible", "AlmostDualInfeasible"}


def solve(program: Program, limits: SolverLimits) -> Answer:
    """Solve a program; coordinates and tensions come back in [m] and [N]."""
    cones = [clarabel.SecondOrderConeT(CONE)] * program.bars
    if program.caps:
        cones.append(clarabel.NonnegativeConeT(program.caps))
    solution = clarabel.DefaultSolver(
        sparse.triu(program.quadratic, format="csc"),
        program.linear,
        program.matrix,
        program.bounds,
        cones,
        _settings(limits),
    ).solve()
    duals = np.asarray(solution.z)[: CONE * program.bars]
    coordinate_count = program.matrix.shape[1] - program.bars
    return Answer(
        status=str(solution.status),
        coordinates=np.asarray(solution.x)[:coordinate_count] * program.length_scale,
        tensions=np.maximum(duals[::CONE], 0.0) * program.force_scale,
        iterations=solution.iterations,
    )


def _settings(limits: SolverLimits) -> clarabel.DefaultSettings:
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    settings.max_iter = limits.iterations
    settings.tol_gap_abs = settings.tol_gap_rel = limits.gap
    settings.tol_feas = limits.feasibility
    settings.equilibrate_enable = limits.rescaled
    return settings
