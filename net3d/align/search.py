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
from net3d.errors import Problem, ShapeError, SpecError
from net3d.netting import tie
from net3d.plan import lay_out
from net3d.plan.plan import HoopPlan, Plan
from net3d.spec.spec import NetSpec
from net3d.statics import settle
from net3d.statics.shape import EndState

TRIES = 6  # ways of turning that are solved in full because the estimate likes them
TWISTS = (1 / 8, 1 / 4, 1 / 2)  # turns of each hoop from the last, tried whatever the estimate says


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
    """Reference marks in line, the best turns that were found, and the worst tried, side by side."""

    in_line: Trial
    best: Trial
    worst: Trial
    tried: int  # ways that were solved in full


def align(spec: NetSpec, flips: bool = False, announce: Callable[[str], None] | None = None) -> Alignment:
    """The turn of every hoop, in whole meshes, that makes the net pull most evenly.

    The first hoop stays as it is: to turn all hoops alike turns the net. With ``flips`` hoops may also be
    turned over. Turns and flips that the spec gives are forgotten first; throats are left out. ``announce``
    is called with a line before every solve. Raises SpecError where no hoop was measured, ShapeError where
    the net does not come to rest.
    """
    tell = announce or (lambda text: None)
    spec = marks_in_line(spec)
    plan = lay_out(spec)
    choices = all_turns(plan, flips)
    costs = section_costs(plan, choices)
    ways = ways_to_try(costs, choices)

    def trial(number: int) -> Trial:
        tell(f"Trying way {number + 1} of {len(ways)}")
        turns = tuple(choices[pick] for pick in ways[number])
        return try_turns(spec, plan, turns, estimate(costs, ways[number]))

    with ThreadPoolExecutor(2) as pool:
        trials = list(pool.map(trial, range(len(ways))))
    ranked = sorted(trials, key=lambda found: found.unevenness)
    return Alignment(trials[0], ranked[0], ranked[-1], len(trials))


def marks_in_line(spec: NetSpec) -> NetSpec:
    """A spec with every hoop's reference mark at the top, none flipped; SpecError where none was measured."""
    if not any(hoop.gaps or hoop.across for hoop in spec.hoops):
        raise SpecError(
            spec.source.name,
            (
                Problem(
                    "hoop",
                    "no hoop has gaps or across, so all are flat and round and lie alike however they are "
                    "turned. Measure them (net3d gauge says how) and write gaps = [..] into [[hoop]]",
                ),
            ),
        )
    hoops = tuple(hoop.model_copy(update={"turn": 0, "flip": False}) for hoop in spec.hoops)
    return spec.model_copy(update={"hoops": hoops})


def ways_to_try(costs: list[Floats], choices: tuple[Turn, ...]) -> list[tuple[int, ...]]:
    """Picks to solve in full: in line, what the estimate likes, what it likes least, and plain twists.

    The estimate knows small bows only, so a way that it dislikes may turn out better than it says.
    """
    start, hoops = choices.index(Turn()), range(len(costs) + 1)
    around = 1 + max(choice.meshes for choice in choices)
    twisted = [
        tuple(choices.index(Turn(round(hoop * twist * around) % around)) for hoop in hoops)
        for twist in TWISTS
    ]
    kept = [cost[:around, :around] for cost in costs]  # nothing turned over: those choices come first
    liked = [way for some in (kept, costs) for way in near_best(some, best_picks(some, start), TRIES)]
    disliked = best_picks(costs, start, worst=True)
    return list(dict.fromkeys([(start,) * len(hoops), *liked, disliked, *twisted]))


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
    if shape.state not in {EndState.SETTLED, EndState.SETTLED_LOOSELY}:
        raise ShapeError(f"{shape.state.sentence} There are no tensions to compare: see net3d check.")
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
