"""What was to be reached, beside what was measured."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import log


@dataclass(frozen=True)
class Goal:
    """A figure (``key``) that is to be at most, or at least, so much."""

    text: str
    key: str
    at_most: float | None = None
    at_least: float | None = None

    def met(self, value: float) -> bool:
        """Whether ``value`` reaches it."""
        return value <= self.at_most if self.at_most is not None else value >= self.at_least

    @property
    def bound(self) -> str:
        """The limit as it is printed."""
        return f"<= {self.at_most:g}" if self.at_most is not None else f">= {self.at_least:g}"


GOALS = (
    Goal("STL built and written, over the raw write of its bytes", "stl over raw", at_most=3),
    Goal("GLB built and written, over the raw write of its bytes", "glb over raw", at_most=5),
    Goal("GLB, bytes a bar, knots and hoops included", "glb bytes a bar", at_most=220),
    Goal("STL ahead of numpy-stl, which is given the triangles", "numpy_stl", at_least=3),
    Goal("STL ahead of VTK's tube filter", "vtk", at_least=8),
    Goal("STL ahead of trimesh's own cylinders", "trimesh", at_least=120),
    Goal("STL writer's memory, largest net over the one before", "stl memory", at_most=1.05),
    Goal("solve ahead of cvxpy and its fastest solver, net that repeats", "cvxpy repeats", at_least=5),
    Goal("solve ahead of cvxpy and its fastest solver, net with weight", "cvxpy weight", at_least=5),
    Goal("solve ahead of scipy and of dynamic relaxation, smallest net", "other methods", at_least=1),
    Goal("build, cost a bar, largest over second net, net that repeats", "cost a bar repeats", at_most=1.5),
    Goal(
        "build, cost of a further bar, last step over those before, same", "further bar repeats", at_most=1.5
    ),
    Goal("build grows with bars to the, second net on, net with weight", "grows weight", at_most=1.3),
    Goal("build grows with bars to the, second net on, net with throats", "grows throats", at_most=1.15),
    Goal("build of the largest net that repeats [s]", "largest seconds repeats", at_most=60),
    Goal("build of the largest net that repeats [GiB]", "largest memory repeats", at_most=4),
    Goal("net3d --help [s]", "help", at_most=0.2),
    Goal("check of the sample with two throats [s, user]", "check two throats", at_most=1.3),
    Goal("build of the sample with two throats [s, user]", "build two throats", at_most=1.8),
    Goal("check of the brook net and its currents [s, user]", "check brook", at_most=1.5),
    Goal("build of the brook net [s, user]", "build brook", at_most=2.2),
    Goal("sketch after a change, sample with two throats [s, user]", "sketch two throats", at_most=0.2),
    Goal("sketch after a change, plain body [s, user]", "sketch plain", at_most=0.06),
    Goal("page: change to shape, sample with two throats [s]", "page two throats", at_most=0.5),
    Goal("the same [s, user]", "page user two throats", at_most=0.35),
    Goal("page: change to shape, plain body [s]", "page plain", at_most=0.2),
    Goal("the same [s, user]", "page user plain", at_most=0.15),
    Goal("loads in eight currents at 60 degrees [s, user]", "at an angle", at_most=15),
    Goal("net with odd counts over an even one", "odd over even", at_most=1.5),
    Goal("one solve of the largest net with two throats [s, user]", "solve seconds", at_most=20),
    Goal("the same [GiB]", "solve memory", at_most=2),
    Goal("build of the largest net with two throats [s]", "largest seconds throats", at_most=90),
    Goal("the same [GiB]", "largest memory throats", at_most=2),
)


def exponent(sizes: Sequence[float], costs: Sequence[float]) -> float:
    """The power of the size that costs grow with: least squares through their logarithms.

    >>> round(exponent([10, 100, 1000], [3, 300, 30000]), 6)
    2.0
    """
    across, up = [log(size) for size in sizes], [log(cost) for cost in costs]
    middle, level = sum(across) / len(across), sum(up) / len(up)
    leaning = sum((x - middle) * (y - level) for x, y in zip(across, up, strict=True))
    return leaning / sum((x - middle) ** 2 for x in across)


def goal_lines(figures: Mapping[str, float]) -> list[str]:
    """Every goal with its figure; one that this run did not measure says so."""
    width = max(len(goal.text) for goal in GOALS)
    lines = []
    for goal in GOALS:
        value = figures.get(goal.key)
        said = "not measured" if value is None else "met" if goal.met(value) else "NOT MET"
        figure = "-" if value is None else f"{value:.3g}"
        lines.append(f"{goal.text:{width}}  {figure:>8}  {goal.bound:>8}  {said}")
    return lines
