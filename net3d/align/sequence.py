"""Which hoop goes where: the orders of hoops that the estimate likes best.

The estimate of two neighbours depends on how one is turned against the other only, so each pair has its best
turn whatever stands elsewhere. What is left is to choose a hoop for every place, each once. Place by place,
of all ways to use the same hoops that end in the same hoop only the best can be part of the best order.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.align.estimate import Turn, Ways, most_waves, pair_costs, ways_of
from net3d.align.lines import Lines
from net3d.plan.plan import HoopPlan

Floats = NDArray[np.float64]
Way = tuple[float, tuple[int, ...]]  # estimate so far, hoops so far
WaysOn = dict[tuple[int, int], Way]  # by the set of hoops used, as bits, and how the last was sewn in
MOST_WAYS = 20_000  # followed from place to place; with a dozen hoops no net has so many


@dataclass(frozen=True)
class Orders:
    """Hoops, by number, for every place, best first; and whether no way was left out."""

    picks: tuple[tuple[int, ...], ...]
    exact: bool


def best_orders(
    hoops: tuple[HoopPlan, ...], allowed: NDArray[np.bool_], lines: tuple[Lines, ...], flips: bool, most: int
) -> Orders:
    """The orders that the estimate likes best, at their best turns; at most one for the same last hoop.

    Parameters: ``hoops`` every hoop there is, its mark at the top; ``allowed`` (places, hoops) which may go
    where; ``lines`` of the sections between the places; ``flips`` whether hoops may be turned over; ``most``
    how many orders to give.
    """
    sides = (Turn(), Turn(flipped=True)) if flips else (Turn(),)
    states = [(hoop, side) for hoop in range(len(hoops)) for side in range(len(sides))]
    ways: WaysOn = {
        (1 << hoop, state): (0.0, (hoop,)) for state, (hoop, _) in enumerate(states) if allowed[0, hoop]
    }
    exact = True
    for place, line in enumerate(lines, start=1):
        ways = _one_place_on(ways, states, allowed[place], _least_costs(hoops, sides, line))
        exact = exact and len(ways) <= MOST_WAYS
        ways = dict(sorted(ways.items(), key=lambda way: way[1][0])[:MOST_WAYS])
    ranked = sorted(ways.values())
    return Orders(tuple(dict.fromkeys(picks for _, picks in ranked))[:most], exact)


def _one_place_on(
    ways: WaysOn, states: list[tuple[int, int]], allowed: NDArray[np.bool_], costs: Floats
) -> WaysOn:
    """The best way to every set of hoops used and last hoop, with one more place filled."""
    onward: WaysOn = {}
    for (used, last), (cost, picks) in ways.items():
        for state, (hoop, _) in enumerate(states):
            if not allowed[hoop] or used >> hoop & 1:
                continue
            way = (cost + costs[last, state], (*picks, hoop))
            key = (used | 1 << hoop, state)
            if key not in onward or way < onward[key]:
                onward[key] = way
    return onward


def _least_costs(hoops: tuple[HoopPlan, ...], sides: tuple[Turn, ...], lines: Lines) -> Floats:
    """Estimate of every hoop ahead of every other, turned as they suit each other best (states, states)."""
    most = most_waves(hoops)
    ahead = [ways_of(hoop, sides, most) for hoop in hoops]
    costs = np.empty((len(hoops) * len(sides),) * 2)
    all_ahead = Ways(
        np.concatenate([ways.bow for ways in ahead]), np.concatenate([ways.oval for ways in ahead])
    )
    for number, hoop in enumerate(hoops):
        for side, turned in enumerate(sides):
            turns = tuple(Turn(mesh, turned.flipped) for mesh in range(hoop.meshes_around))
            least = pair_costs(all_ahead, ways_of(hoop, turns, most), lines).min(axis=1)
            costs[:, number * len(sides) + side] = least
    return costs
