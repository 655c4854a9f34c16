"""Whether all of the netting is under tension, evenly, and its twine strong enough."""

from __future__ import annotations

from math import sqrt

import numpy as np

from net3d.checks.checks import Finding, Level
from net3d.checks.grading import graded
from net3d.checks.ropes import rope_remedy
from net3d.netting.netting import NONE, Ints, Netting
from net3d.parts import Part
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.statics.shape import EndState, SectionShape, Shape
from net3d.water.holding import AnchorLine

TOUCHING = 1e-6  # of the pull: less is a rounding error


def check_tension(spec: NetSpec, plan: Plan, netting: Netting, shape: Shape) -> list[Finding]:
    """Findings of every section of the body, then of the twine of every part."""
    findings: list[Finding] = []
    opened = {escape.spec.behind for escape in plan.escapes if escape.apertures}
    for number, section in enumerate(shape.sections):
        push = float(shape.hoop_pushes[number])
        if push > TOUCHING * netting.pull:
            findings.append(_touching(spec, shape, section, push))
        if plan.sections[number].part in plan.ribbed:  # its netting is meant to hang
            continue
        slack = _slack(spec, shape, section, plan.sections[number].spacing)
        findings.append(slack)
        if number + 1 in opened:  # what its frame does to the pull is told of the way out
            continue
        findings.append(_uneven(spec, plan, section))
        if plan.frame_of(plan.sections[number]) is None:  # what hangs loose there is told by its place
            findings.append(_loose(spec, section, slack.level))
        if plan.sections[number].spacing is not None and shape.state is not EndState.OUT_OF_REACH:
            strength = float(netting.bar_strengths[_twines_of(netting, plan.sections[number].part)].min())
            findings.append(_strained(spec, shape, section, strength))
    return findings + [_overload(spec, netting, shape, part) for part in netting.parts]


def _part_of(section: SectionShape) -> Part:
    return Part.section(section.from_hoop, section.to_hoop)


def _touching(spec: NetSpec, shape: Shape, section: SectionShape, push: float) -> Finding:
    """Hoops that are pulled against each other: no net does that but by something too short between them."""
    part = _part_of(section)
    where = part.place
    past = [throat for throat in shape.throats if throat.hoop <= section.from_hoop]
    advice = "Something that is tied past them is too short."
    if past:
        worst = max(past, key=lambda throat: throat.pull_share)
        long = spec.tape.length(worst.strings.to_tie)
        advice = f"The strings of throat {worst.number} draw them together: tie these {long} long."
    pressed = spec.tape.force(push)
    message = f"{where.capitalize()} are drawn rod against rod, pressed together with {pressed}. {advice}"
    source = "rods cannot pass each other"
    return Finding("hoops-touch", Level.FAIL, where, message, push, 0.0, source, part=part)


def _slack(spec: NetSpec, shape: Shape, section: SectionShape, rods: float | None) -> Finding:
    """By how much the netting bags where throats or rods carry the pull past it."""
    where = _part_of(section).place
    free = shape.free_lengths[section.from_hoop - 1] if shape.free_lengths else 0.0
    bag = section.bag if rods is None else max(free - section.length, 0.0)
    share = max(section.body_share, 0.0)
    few = min(section.slack_share, share) < 0.005
    slack = "" if few else f", and {_part(section.slack_share)} of its bars next to nothing"
    bad = (
        f"{where.capitalize()} hang slack, {spec.tape.length(bag)} shorter than the netting there would: it "
        f"bags, and carries {_part(share)} of the pull{slack}. "
        f"{_slack_remedy(spec, shape, section, rods)}"
    )
    return graded(
        "section-slack",
        _part_of(section),
        2 * bag / spec.netting.stretched,
        spec.limits.threshold("body_bag"),
        (f"{where.capitalize()}: the netting carries the pull.", bad),
    )


def _part(share: float) -> str:
    """A part of one in words.

    >>> _part(0.001), _part(0.42), _part(0.999)
    ('none', '42%', 'all')
    """
    whole = round(100 * share)
    return {0: "none", 100: "all"}.get(whole, f"{whole}%")


def _slack_remedy(spec: NetSpec, shape: Shape, section: SectionShape, rods: float | None) -> str:
    """What carries the pull past a section, its rods or a throat, and what to do about it."""
    free = shape.free_lengths[section.from_hoop - 1] if shape.free_lengths else 0.0
    if rods is not None and free > rods:
        return (
            f"Its spreader rods are too short: without them it would hang "
            f"{spec.tape.length(free)} long. Make them about that long, and no shorter by more than "
            f"{spec.tape.length(spec.limits.threshold('body_bag').caution * spec.netting.stretched / 2)}."
        )
    passing = [throat for throat in shape.throats if throat.hoop <= section.from_hoop]
    if not passing:
        return "Give it less depth."
    worst = max(passing, key=lambda throat: throat.pull_share)
    return (
        f"Throat {worst.number} carries the pull past it: tie its strings "
        f"{spec.tape.length(worst.strings.to_tie)} long."
    )


def _uneven(spec: NetSpec, plan: Plan, section: SectionShape) -> Finding:
    where = _part_of(section).place
    change = _evening(spec, plan, section)
    # Where a throat pulls past it, what little is left is uneven, and does no harm: that it bags is told.
    usual = max(section.tension_mean, section.full_share)
    ratio = section.tension_max / usual if usual > 0 else 1.0
    return graded(
        "section-uneven",
        _part_of(section),
        ratio,
        spec.limits.threshold("section_uneven"),
        (
            f"{where.capitalize()}: the tightest bar carries {ratio:.1f} times the mean.",
            f"{where.capitalize()}: the tightest bar carries {ratio:.1f} times the mean: a few meshes do "
            f"the work of all. {change} or give the section more depth.",
        ),
    )


