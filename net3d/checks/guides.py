"""Whether wings and leader stand up in the current, keep their lead line down, and what holds their ends."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from net3d.checks.anchors import anchor_remedy
from net3d.checks.checks import Finding, Level
from net3d.checks.grading import graded
from net3d.spec.guides import GuideAnchor
from net3d.spec.spec import NetSpec
from net3d.water.guides import MATCHED, StandingWall, line_to_anchor
from net3d.water.holding import AnchorLine, holding_factor
from net3d.water.loads import Loads

UNKNOWN = " Name a current under [water] to be told how it stands there, and what mouth and stake bear."


def check_guides(spec: NetSpec, still: tuple[StandingWall, ...], rows: tuple[Loads, ...]) -> list[Finding]:
    """Findings of wings and leader in the current that the net is to stand in, or the fastest named.

    Parameters
    ----------
    spec : the net's
    still : as they stand in still water
    rows : loads in the currents that are named, slowest first
    """
    at = [row.guides for row in rows if row.current == spec.rigging.current] or [
        row.guides for row in rows[-1:]
    ]
    walls = at[0] if at else still
    return [finding for worst in _worst(walls) for finding in _findings(spec, worst)]


def _worst(walls: Iterable[StandingWall]) -> list[tuple[StandingWall, ...]]:
    """The sides of each guide together."""
    sides: dict[str, tuple[StandingWall, ...]] = {}
    for one in walls:
        name = one.wall.plan.part.name
        sides[name] = (*sides.get(name, ()), one)
    return list(sides.values())


def _findings(spec: NetSpec, sides: tuple[StandingWall, ...]) -> list[Finding]:
    if not all(one.still for one in sides):
        return [_unrest(spec, next(one for one in sides if not one.still))]
    found = [
        *_crossing(spec, sides[0]),
        _stands(spec, min(sides, key=lambda one: one.height)),
        _gap(spec, max(sides, key=lambda one: one.gap)),
    ]
    if not sides[0].current:  # what its ends bear in still water is nothing to build by
        return found
    return [
        *found,
        _twine(spec, max(sides, key=lambda one: one.twine_tension)),
        _line(spec, max(sides, key=lambda one: one.line_tension)),
        _held(spec, max(sides, key=lambda one: float(np.linalg.norm(one.stake_pull)))),
    ]


def _where(spec: NetSpec, one: StandingWall) -> str:
    return f"At {spec.tape.speed(one.current)}" if one.current else "In still water"


def _unrest(spec: NetSpec, one: StandingWall) -> Finding:
    message = f"{_where(spec, one)} {one.wall.name} does not come to rest: {one.lying.state.sentence}"
    part = one.wall.plan.part
    mismatch = min(one.mismatch, 1e6)
    return Finding(
        "guide-rest", Level.FAIL, part.place, message, mismatch, MATCHED, "common practice", part=part
    )


def _stands(spec: NetSpec, one: StandingWall) -> Finding:
    plan, limit = one.wall.plan, spec.limits.threshold("guide_stands")
    share = one.height / plan.height
    stood = f"{spec.tape.length(one.height)} of {spec.tape.length(plan.height)}"
    lift = spec.tape.force(plan.float_line.force)
    drag = spec.tape.force(float(np.linalg.norm(one.drag)))
    return graded(
        "guide-stands",
        plan.part,
        share,
        limit,
        (
            f"{_where(spec, one)} {one.wall.name} stands {stood} high.{'' if one.current else UNKNOWN}",
            f"{_where(spec, one)} {one.wall.name} is pressed down: it stands {stood} high. Its "
            f"{plan.float_line.pieces} floats lift {lift} together, and the river pulls with {drag}. More "
            "floats, with leads to match, hold it up, or set it more along the flow.",
        ),
    )


def _gap(spec: NetSpec, one: StandingWall) -> Finding:
    plan = one.wall.plan
    gap = spec.tape.length(one.gap)
    weight = spec.tape.mass(plan.lead_line.pieces * plan.lead_line.mass)
    return graded(
        "guide-gap",
        plan.part,
        one.gap / plan.spec.stretched,
        spec.limits.threshold("guide_gap"),
        (
            f"{_where(spec, one)} the lead line of {one.wall.name} keeps to the bottom.",
            f"{_where(spec, one)} the lead line of {one.wall.name} lifts off by up to {gap}, and fish pass "
            f"below it: its leads weigh {weight} together. Take heavier leads, or peg it down.",
        ),
    )


def _crossing(spec: NetSpec, one: StandingWall) -> list[Finding]:
    """Whether the line to an anchor of a wing leads over the middle, where fish and leader are."""
    plan = one.wall.plan
    if plan.spec.anchor is None or plan.spec.side == "middle":
        return []
    over = 0.0
    for station in one.wall.held[1:]:
        side = float(np.sign(station.places[0, 1]))
        over = max(over, -side * float(station.places[0, 1] + plan.anchor_reach * station.out[1]))
    if over <= 0.0:
        return []
    message = (
        f"{plan.part.title.capitalize()}: the line to an anchor, which lies where the netting is to be "
        f"drawn, runs {spec.tape.length(over)} over the middle, across the way of the fish. Drive stakes."
    )
    place, source = plan.part.place, "common practice, no source"
    return [Finding("guide-crossing", Level.CAUTION, place, message, over, 0.0, source, part=plan.part)]


def _twine(spec: NetSpec, one: StandingWall) -> Finding:
    plan, limit = one.wall.plan, spec.limits.threshold("twine_load")
    strength = plan.twine.wet_knotted_strength
    share, tension = one.twine_tension / strength, spec.tape.force(one.twine_tension)
    said = (
        f"{_where(spec, one)} a bar of {one.wall.name} carries up to {tension}, {share:.1%} of its strength"
    )
    return graded(
        "guide-twine",
        plan.part,
        share,
        limit,
        (f"{said}.", f"{said}. Take twine that breaks, wet and knotted, at {_needed(spec, one)} or more."),
    )


def _needed(spec: NetSpec, one: StandingWall) -> str:
    return spec.tape.force(one.twine_tension / spec.limits.threshold("twine_load").caution)


def _line(spec: NetSpec, one: StandingWall) -> Finding:
    plan, limit = one.wall.plan, spec.limits.threshold("line_hold")
    strength, line = float(one.wall.netting.bar_strengths[-1]), line_to_anchor(spec, one)
    tension = max(one.line_tension, line.tension if line else 0.0)
    factor = min(strength / max(tension, 1e-9), 1e6)
    said = (
        f"{_where(spec, one)} a line of {one.wall.name} is pulled with up to "
        f"{spec.tape.force(tension)} and breaks, wet and {spec.rigging.rope_ends}, at "
        f"{spec.tape.force(strength)}"
    )
    return graded(
        "guide-line",
        plan.part,
        factor,
        limit,
        (f"{said}.", f"{said}, {factor:.1f} times that. Take thicker rope, or leave it more slack."),
    )


def _held(spec: NetSpec, one: StandingWall) -> Finding:
    """What holds its far end: a second net, an anchor, a stake."""
    anchor, line = one.wall.plan.spec.anchor, line_to_anchor(spec, one)
    if one.wall.plan.spec.pair:
        return _between(spec, one)
    return _stake(spec, one) if anchor is None or line is None else _anchor(spec, one, anchor, line)


def _pulls(spec: NetSpec, one: StandingWall, what: str) -> str:
    """What it pulls its far end and the mouth with."""
    pull, mouth = (spec.tape.force(float(np.linalg.norm(one))) for one in (one.stake_pull, one.mouth_pull))
    return (
        f"{_where(spec, one)} {one.wall.name} pulls {what} with {pull} and the mouth with {mouth}, bellied "
        f"by {spec.tape.length(one.sag)}."
    )


def _between(spec: NetSpec, one: StandingWall) -> Finding:
    """What two nets hand each other through the leader between them: told, and judged by its lines."""
    limit, part = spec.limits.threshold("line_hold"), one.wall.plan.part
    message = (
        f"{_pulls(spec, one, 'the mouth of the second net')} Where its lines draw the two nets straight they "
        f"bear {spec.tape.force(one.handed)} together."
    )
    strength = 2 * float(one.wall.netting.bar_strengths[-1])
    return Finding("guide-pair", Level.OK, part.place, message, one.handed, strength, limit.source, part=part)


def _anchor(spec: NetSpec, one: StandingWall, anchor: GuideAnchor, line: AnchorLine) -> Finding:
    """Whether the anchor that bears most holds, by what its kind holds at the least on the bottom."""
    limit, bottom, part = spec.limits.threshold("anchor_hold"), spec.water.bottom, one.wall.plan.part
    pull = max(line.pull, 1e-9)
    factor = holding_factor(pull, line.rise, (anchor.type, bottom, anchor.weight))
    remedy = anchor_remedy(spec, anchor.type, pull, line)
    name = f"the {anchor.type} of {spec.tape.mass(anchor.weight)} on {bottom}"
    said = _pulls(spec, one, "a pole")
    bad = f"{said} {name.capitalize()} holds {factor or 0.0:.1f} times that at the least. {remedy}"
    if factor is None:
        bad = f"{said} A {anchor.type} has no hold on {bottom} to be relied on. {remedy}"
    good = f"{said} {name.capitalize()} holds {factor or 0.0:.1f} times that."
    return graded("guide-anchor", part, min(factor or 0.0, 1e6), limit, (good, bad))


def _stake(spec: NetSpec, one: StandingWall) -> Finding:
    """What its stake is pulled with; judged where the maker has tried what it holds."""
    plan, limit = one.wall.plan, spec.limits.threshold("anchor_hold")
    pull = float(np.linalg.norm(one.stake_pull))
    said = _pulls(spec, one, "its stake" if plan.holds == 1 else "a stake")
    tried = spec.tape.force(limit.caution * pull)
    if plan.spec.stake_holds is None:
        message = f"{said} Try the stake with {tried} before you trust it."
        place = plan.part.place
        return Finding(
            "guide-stake", Level.OK, place, message, pull, limit.caution * pull, limit.source, part=plan.part
        )
    factor = min(plan.spec.stake_holds / max(pull, 1e-9), 1e6)
    return graded(
        "guide-stake",
        plan.part,
        factor,
        limit,
        (
            f"{said} It holds {factor:.1f} times that.",
            f"{said} It was tried with {spec.tape.force(plan.spec.stake_holds)}, {factor:.1f} times that: "
            f"drive one that holds {tried}, or leave the lines more slack.",
        ),
    )
