"""Find the turns that make a net of bowed hoops pull most evenly: rank by estimate, solve the best few.

The measure of unevenness is the spread of tension around each section: the root mean square, over all bars
of the body, of the tension over its section's mean, less one.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np

from net3d.align.estimate import Floats, Turn, best_picks, estimate, section_costs
from net3d.netting import tie
from net3d.plan import lay_out
from net3d.plan.plan import HoopPlan, Plan
from net3d.spec.spec import NetSpec
from net3d.statics import settle

TRIES = 6  # ways of turning that are solved in full, besides in line and the worst


@dataclass(frozen=True)
class Trial:
    """One way of turning the hoops, solved in full."""

    turns: tuple[Turn, ...]
    estimate: float  # m^2
    unevenness: float  # root mean square of tension over the section's mean, less one
    tension_ratio: float  # largest over mean tension, of the worst section
    slack_share: float  # part of the body's bars that carry next to nothing
    looseness: float  # what a twentieth of the bars exceed, of the worst section


@dataclass(frozen=True)
class Alignment:
    """Reference marks in line, the best turns that were found, and the worst, side by side."""

    in_line: Trial
    best: Trial
    worst: Trial


def align(spec: NetSpec, flips: bool = False, announce: Callable[[str], None] | None = None) -> Alignment:
    """The turn of every hoop, in whole meshes, that makes the net pull most evenly.

    The first hoop stays as it is: to turn all hoops alike turns the net. With ``flips`` hoops may also be
    turned over. ``announce`` is called with a line before every solve.
    """
    tell = announce or (lambda text: None)
    plan = in_line(lay_out(spec))
    choices = all_turns(plan, flips)
    costs = section_costs(plan, choices)
    start = choices.index(Turn())
    first = best_picks(costs, start)
    line = (start,) * len(plan.hoops)
    ways = [line, best_picks(costs, start, worst=True), *near_best(costs, first, TRIES)]

    def trial(number: int) -> Trial:
        tell(f"Trying way {number + 1} of {len(ways)}")
        turns = tuple(choices[pick] for pick in ways[number])
        return try_turns(spec, plan, turns, estimate(costs, ways[number]))

    with ThreadPoolExecutor(2) as pool:
        trials = list(pool.map(trial, range(len(ways))))
    best = min([trials[0], *trials[2:]], key=lambda found: found.unevenness)
    return Alignment(trials[0], best, trials[1])


def in_line(plan: Plan) -> Plan:
    """A plan with every hoop's reference mark at the top, none flipped."""
    return replace(plan, hoops=tuple(replace(hoop, turn=0.0) for hoop in plan.hoops))


def all_turns(plan: Plan, flips: bool) -> tuple[Turn, ...]:
    """Every way to sew a hoop in on whole meshes; for hoops of unequal counts the fewest of them."""
    around = min(hoop.meshes_around for hoop in plan.hoops)
    sides = (False, True) if flips else (False,)
    return tuple(Turn(meshes, flipped) for flipped in sides for meshes in range(around))


def near_best(costs: list[Floats], best: tuple[int, ...], most: int) -> list[tuple[int, ...]]:
    """The best picks, and the next best by the estimate among those that differ at one hoop."""
    ways = {best}
    for hoop in range(1, len(best)):
        for pick in range(costs[0].shape[0]):
            ways.add((*best[:hoop], pick, *best[hoop + 1 :]))
    return sorted(ways, key=lambda way: estimate(costs, way))[:most]


def turn_hoop(hoop: HoopPlan, turn: Turn) -> HoopPlan:
    """A hoop sewn in another way."""
    bow = hoop.bow.flipped() if turn.flipped else hoop.bow
    oval = hoop.oval.mirrored() if turn.flipped else hoop.oval
    return replace(hoop, bow=bow, oval=oval, turn=turn.meshes * 2 * np.pi / hoop.meshes_around)


def try_turns(spec: NetSpec, plan: Plan, turns: tuple[Turn, ...], estimated: float) -> Trial:
    """Solve a net with its hoops turned so."""
    hoops = tuple(turn_hoop(hoop, turn) for hoop, turn in zip(plan.hoops, turns, strict=True))
    turned = replace(plan, hoops=hoops, throats=())
    netting = tie(spec, turned)
    shape = settle(netting, turned)
    sections = [shape.bar_tensions[netting.bars_of(section.part)] for section in turned.sections]
    return Trial(
        turns=turns,
        estimate=estimated,
        unevenness=unevenness(sections),
        tension_ratio=max(section.tension_max / section.tension_mean for section in shape.sections),
        slack_share=float(np.mean([section.slack_share for section in shape.sections])),
        looseness=max(section.looseness_twentieth for section in shape.sections),
    )


def unevenness(sections: list[Floats]) -> float:
    """Root mean square of tension over its section's mean, less one, over all sections' bars.

    >>> unevenness([np.array([1.0, 3.0]), np.array([2.0, 2.0])])
    0.3535533905932738
    """
    spreads = [np.mean((tensions / tensions.mean() - 1.0) ** 2) for tensions in sections]
    return float(np.sqrt(np.mean(spreads)))
