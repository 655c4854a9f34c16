"""Ways of sewing in a net's hoops that are worth solving in full: turned, turned over, in another order."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from net3d.align.estimate import Turn, best_picks, estimate, most_waves, section_costs, turned_waves
from net3d.align.lines import Lines
from net3d.align.sequence import Orders, best_orders
from net3d.errors import SpecError
from net3d.plan import lay_out
from net3d.plan.lay_out import hoop_outline
from net3d.plan.plan import HoopPlan, Plan
from net3d.spec import vary
from net3d.spec.hoops import HoopSpec
from net3d.spec.spec import NetSpec

Floats = NDArray[np.float64]

TRIES = 6  # ways of turning that are solved in full because the estimate likes them
ORDERS = 4  # orders of hoops that are tried because the estimate likes them
TRIES_AN_ORDER = 3  # ways of turning that are solved for each
ALIKE = 1e-6  # m; hoops whose waves differ by less are sewn in alike
TWISTS = (1 / 8, 1 / 4, 1 / 2)  # turns of each hoop from the last, tried whatever the estimate says


@dataclass(frozen=True)
class Way:
    """One way of sewing in the hoops: which hoop where, and how it is turned."""

    order: tuple[int, ...]  # for every place the number of its hoop from 0, spare ones after the net's own
    turns: tuple[Turn, ...]
    estimate: float  # of the tightest pull over its section's mean


def ways_to_turn(spec: NetSpec, plan: Plan, lines: tuple[Lines, ...], flips: bool) -> list[Way]:
    """Ways to solve in full: in line, what the estimate likes, what it likes least, and plain twists.

    The estimate is good to about a tenth, so a way that it dislikes may turn out better than it says.
    """
    choices = all_turns(plan, flips)
    costs = section_costs(plan.hoops, lines, choices)
    start, hoops = choices.index(Turn()), range(len(plan.hoops))
    around = 1 + max(choice.meshes for choice in choices)
    twisted = [
        tuple(choices.index(Turn(round(hoop * twist * around) % around)) for hoop in hoops)
        for twist in TWISTS
    ]
    kept = [cost[:around, :around] for cost in costs]  # nothing turned over: those choices come first
    liked = [way for some in (kept, costs) for way in _liked(plan.hoops, choices, some, TRIES)]
    disliked = best_picks(costs, start, worst=True)
    picked = first_alike(plan.hoops, choices, [(start,) * len(hoops), *liked, disliked, *twisted])
    return [_way(as_they_stand(spec), choices, costs, picks) for picks in picked]


def likely_orders(spec: NetSpec, plan: Plan, lines: tuple[Lines, ...], flips: bool) -> Orders:
    """Orders of the net's and the spare hoops, other than as they stand, that the estimate likes best."""
    every = every_hoop(spec)
    allowed = np.array(
        [[may_stand(spec, place, number) for number in range(len(every))] for place in range(len(spec.hoops))]
    )
    hoops = tuple(
        _as_planned(plan.hoops[int(allowed[:, number].argmax())], hoop) for number, hoop in enumerate(every)
    )
    found = best_orders(hoops, allowed, lines, flips, ORDERS + 1)
    others = tuple(picks for picks in found.picks if picks != as_they_stand(spec))
    return Orders(others[:ORDERS], found.exact)


def _as_planned(place: HoopPlan, hoop: HoopSpec) -> HoopPlan:
    return replace(place, outline=hoop_outline(hoop, place.row.count))


def every_hoop(spec: NetSpec) -> tuple[HoopSpec, ...]:
    """The net's hoops, then those on the pile."""
    return (*spec.hoops, *spec.pile)


def as_they_stand(spec: NetSpec) -> tuple[int, ...]:
    """The numbers of the net's own hoops."""
    return tuple(range(len(spec.hoops)))


