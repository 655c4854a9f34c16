"""How uneven a net of bowed hoops will pull, by first order, and the turns that make it least.

Diamond netting is two families of helical lines. A line that leaves one hoop at the angle t reaches the next,
n rows of bars on, at t + n pi / N or at t - n pi / N, and is stretched by the difference of the two hoops'
bows there. The sum of the squares of these stretches, over both families, all lines and all sections, is the
estimate: for waves W_m of the bow (complex, turned by the hoop's turn),

    sum over sections, families, m  of  |W_m' exp(+-i m n pi / N) - W_m|^2 / 2

It has a term for each pair of neighbours only, so that the best of all turns is found hoop by hoop.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.plan.bow import Waves
from net3d.plan.plan import Plan

Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]


@dataclass(frozen=True)
class Turn:
    """How a hoop is sewn in: turned clockwise by so many meshes, and whether it is flipped over first."""

    meshes: int = 0
    flipped: bool = False


def turned_phasors(waves: Waves, turns: tuple[Turn, ...], around: int, most: int) -> Complexes:
    """Waves of a hoop in the net's own angles, one row a turn (turns, most + 1) [m]."""
    numbers = np.arange(most + 1)
    ways = {flipped: (waves.flipped() if flipped else waves).phasors(most) for flipped in (False, True)}
    angles = np.array([turn.meshes for turn in turns]) * (2 * np.pi / around)
    phasors = np.array([ways[turn.flipped] for turn in turns])
    return np.asarray(phasors * np.exp(-1j * numbers * angles[:, None]))


def pair_costs(ahead: Complexes, behind: Complexes, shift: float) -> Floats:
    """Estimate for every turn of a hoop (a, m) against every turn of the next (b, m), (a, b) [m^2].

    ``shift`` is the angle n pi / N by which the lines of either family turn between the two [rad].

    >>> wave = Waves((2,), (0.01,), (0.0,)).phasors(2)[None]
    >>> pair_costs(wave, wave, 0.0).tolist()
    [[0.0]]
    """
    numbers = np.arange(ahead.shape[1])
    total = np.zeros((len(ahead), len(behind)))
    for sign in (1.0, -1.0):
        carried = behind * np.exp(1j * sign * numbers * shift)
        power = np.sum(np.abs(ahead) ** 2, axis=1)[:, None] + np.sum(np.abs(carried) ** 2, axis=1)
        total += (power - 2.0 * np.real(ahead @ carried.conj().T)) / 2.0
    return np.maximum(total, 0.0)


def section_costs(plan: Plan, choices: tuple[Turn, ...]) -> list[Floats]:
    """Pair costs of every section over the choices of turn, (choices, choices) each [m^2]."""
    most = max([2, *(number for hoop in plan.hoops for number in hoop.bow.numbers)])
    phasors = [turned_phasors(hoop.bow, choices, hoop.meshes_around, most) for hoop in plan.hoops]
    return [
        pair_costs(
            phasors[section.from_hoop - 1],
            phasors[section.to_hoop - 1],
            section.bar_rows * np.pi / plan.hoops[section.from_hoop - 1].meshes_around,
        )
        for section in plan.sections
    ]


def estimate(costs: list[Floats], picks: tuple[int, ...]) -> float:
    """The estimate for one choice (by number) a hoop [m^2]."""
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
