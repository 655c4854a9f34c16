"""One choice solved: quickly, to be compared, or in full, to be proposed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import IntEnum
from math import ceil
from typing import Any

import numpy as np

from net3d.chain import Design, design, sketch
from net3d.checks.checks import Finding, Level
from net3d.checks.every_check import check
from net3d.checks.throats import check_throats, wants_fitting
from net3d.errors import NetError, SpecError
from net3d.netting.netting import Floats
from net3d.propose.limits import Miss
from net3d.propose.roping import rope_length, roped
from net3d.propose.turning import is_bowed, turned
from net3d.shop.amounts import netting_mass
from net3d.shop.costing import price, shopping, work
from net3d.spec.spec import NetSpec
from net3d.spec.wanted import Wanted
from net3d.statics.profile import body_knots

GOALS = ("room", "light work", "little twine", "still in current", "even pull")
# What a throat does in still water: a current may hold it clear, so that only a full design rules it out.
IN_STILL_WATER = {
    "throat-lies-on-body",
    "throat-near-body",
    "throat-touches",
    "strings-loose",
    "strings-touch",
}
# What hoops that are not true do to the pull: only those turned by whole solves rule a net out.
BY_TURNS = {"bow-slack", "bow-uneven", "section-uneven", "section-slack", "section-loose"}


OFF = 1e-4  # part by which solves of the same shape differ


class Sure(IntEnum):
    """How sure it is that the throats of a net are fine, the surest first."""

    OVER_TOLERANCE = 0
    IF_FITTED = 1  # strings fitted to the net as it is tied
    IN_CURRENT = 2  # not in still water


@dataclass(frozen=True)
class Task:
    """A choice to be solved: its number, its tables, and whether in full."""

    number: int
    wanted: Wanted
    typed: Mapping[str, Any]
    full: bool


@dataclass(frozen=True)
class Trial:
    """What came of a choice: by every goal a number, the less the better, and what it misses."""

    number: int
    goals: Mapping[str, float] = field(default_factory=dict)
    misses: tuple[Miss, ...] = ()
    doubts: int = 0  # cautions
    sure: Sure = Sure.OVER_TOLERANCE
    numbers: Mapping[str, float | None] = field(default_factory=dict)
    design: Design | None = None
    typed: Mapping[str, Any] = field(default_factory=dict)  # the tables that were solved, hoops turned


def tried(task: Task) -> Trial:
    """Solve a choice, its hoops turned for the most even pull, and judge it."""
    try:
        tied, short = roped(task.wanted, task.typed)
        if short:
            return Trial(task.number, misses=(short,), typed=tied)
        typed = turned(task.wanted, tied, task.full)
        spec = task.wanted.net(typed)
        made = design(spec) if task.full else _sketched(spec)
    except SpecError as error:
        return Trial(task.number, misses=(Miss("rule", "; ".join(p.message for p in error.problems), 1.0),))
    except NetError as error:
        return Trial(task.number, misses=(Miss("rule", str(error), 1.0),))
    if not made.shape.at_rest:
        return Trial(task.number, misses=(Miss("not-at-rest", made.shape.state.sentence, 1.0),))
    failed = [one for one in made.findings if one.level is Level.FAIL]
    soft = set() if task.full else IN_STILL_WATER | (BY_TURNS if is_bowed(typed) else set())
    hard = [one for one in failed if one.code not in soft]
    numbers, unpriced = _numbers(made)
    misses = (*(_miss_of(one) for one in hard), *_bounds(task.wanted, numbers, unpriced))
    cautions = sum(one.level is Level.CAUTION for one in made.findings)
    goals = _goals(made, numbers)
    whole = made if task.full else None
    return Trial(task.number, goals, misses, cautions, _sure(made), numbers, whole, typed)


def _sure(made: Design) -> Sure:
    """By what is judged in still water, where a current may hold throats clear, and by the strings."""
    spec, plan, shape = made.spec, made.plan, made.shape
    if any(one.level is Level.FAIL for one in check_throats(spec, plan, shape)):
        return Sure.IN_CURRENT
    pairs = zip(plan.throats, shape.throats, strict=True)
    return Sure(any(wants_fitting(spec, *pair) for pair in pairs))


def _sketched(spec: NetSpec) -> Design:
    made = sketch(spec)
    if not made.shape.at_rest:
        return made
    return replace(made, findings=check(made.spec, made.plan, made.netting, made.shape))


def _miss_of(finding: Finding) -> Miss:
    by = abs(finding.value / finding.limit - 1) if finding.limit else abs(finding.value)
    return Miss(finding.code, finding.message, by if np.isfinite(by) else 1.0)


def _numbers(made: Design) -> tuple[dict[str, float | None], tuple[str, ...]]:
    """Hours, price and twine, as the quote has them, length and room, in SI; and what has no price."""
    done = work(made.spec, made.plan)
    asked = price(made.spec, done, shopping(made.spec, made.plan, made.string_lengths))
    numbers = {
        "hours": asked.hours,
        "spend": asked.price,
        "twine": netting_mass(made.plan),
        "rope": rope_length(made.spec, made.plan),
        "room": room_of(made),
        "length": float(made.shape.tail_end),
    }
    return numbers, asked.missing


def room_of(made: Design) -> float:
    """Room between the hoops [m^3]: areas within the rows of knots, row by row along the net."""
    knots = body_knots(made.netting)
    rings, places = made.netting.knot_rings[knots], made.shape.knot_positions[knots]
    order = np.argsort(rings, kind="stable")
    rows = np.split(places[order], np.flatnonzero(np.diff(rings[order])) + 1)
    middles = np.array([row[:, 0].mean() for row in rows])
    inside = np.flatnonzero(middles <= made.shape.hoop_positions[-1] + 1e-9)
    inside = inside[np.argsort(middles[inside])]
    return float(np.trapezoid([area_within(rows[row][:, 1:]) for row in inside], middles[inside]))


def area_within(knots: Floats) -> float:
    """Area of a row as its knots bound it, in any order: ``|sum y_i z_i+1 - y_i+1 z_i| / 2`` [m^2].

    Source: Gauss's formula for a polygon.

    >>> area_within(np.array([[1.0, 1], [-1, -1], [1, -1], [-1, 1]]))
    4.0
    """
    y, z = knots[np.argsort(np.arctan2(knots[:, 1], knots[:, 0]))].T
    return float(abs(y @ np.roll(z, -1) - z @ np.roll(y, -1)) / 2)


def _goals(made: Design, numbers: Mapping[str, float | None]) -> dict[str, float]:
    pieces = [(made.plan.twine_length, made.plan.twine.diameter)]
    pieces += [(one.twine_length, one.twine.diameter) for one in made.plan.throats]
    uneven = max(one.tension_max / max(one.tension_mean, 1e-12) for one in made.shape.sections)
    return {
        "room": -(numbers["room"] or 0.0),
        "light work": numbers["hours"] or 0.0,
        "little twine": numbers["twine"] or 0.0,
        "still in current": sum(length * thick for length, thick in pieces),
        "even pull": round(uneven, 3),
    }


def _bounds(wanted: Wanted, numbers: Mapping[str, float | None], unpriced: Sequence[str]) -> list[Miss]:
    """What the wanted list asks and no check looks at."""
    want, tape = wanted.want, wanted.tape
    found = []
    asked: tuple[tuple[str, float | None, Callable[[float], str]], ...] = (
        ("hours", want.hours, lambda value: f"{ceil(10 * value) / 10:g} hours of work"),
        ("spend", want.spend, lambda value: f"{tape.currency} {ceil(value)}"),
        ("twine", want.twine, lambda value: f"{tape.mass(value)} of twine"),
    )
    for key, most, told in asked:
        value = numbers[key]
        if most is not None and value is None:
            found.append(Miss(key, f"What it costs is not known: [prices] lacks {', '.join(unpriced)}.", 1.0))
        elif most is not None and value is not None and value > most:
            found.append(Miss(key, f"It takes {told(value)}; most is {told(most)}.", value / most - 1))
    return found


def front(trials: Sequence[Trial], goals: Sequence[str]) -> list[Trial]:
    """Those that no other beats: not worse in any goal, and better in one, by more than a solve is off.

    >>> one, other = Trial(0, {"room": -1.0}), Trial(1, {"room": -2.0})
    >>> [trial.number for trial in front([one, other], ["room"])]
    [1]
    """
    values = np.array([[trial.goals[goal] for goal in goals] for trial in trials]).reshape(len(trials), -1)
    off = OFF * np.abs(values)
    return [
        trial
        for trial, own, by in zip(trials, values, off, strict=True)
        if not ((values <= own + by).all(axis=1) & (values < own - by).any(axis=1)).any()
    ]
