"""The search: choices in a fixed order, the likeliest of every kind first, solved in rounds that double."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest
from math import log

from net3d.chain import Design
from net3d.errors import EngineError
from net3d.many.engine import Engine, answers
from net3d.propose.choices import Choice, choices_of
from net3d.propose.limits import Miss, Ruled, early_miss, least_knots, usable_hoops, usable_meshes
from net3d.propose.trial import Task, Trial, front, tried
from net3d.spec.wanted import Hand, Wanted

MOST, LEAST = 5, 3  # proposals
GAIN = 0.02  # part by which two nets differ before it is told
FIRST = 6  # choices of the first round
CHECKED = 4  # times that others are checked in full, where some fail, before more are looked at
SOLVED = 400  # choices that are solved at most
COUNTED = 60_000  # choices that are counted out at most
NO_CHOICE = (
    "These hoops and meshes join to no net: they differ too much in size to be joined by the netting, or no "
    "throat of two meshes and more fits between them."
)


@dataclass(frozen=True)
class Proposal:
    """A net to begin from: its choice, its design with every check, what it is best in."""

    choice: Choice
    trial: Trial
    design: Design
    best: tuple[str, ...]  # goals that no other proposal comes up to
    left: tuple[Hand, ...]  # hoops of the pile that it leaves


@dataclass
class Proposals:
    """What was found, what was ruled out and by what, and how far the search came."""

    wanted: Wanted
    found: tuple[Proposal, ...] = ()
    ruled: Ruled = field(default_factory=Ruled)
    counted: int = 0  # choices that keep the limits as far as arithmetic tells
    solved: int = 0
    trials: dict[int, Trial] = field(default_factory=dict)
    ended: str = ""  # what ended the search before all choices were solved
    said: str = "Counting out what can be made"  # how far it is

    @property
    def front(self) -> list[Trial]:
        """The nets that keep all limits and that no other beats in what matters."""
        sound = [trial for trial in self.trials.values() if trial.goals and not trial.misses]
        return front(sorted(sound, key=lambda trial: trial.number), self.wanted.want.goals)

    @property
    def hindrances(self) -> list[Miss]:
        """The limits that ruled most out first, each with the net that came nearest to it."""
        order = sorted(self.ruled.counts, key=lambda code: (-self.ruled.counts[code], code))
        return [self.ruled.nearest[code] for code in order]


Tell = Callable[[Proposals], None]


def propose(
    wanted: Wanted, engine: Engine, seconds: float = 60.0, tell: Tell = lambda result: None
) -> Proposals:
    """Three to five nets of what is at hand that differ in kind and keep every limit and check.

    The same list gives the same nets, unless time ends the search first.

    Parameters
    ----------
    seconds : after which no new choice is solved [s]
    tell : told how far the search is; it may interrupt it as Ctrl-C does
    """
    result, until = Proposals(wanted), time.monotonic() + seconds
    choices = _in_order(wanted, _kept(wanted, result))
    result.counted = len(choices)
    try:
        for begin, end in _rounds(min(len(choices), SOLVED)):
            for trial in _solved(wanted, engine, choices, (range(begin, end), False, until)):
                result.trials[trial.number] = trial
                result.solved += 1
                result.said = (
                    f"{result.solved} of {min(len(choices), SOLVED)} nets, {len(result.found)} proposed"
                )
                tell(result)
            _verify(result, engine, choices, tell)
            if time.monotonic() > until and end < len(choices):
                result.ended = "time"
                break
    except KeyboardInterrupt:
        result.ended = "interrupt"
    for trial in result.trials.values():
        for miss in trial.misses:
            result.ruled.note(miss, dict(trial.typed) or choices[trial.number].typed(_netting(wanted)))
    return result


def _kept(wanted: Wanted, result: Proposals) -> list[Choice]:
    """The choices that arithmetic does not rule out."""
    ruled, twine = result.ruled, wanted.own_twine
    meshes, hoops = usable_meshes(wanted, ruled), usable_hoops(wanted, ruled)
    if len(hoops) < max(wanted.want.hoops_min, 2):
        message = (
            f"{len(hoops)} hoops can be used, and {max(wanted.want.hoops_min, 2)} are the fewest for a net."
        )
        ruled.note(Miss("too-few-hoops", message, 1.0))
    kept = []
    for number, choice in enumerate(choices_of(wanted, meshes, hoops)):
        if number >= COUNTED:
            break
        miss = early_miss(wanted, choice, twine.mass_per_length)
        if miss is None:
            kept.append(choice)
        else:
            ruled.note(miss, choice.typed(_netting(wanted)))
    if meshes and len(hoops) >= 2 and not kept and not ruled.counts:
        ruled.note(
            Miss(
                "no-choice",
                NO_CHOICE,
                1.0,
            )
        )
    return kept


def _netting(wanted: Wanted) -> dict[str, object]:
    return dict(wanted.source.typed["netting"])


def _in_order(wanted: Wanted, choices: Iterable[Choice]) -> list[Choice]:
    """One choice of every kind in turn, the likeliest of its kind first."""
    kinds: dict[tuple[object, ...], list[Choice]] = {}
    for choice in choices:
        kinds.setdefault(choice.kind, []).append(choice)
    for alike in kinds.values():
        alike.sort(key=lambda choice: _likely(wanted, choice))
    turns = zip_longest(*sorted(kinds.values(), key=lambda alike: _likely(wanted, alike[0])))
    return [choice for turn in turns for choice in turn if choice is not None]


def _likely(wanted: Wanted, choice: Choice) -> float:
    """How well a choice does by arithmetic, the less the better: logarithms of room and of knots."""
    length, waist = choice.section
    room = log(length * waist * choice.hoops[0].diameter * (len(choice.hoops) - 1))
    work = log(max(least_knots(choice), 1))
    goals = set(wanted.want.goals)
    heavy = bool(goals & {"light work", "little twine", "still in current"})
    return work * heavy - room * ("room" in goals or not heavy)


def _rounds(count: int) -> Iterator[tuple[int, int]]:
    """Ever more at a time, so that first proposals come soon.

    >>> list(_rounds(100))
    [(0, 6), (6, 18), (18, 42), (42, 90), (90, 100)]
    """
    begin, size = 0, FIRST
    while begin < count:
        yield begin, min(begin + size, count)
        begin, size = begin + size, 2 * size


def _solved(
    wanted: Wanted, engine: Engine, choices: Sequence[Choice], what: tuple[Iterable[int], bool, float]
) -> Iterator[Trial]:
    """Trials of choices by their numbers; none is begun after its time."""
    numbers, full, until = what

    def tasks() -> Iterator[Task]:
        for number in numbers:
            if time.monotonic() > until and number >= FIRST:
                return
            yield Task(number, wanted, choices[number].typed(_netting(wanted)), full)

    for task, trial in answers(engine, tried, tasks()):
        if isinstance(trial, EngineError):
            yield Trial(task.number, misses=(Miss("lost", str(trial), 1.0),))
        else:
            yield trial


def _verify(result: Proposals, engine: Engine, choices: Sequence[Choice], tell: Tell) -> None:
    """Work the likeliest of the front out in full, others where some do not hold, and keep those that do."""
    full: dict[int, Trial] = {number: t for number, t in result.trials.items() if t.design is not None}
    for _ in range(CHECKED):
        picked = thinned(result, choices)
        fresh = [trial.number for trial in picked if trial.number not in full]
        if not fresh:
            break
        result.said = "Checking what was found"
        for trial in _solved(result.wanted, engine, choices, (fresh, True, float("inf"))):
            tell(result)
            full[trial.number] = result.trials[trial.number] = trial
    held = [full[trial.number] for trial in thinned(result, choices) if trial.number in full]
    if held:
        result.found = _proposals(result, held, choices)


def thinned(result: Proposals, choices: Sequence[Choice]) -> list[Trial]:
    """Of the front the best by every goal, then those of another kind in two ways, the best all round first.

    Where these are fewer than three, those of another kind in one way too. Among nets that are as good as the
    best of a goal within what is told, and among those of another kind, the surest go first: fine over the
    tolerance, then fine if fitted, then fine in a current only.
    """
    goals = result.wanted.want.goals
    sound = sorted((t for t in result.trials.values() if t.goals and not t.misses), key=lambda t: t.number)
    if not sound:
        return []
    best = result.front
    spread = {goal: (min(t.goals[goal] for t in best), max(t.goals[goal] for t in best)) for goal in goals}

    def all_round(trial: Trial) -> tuple[int, float, int, int]:
        shares = ((trial.goals[g] - low) / (high - low or 1.0) for g, (low, high) in spread.items())
        return trial.sure, sum(shares) + 0.1 * trial.doubts, trial.doubts, trial.number

    leaders = []
    for goal in goals:
        most = spread[goal][0] + GAIN * abs(spread[goal][0])
        near = [trial for trial in sound if trial.goals[goal] <= most]
        surest = min(trial.sure for trial in near)
        able = [trial for trial in near if trial.sure == surest]
        leaders.append(min(able, key=lambda t, g=goal: (t.goals[g], *all_round(t))))  # type: ignore[misc]
    ranked = [*sorted(best, key=all_round), *sorted(sound, key=all_round)]
    picked: list[Trial] = []
    for trials, ways, most in ((leaders, 1, MOST - 1), (ranked, 2, MOST), (ranked, 1, LEAST)):
        for trial in trials:
            kinds = [choices[other.number].kind for other in picked]
            if len(picked) < most and all(apart(choices[trial.number].kind, kind) >= ways for kind in kinds):
                picked.append(trial)
    return picked


def apart(kind: tuple[object, ...], other: tuple[object, ...]) -> int:
    """In how many ways two kinds differ: hoops, mesh, throats, how close the hoops stand.

    >>> apart((5, 0.1, (), True), (4, 0.1, (), False))
    2
    """
    return sum(one != two for one, two in zip(kind, other, strict=True))


def _proposals(result: Proposals, trials: Sequence[Trial], choices: Sequence[Choice]) -> tuple[Proposal, ...]:
    goals = result.wanted.want.goals
    least = {goal: min((t.goals[goal] for t in trials), default=0.0) for goal in goals}
    found = []
    for trial in trials:
        choice = choices[trial.number]
        left = list(result.wanted.hoops)
        for hoop in choice.hoops:
            left.remove(hoop)
        best = tuple(goal for goal in goals if trial.goals[goal] <= least[goal])
        if trial.design is not None:
            found.append(Proposal(choice, trial, trial.design, best, tuple(left)))
    return tuple(found)
