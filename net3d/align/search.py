"""Find how to sew in bowed hoops so that a net pulls most evenly: rank by estimate, solve the best few.

The measure of unevenness is the spread of tension around each section: the root mean square, over all bars
of the body, of the tension over its section's mean, less one.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.align.lines import lines_of
from net3d.align.sequence import Orders
from net3d.align.ways import Way, likely_orders, sewn_in, ways_of_order, ways_to_turn
from net3d.errors import Problem, ShapeError, SpecError
from net3d.netting import tie
from net3d.plan import lay_out
from net3d.plan.plan import HoopPlan
from net3d.spec import vary
from net3d.spec.spec import NetSpec
from net3d.statics import settle
from net3d.statics.shape import EndState

Floats = NDArray[np.float64]

MOST_HOOPS = 40  # that may change places


@dataclass(frozen=True)
class Trial:
    """One way of sewing in the hoops, solved in full."""

    way: Way
    hoops: tuple[HoopPlan, ...]
    unevenness: float  # root mean square of tension over the section's mean, less one
    tension_ratio: float  # largest over mean tension, of the worst section
    slack_share: float  # part of the body's bars that carry next to nothing
    looseness: float  # what a twentieth of the bars exceed, of the worst section


@dataclass(frozen=True)
class Alignment:
    """Reference marks in line, the best ways that were found, and the worst tried, side by side."""

    in_line: Trial
    best: Trial  # every hoop in its own place
    reordered: Trial | None  # the best of all, where hoops may change places
    worst: Trial
    tried: int  # ways that were solved in full
    exact: bool = True  # whether the estimate looked at every order


def align(
    spec: NetSpec, flips: bool = False, order: bool = False, announce: Callable[[str], None] | None = None
) -> Alignment:
    """The turn of every hoop, in whole meshes, that makes the net pull most evenly.

    The first hoop stays as it is: to turn all hoops alike turns the net. With ``flips`` hoops may also be
    turned over; with ``order`` they may change places, with each other and with those on the pile, as far as
    their diameters allow. Turns and flips that the spec gives are forgotten first; throats are left out.
    ``announce`` is called with a line before every solve. Raises SpecError where no hoop was measured, or too
    many may change places, ShapeError where the net does not come to rest.
    """
    tell = announce or (lambda text: None)
    spec = bare_body(spec, order)
    plan = lay_out(spec)
    lines = lines_of(spec, plan)
    ways = ways_to_turn(spec, plan, lines, flips)
    orders = likely_orders(spec, plan, lines, flips) if order else Orders((), exact=True)
    changed = [way for hoops in orders.picks for way in ways_of_order(spec, hoops, lines, flips)]

    def trial(number: int, way: Way) -> Trial | None:
        tell(f"Trying way {number} of {len(ways) + len(changed)}")
        return try_way(spec, way)

    trials = [trial(number, way) for number, way in enumerate([*ways, *changed], start=1)]
    return _compared(trials[: len(ways)], trials[len(ways) :], orders.exact)


def _compared(kept: list[Trial | None], changed: list[Trial | None], exact: bool) -> Alignment:
    in_line = kept[0]
    if in_line is None:
        raise ShapeError("With its hoops' marks in line the net does not come to rest: see net3d check.")
    at_rest = [trial for trial in kept if trial is not None]
    best = min(at_rest, key=_worst_first)
    others = [trial for trial in changed if trial is not None]
    everything = [*at_rest, *others]
    return Alignment(
        in_line,
        best,
        min([best, *others], key=_worst_first) if changed else None,
        max(everything, key=_worst_first),
        len(everything),
        exact,
    )


def _worst_first(trial: Trial) -> tuple[float, float]:
    """What a way is judged by: the figure that the checks fail on, then how evenly all of it pulls."""
    return trial.tension_ratio, trial.unevenness


def bare_body(spec: NetSpec, order: bool = False) -> NetSpec:
    """The body of a net, every hoop's mark at the top, none flipped; SpecError where none was measured."""
    measured = [*spec.hoops, *(spec.pile if order else ())]
    if not any(hoop.gaps or hoop.across for hoop in measured):
        problem = Problem(
            "hoop",
            "no hoop has gaps or across, so all are flat and round and lie alike however they are "
            "turned. Measure them (net3d gauge says how) and write gaps = [..] into [[hoop]]",
        )
        raise SpecError(spec.source.name, (problem,))
    if any(hoop.frame for hoop in spec.hoops):
        problem = Problem("hoop", "net3d align turns round hoops only, and this net has frames")
        raise SpecError(spec.source.name, (problem,))
    if order and len(measured) > MOST_HOOPS:
        problem = Problem(
            "pile",
            f"{len(measured)} hoops, those of the net and the spare ones together, are more than net3d finds "
            f"an order for: at most {MOST_HOOPS} are allowed. Leave out of [[pile]] what fits nowhere",
        )
        raise SpecError(spec.source.name, (problem,))
    turns = {f"hoop.{hoop}.{key}": None for hoop in range(1, len(spec.hoops) + 1) for key in ("turn", "flip")}
    return vary(spec, {"throat": None} | turns)


def try_way(spec: NetSpec, way: Way) -> Trial | None:
    """Solve the body of a net with its hoops sewn in that way; None where it does not come to rest."""
    spec = sewn_in(spec, way)
    plan = lay_out(spec)
    netting = tie(spec, plan)
    shape = settle(netting, plan)
    if shape.state not in {EndState.SETTLED, EndState.SETTLED_LOOSELY}:
        return None
    sections = [shape.bar_tensions[netting.bars_of(section.part)] for section in plan.sections]
    return Trial(
        way=way,
        hoops=plan.hoops,
        unevenness=unevenness(sections),
        tension_ratio=max(section.tension_max / section.tension_mean for section in shape.sections),
        slack_share=float(np.mean([section.slack_share for section in shape.sections])),
        looseness=max(section.looseness_twentieth for section in shape.sections),
    )


def unevenness(sections: list[Floats]) -> float:
    """Root mean square of tension over its section's mean, less one, over all sections' bars [-].

    >>> unevenness([np.array([1.0, 3.0]), np.array([2.0, 2.0])])
    0.3535533905932738
    """
    spreads = [np.mean((tensions / tensions.mean() - 1.0) ** 2) for tensions in sections]
    return float(np.sqrt(np.mean(spreads)))