def may_stand(spec: NetSpec, place: int, number: int) -> bool:
    """Whether a hoop may take a place, both counted from 0: about as wide, and no rule is broken."""
    hoop, standing = every_hoop(spec)[number], spec.hoops[place]
    if number == place or abs(hoop.diameter - standing.diameter) > standing.within:
        return number == place
    return _allowed(spec, {f"hoop.{place + 1}": _key(spec, number)}) is not None


def ways_of_order(spec: NetSpec, order: tuple[int, ...], lines: tuple[Lines, ...], flips: bool) -> list[Way]:
    """Ways to turn the hoops that the estimate likes best in another order, to solve in full.

    None where hoops that may each take their place break a rule together.
    """
    ordered = _allowed(spec, _reordered(spec, order))
    if ordered is None:
        return []
    plan = lay_out(ordered)
    choices = all_turns(plan, flips)
    costs = section_costs(plan.hoops, lines, choices)
    liked = _liked(plan.hoops, choices, costs, TRIES_AN_ORDER)
    return [_way(order, choices, costs, picks) for picks in liked]


def _allowed(spec: NetSpec, changes: dict[str, object]) -> NetSpec | None:
    try:
        return vary(spec, changes)
    except SpecError:
        return None


def _key(spec: NetSpec, number: int) -> str:
    own = len(spec.hoops)
    return f"hoop.{number + 1}" if number < own else f"pile.{number - own + 1}"


def _reordered(spec: NetSpec, order: tuple[int, ...]) -> dict[str, object]:
    return {"hoop": [_key(spec, number) for number in order]}


def _liked(
    hoops: tuple[HoopPlan, ...], choices: tuple[Turn, ...], costs: list[Floats], most: int
) -> list[tuple[int, ...]]:
    """The picks that the estimate likes best, no two of them alike."""
    best = best_picks(costs, choices.index(Turn()))
    return first_alike(hoops, choices, near_best(costs, best))[:most]


def first_alike(
    hoops: tuple[HoopPlan, ...], choices: tuple[Turn, ...], ways: list[tuple[int, ...]]
) -> list[tuple[int, ...]]:
    """Picks with each choice put for the first that is the same to its hoop, every way once.

    A true hoop lies alike however it is turned, and an even saddle when it is turned by half.
    """
    most = most_waves(hoops)
    firsts = []
    for hoop in hoops:
        waves = turned_waves(hoop, choices, most)
        both = np.concatenate([waves.bow, waves.oval], axis=1)
        apart = np.abs(both[:, None] - both).max(axis=2)
        firsts.append((apart < ALIKE).argmax(axis=1))
    alike = [tuple(int(first[pick]) for first, pick in zip(firsts, way, strict=True)) for way in ways]
    return list(dict.fromkeys(alike))


def _way(
    order: tuple[int, ...], choices: tuple[Turn, ...], costs: list[Floats], picks: tuple[int, ...]
) -> Way:
    return Way(order, tuple(choices[pick] for pick in picks), estimate(costs, picks))


def all_turns(plan: Plan, flips: bool) -> tuple[Turn, ...]:
    """Every way to sew a hoop in on whole meshes; for hoops of unequal counts the fewest of them."""
    around = min(hoop.meshes_around for hoop in plan.hoops)
    sides = (False, True) if flips else (False,)
    return tuple(Turn(meshes, flipped) for flipped in sides for meshes in range(around))


def near_best(costs: list[Floats], best: tuple[int, ...]) -> list[tuple[int, ...]]:
    """The best picks and all that differ from them at one hoop, best first by the estimate [-]."""
    ways = {best}
    for hoop in range(1, len(best)):
        for pick in range(costs[0].shape[0]):
            ways.add((*best[:hoop], pick, *best[hoop + 1 :]))
    return sorted(ways, key=lambda way: estimate(costs, way))


def sewn_in(spec: NetSpec, way: Way) -> NetSpec:
    """The spec with its hoops sewn in that way."""
    turned = {
        f"hoop.{place}.{key}": value
        for place, turn in enumerate(way.turns, start=1)
        for key, value in (("turn", turn.meshes), ("flip", turn.flipped))
    }
    return vary(spec, _reordered(spec, way.order) | turned)
