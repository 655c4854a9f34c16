"""Which hoop goes where: the orders of hoops that the estimate likes best.

The estimate of two neighbours depends on how one is turned against the other only, so each pair has its best
turn whatever stands elsewhere. What is left is to choose a hoop for every place, each once. Place by place,
of all ways to use the same hoops that end in the same hoop only the best can be part of the best order.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.align.estimate import Turn, TurnedWaves, most_waves, pair_costs, turned_waves
from net3d.align.lines import Lines
from net3d.plan.plan import HoopPlan

Floats = NDArray[np.float64]
# Orders begun: estimate and hoops so far, by the set of hoops used (as bits) and how the last was sewn in.
Begun = dict[tuple[int, int], tuple[float, tuple[int, ...]]]
MOST_BEGUN = 20_000  # followed from place to place; with a dozen hoops no net has so many


@dataclass(frozen=True)
class Orders:
    """Hoops, by number, for every place, best first; and whether no way was left out."""

    picks: tuple[tuple[int, ...], ...]
    exact: bool


def best_orders(
    hoops: tuple[HoopPlan, ...], allowed: NDArray[np.bool_], lines: tuple[Lines, ...], flips: bool, most: int
) -> Orders:
    """The orders that the estimate likes best, at their best turns; at most one for the same last hoop.

    Parameters
    ----------
    hoops : every hoop there is, its mark at the top
    allowed : which may go where (places, hoops) [-]
    lines : of the sections between the places
    flips : whether hoops may be turned over
    most : how many orders to give
    """
    sides = (Turn(), Turn(flipped=True)) if flips else (Turn(),)
    states = [(hoop, side) for hoop in range(len(hoops)) for side in range(len(sides))]
    begun: Begun = {
        (1 << hoop, state): (0.0, (hoop,)) for state, (hoop, _) in enumerate(states) if allowed[0, hoop]
    }
    exact = True
    for place, line in enumerate(lines, start=1):
        begun = _one_place_on(begun, states, allowed[place], _least_costs(hoops, sides, line))
        exact = exact and len(begun) <= MOST_BEGUN
        begun = dict(sorted(begun.items(), key=lambda order: order[1][0])[:MOST_BEGUN])
    ranked = sorted(begun.values())
    return Orders(tuple(dict.fromkeys(picks for _, picks in ranked))[:most], exact)


def _one_place_on(
    begun: Begun, states: list[tuple[int, int]], allowed: NDArray[np.bool_], costs: Floats
) -> Begun:
    """The best way to every set of hoops used and last hoop, with one more place filled."""
    onward: Begun = {}
    for (used, last), (cost, picks) in begun.items():
        for state, (hoop, _) in enumerate(states):
            if not allowed[hoop] or used >> hoop & 1:
                continue
            order = (cost + costs[last, state], (*picks, hoop))
            key = (used | 1 << hoop, state)
            if key not in onward or order < onward[key]:
                onward[key] = order
    return onward


def _least_costs(hoops: tuple[HoopPlan, ...], sides: tuple[Turn, ...], lines: Lines) -> Floats:
    """Estimate of every hoop ahead of every other, turned as they suit each other best (states, states)."""
    most = most_waves(hoops)
    ahead = [turned_waves(hoop, sides, most) for hoop in hoops]
    costs = np.empty((len(hoops) * len(sides),) * 2)
    all_ahead = TurnedWaves(
        np.concatenate([waves.bow for waves in ahead]), np.concatenate([waves.oval for waves in ahead])
    )
    for number, hoop in enumerate(hoops):
        for side, turned in enumerate(sides):
            turns = tuple(Turn(mesh, turned.flipped) for mesh in range(hoop.meshes_around))
            least = pair_costs(all_ahead, turned_waves(hoop, turns, most), lines).min(axis=1)
            costs[:, number * len(sides) + side] = least
    return costs
