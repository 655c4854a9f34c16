"""What is judged in two waters, still and flowing, told as one: by where the net works.

A throat that sags in still water may be held clear by the least current; what is wrong in still water alone
is then worth knowing, and does not spoil the net. Where the spec names a current, the net works in that, and
what fails there fails; where it names none, a net that is fine in either water has a water to work in.
"""

from __future__ import annotations

from dataclasses import replace
from math import dist, inf

from net3d.checks.checks import Finding, Level
from net3d.checks.grading import graded
from net3d.checks.opening import check_openings
from net3d.checks.throats import check_throats
from net3d.plan.plan import Plan, ThroatPlan
from net3d.spec.spec import NetSpec
from net3d.statics.shape import Shape, ThroatShape
from net3d.water.working import Working

LOOSE = "strings-loose"
LEVELS = (Level.OK, Level.CAUTION, Level.FAIL)


def check_throats_in(spec: NetSpec, plan: Plan, shape: Shape, working: Working | None) -> list[Finding]:
    """Findings of throats and their openings, in still water and where the net works."""
    still = check_throats(spec, plan, shape) + check_openings(spec, plan, shape)
    if working is None:
        return still
    flowing = check_throats(spec, plan, working.shape) + check_openings(spec, plan, working.shape)
    there = {(found.code, found.where): found for found in _held(spec, plan, flowing, working)}
    still = _swinging(spec, plan, still, (shape, working.shape))
    both = [_both(spec, found, there.pop((found.code, found.where), None), working) for found in still]
    return both + [_both(spec, None, found, working) for found in there.values()]


def _swinging(spec: NetSpec, plan: Plan, still: list[Finding], shapes: tuple[Shape, Shape]) -> list[Finding]:
    """Strings judged by what comes of them in still water: how far the tip swings there from the current.

    What they pull is its cause. Twine without weight hangs anywhere, so that there the pull decides.
    """
    if not spec.statics.weight:
        return still
    pairs = zip(plan.throats, *(shape.throats for shape in shapes), strict=True)
    swung = {planned.part.place: _swing(spec, planned, pair) for planned, *pair in pairs}
    return [_by_swing(spec, found, swung[found.where]) if found.code == LOOSE else found for found in still]


def _swing(spec: NetSpec, planned: ThroatPlan, shapes: list[ThroatShape]) -> tuple[float, str]:
    """How far a throat's tip swings from the one shape to the other, in bars, and that in words."""
    still, flowing = ([one.tip_position, *one.tip_middle] for one in shapes)
    tape, swing, drop = spec.tape, dist(still, flowing), -shapes[0].tip_middle[1]
    told = f"can swing {tape.length(swing)} as the water slackens"
    if drop >= tape.step:
        told += f", and hangs {tape.length(drop)} below the middle of the net then"
    return swing / planned.bar, told


def _by_swing(spec: NetSpec, found: Finding, swung: tuple[float, str]) -> Finding:
    bars, told = swung
    limit = replace(spec.limits.threshold("tip_swing"), fail=inf)  # in still water, where no net works
    name = found.where.capitalize()
    cause = "" if found.level is Level.OK else f"{found.message} "
    return graded(
        LOOSE, found.part or found.where, bars, limit, (f"{name}'s tip {told}.", f"{cause}Its tip {told}.")
    )


def _held(spec: NetSpec, plan: Plan, flowing: list[Finding], working: Working) -> list[Finding]:
    """Strings that are too long hold a throat that a current drags back, as long as it stays clear."""
    least = spec.limits.threshold("throat_room").fail
    clear = {
        f"throat {throat.number}": throat.clearance > least * planned.bar
        for planned, throat in zip(plan.throats, working.shape.throats, strict=True)
    }
    held = "The current drags its tip back, and holds it clear of the body."
    return [
        replace(found, level=Level.OK, message=held) if found.code == LOOSE and clear[found.where] else found
        for found in flowing
    ]


def _both(spec: NetSpec, still: Finding | None, flowing: Finding | None, working: Working) -> Finding:
    """One finding of what was found in two waters, with the number of the worse."""
    if still is None or flowing is None:
        (one,) = [found for found in (still, flowing) if found is not None]
        return one if one.level is Level.OK or still is None else replace(one, level=Level.CAUTION)
    ranks = [LEVELS.index(found.level) for found in (still, flowing)]
    if not any(ranks):
        return still
    least = ranks[1] if working.named else min(ranks)
    level = LEVELS[max(least, LEVELS.index(Level.CAUTION))]
    worse = still if ranks[0] > ranks[1] else flowing
    return replace(worse, level=level, message=_told(spec, still, flowing, working))


def _told(spec: NetSpec, still: Finding, flowing: Finding, working: Working) -> str:
    tape, current = spec.tape, working.current
    at = f"At {tape.speed(current)}" if working.named else f"In a slow current, {tape.rough_speed(current)}"
    if still.message == flowing.message:
        return still.message
    if Level.OK not in (still.level, flowing.level):
        return f"{flowing.message} In still water too."
    if still.level is Level.OK:
        return f"{at}: {flowing.message} In still water it is as it should be."
    return f"In still water: {still.message} {at}: {flowing.message}"