def _evening(spec: NetSpec, plan: Plan, section: SectionShape) -> str:
    """What there is to change about the hoops of a section that pulls unevenly."""
    rows = plan.sections[section.from_hoop - 1].piece.rows
    if lost := rows[0].count - rows[-1].count:
        return f"It loses {lost} meshes around: lose fewer," if lost > 0 else f"It gains {-lost}: gain fewer,"
    if not all(hoop.is_true for hoop in plan.hoops[section.from_hoop - 1 : section.to_hoop]):
        return "Turn its hoops, which are not true,"
    if plan.frame_of(plan.sections[section.from_hoop - 1]) is not None:
        return "Netting along the flats of a frame has the longer way: hang it with more meshes around,"
    if spec.rigging.bridle is not None and section.from_hoop == 1:
        legs = spec.rigging.bridle.legs
        return f"The bridle's {legs} legs bend hoop 1: take more of them, or a thicker rod,"
    return "Even out the hoops' sizes"


def _loose(spec: NetSpec, section: SectionShape, slack: Level) -> Finding:
    """How loose bars hang, and what to do unless something carries the pull past them, as is told already."""
    where = _part_of(section).place
    value = max(section.looseness_twentieth, 0.0)
    remedy = ", so meshes bag. Move the hoops further apart or take depth out of the section"
    remedy = remedy if slack is Level.OK else ""
    return graded(
        "section-loose",
        _part_of(section),
        value,
        spec.limits.threshold("looseness"),
        (
            f"{where.capitalize()}: the meshes stand open without bagging.",
            f"{where.capitalize()}: more than one bar in twenty hangs loose by {value:.0%} of its length or "
            f"more{remedy}.",
        ),
    )


def _strained(spec: NetSpec, shape: Shape, section: SectionShape, strength: float) -> Finding:
    """How near to breaking rods alone keep the twine of a section, of a wet knotted ``strength`` [N]."""
    where, held = _part_of(section).place, spec.tape.length(section.length)
    free = shape.free_lengths[section.from_hoop - 1]
    load, limit = section.tension_max / strength, spec.limits.threshold("rod_strain")
    return graded(
        "rods-strain",
        _part_of(section),
        load,
        limit,
        (
            f"{where.capitalize()}: the spreader rods of {held} do not strain the netting. "
            f"{_rods_that_do(spec, section, free, limit.caution / load)}.",
            f"{where.capitalize()}: spreader rods of {held} strain the netting with "
            f"{section.body_share:.1f} times the pull, {load:.0%} of what its twine bears; it would hang "
            f"{spec.tape.length(free)} long without them. Shorten them to about that: "
            f"{_rods_that_do(spec, section, free, limit.caution / load)}.",
        ),
    )


def _rods_that_do(spec: NetSpec, section: SectionShape, free: float, times: float) -> str:
    """The range of rods on the tape, up to those that strain the netting so many times as much as now [-]."""
    shortest = free - spec.limits.threshold("body_bag").caution * spec.netting.stretched / 2
    pull = max(section.tension_mean, np.finfo(float).tiny)
    more = spec.twine.stretch(times * pull) / spec.twine.stretch(pull) - 1.0
    longest = max(section.length + section.follows.stretch * more, free)
    return f"from {spec.tape.length(shortest)} to {spec.tape.length(longest)} they do"


def _twines_of(netting: Netting, part: Part) -> Ints:
    """The bars of a part without those of thread that rots, which is judged by itself."""
    bars = netting.bars_of(part)
    return np.asarray(bars[netting.bar_seams[bars] == NONE])


def _overload(spec: NetSpec, netting: Netting, shape: Shape, part: Part) -> Finding:
    bars = _twines_of(netting, part)
    loads = shape.bar_tensions[bars] / netting.bar_strengths[bars]
    worst = int(np.argmax(loads))
    load, tension = float(loads[worst]), float(shape.bar_tensions[bars][worst])
    limit = spec.limits.threshold("twine_load")
    name, rope = part.place.capitalize(), part.kind.rope
    ends = spec.rigging.rope_ends if rope else "knotted"
    pull, one = spec.tape.force(tension), "one rope" if rope else "one bar"
    breaks = spec.tape.force(float(netting.bar_strengths[bars][worst]))
    remedy = f"Use one that breaks at {spec.tape.force(tension / limit.caution)} or more, or less pull."
    if rope:
        remedy = rope_remedy(spec, _rope_line(spec, netting, bars, tension), 1.0 / limit.caution)
    elif tension > netting.pull:
        remedy = (
            "That is more than the whole pull on the net: it is stretched over more than it reaches. "
            "Make it deeper, or bring closer together what it joins."
        )
    return graded(
        "twine-overload",
        part,
        load,
        limit,
        (
            f"{name}: at most {pull} in {one}, {load:.1%} of its strength.",
            f"{name}: {pull} in {one}, which breaks, wet and {ends}, at about {breaks}. {remedy}",
        ),
    )


def _rope_line(spec: NetSpec, netting: Netting, bars: Ints, tension: float) -> AnchorLine:
    """Bridle legs or the anchor line as a straight line that carries its part of the pull: cos a = H / T."""
    share, length = netting.pull / len(bars), float(netting.bar_lengths[bars][0])
    height = length * sqrt(max(1.0 - (share / tension) ** 2, 0.0)) if tension > share else 0.0
    return AnchorLine(share, length, height, spec.rigging.cordage)
