"""How uneven a net of bowed and oval hoops will pull, by first order, and the turns that make it least.

Diamond netting is two families of helical lines, and in a round net at rest each line is straight: at every
knot the two families' pulls sideways cancel. A line that leaves one hoop at the angle t reaches the next, n
rows of bars on, at t + n pi / N or at t - n pi / N. With u the way that a hoop which is not true moves its
knots, and d the direction of the line, the line is stretched by

    s = u'(t +- n pi / N) . d' - u(t) . d

where u has three parts: along the net the bow w(t); outward the oval o(t); and around the hoop, since marks
are measured along it, minus the integral of o(t). The estimate is the mean square of s / (n b) over all lines
of a section, b the bar, by the square of the section's tension, summed over the sections. With waves U_m of
u . d (complex, turned by the hoop's turn) that is, for every section,

    sum over families, m  of  |U_m' exp(+-i m n pi / N) - U_m|^2 / 2

It has a term for each pair of neighbours only, so that the best of all turns is found hoop by hoop.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.align.lines import FAMILIES, Direction, Lines
from net3d.plan.bow import Waves
from net3d.plan.plan import HoopPlan

Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]


@dataclass(frozen=True)
class Turn:
    """How a hoop is sewn in: turned clockwise by so many meshes, and whether it is flipped over first."""

    meshes: int = 0
    flipped: bool = False


@dataclass(frozen=True)
class Ways:
    """A hoop sewn in in several ways: its waves in the net's own angles, (ways, most + 1) each [m]."""

    bow: Complexes
    oval: Complexes

    def along(self, direction: Direction, family: float) -> Complexes:
        """How far the knots move along the lines that point so (ways, waves) [m]."""
        numbers = np.arange(self.oval.shape[1])
        around = np.divide(1j * self.oval, numbers, out=np.zeros_like(self.oval), where=numbers > 0)
        return direction.along * self.bow + direction.outward * self.oval + family * direction.around * around


def ways_of(hoop: HoopPlan, turns: tuple[Turn, ...], most: int) -> Ways:
    """A hoop, laid out with its mark at the top and not flipped, sewn in in several ways."""
    numbers = np.arange(most + 1)
    angles = np.array([turn.meshes for turn in turns]) * hoop.row.pitch
    rolled = np.exp(-1j * numbers * angles[:, None])

    def phasors(kept: Waves, flipped: Waves) -> Complexes:
        sides = (kept.phasors(most), flipped.phasors(most))
        return np.asarray([sides[turn.flipped] for turn in turns] * rolled)

    return Ways(phasors(hoop.bow, hoop.bow.flipped()), phasors(hoop.oval, hoop.oval.mirrored()))


def pair_costs(ahead: Ways, behind: Ways, lines: Lines) -> Floats:
    """Estimate for every way of a hoop against every way of the next, (ahead, behind)."""
    numbers = np.arange(ahead.bow.shape[1])
    total = np.zeros((len(ahead.bow), len(behind.bow)))
    for family in FAMILIES:
        leaving = ahead.along(lines.leaving, family)
        reaching = behind.along(lines.reaching, family) * np.exp(1j * family * numbers * lines.turn)
        power = np.sum(np.abs(leaving) ** 2, axis=1)[:, None] + np.sum(np.abs(reaching) ** 2, axis=1)
        total += (power - 2.0 * np.real(leaving @ reaching.conj().T)) / 2.0
    return np.maximum(total, 0.0) * lines.weight


def most_waves(hoops: tuple[HoopPlan, ...]) -> int:
    """The highest number of waves of any hoop."""
    return max([2, *(number for hoop in hoops for number in (*hoop.bow.numbers, *hoop.oval.numbers))])


def section_costs(
    hoops: tuple[HoopPlan, ...], lines: tuple[Lines, ...], choices: tuple[Turn, ...]
) -> list[Floats]:
    """Pair costs of every section over the choices of turn, (choices, choices) each."""
    ways = [ways_of(hoop, choices, most_waves(hoops)) for hoop in hoops]
    pairs = zip(ways[:-1], ways[1:], lines, strict=True)
    return [pair_costs(ahead, behind, line) for ahead, behind, line in pairs]


def estimate(costs: list[Floats], picks: tuple[int, ...]) -> float:
    """The estimate for one choice (by number) a hoop."""
    pairs = zip(costs, picks[:-1], picks[1:], strict=True)
    return float(sum(cost[here, there] for cost, here, there in pairs))


def best_picks(costs: list[Floats], first: int, worst: bool = False) -> tuple[int, ...]:
    """The choice a hoop that makes the estimate least (or, ``worst``, greatest), the first hoop's given.

    Exact, hoop by hoop from the last: with each hoop's choice the best of what follows is known.
    """
    sign = -1.0 if worst else 1.0
    ahead = np.zeros(costs[-1].shape[1])
    ways = []
    for cost in reversed(costs):
        totals = sign * cost + ahead
        ways.append(totals.argmin(axis=1))
        ahead = totals.min(axis=1)
    picks = [first]
    for way in reversed(ways):
        picks.append(int(way[picks[-1]]))
    return tuple(picks)
