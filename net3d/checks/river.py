"""Whether net, hoops, line and anchor bear the current that the net is to stand in."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from net3d.checks.anchors import anchor_remedy
from net3d.checks.checks import Finding, Level
from net3d.checks.grading import graded
from net3d.checks.ropes import rope_remedy
from net3d.handbook.hoops import hoop_materials
from net3d.parts import ANCHOR_LINE, Part
from net3d.plan.plan import Plan
from net3d.spec.spec import AnchorSpec, NetSpec
from net3d.statics.settle import GOOD
from net3d.water.holding import AnchorLine, holding_factor
from net3d.water.hoops import HoopLoad, Legs
from net3d.water.loads import Loads
from net3d.water.rings import sprung_rod
from net3d.water.standing import MATCHED

TWINE = "river-twine"


def check_current(spec: NetSpec, plan: Plan, rows: tuple[Loads, ...]) -> list[Finding]:
    """Findings of a net in the current that its spec names for it, and of its twine in the fastest named."""
    at = [loads for loads in rows if loads.current == spec.rigging.current]
    found = [finding for loads in at for finding in check_river(spec, plan, loads)]
    if not rows or rows[-1] in at:
        return found
    return [*(finding for finding in found if finding.code != TWINE), _twine(spec, rows[-1])]


def check_river(spec: NetSpec, plan: Plan, loads: Loads) -> list[Finding]:
    """Findings of a net in one current: twine, hoops, line, anchor, and how sure the drag is."""
    findings = [_still(spec, loads), _twine(spec, loads)]
    for hoop in loads.hoops:
        findings.append(_buckling(spec, loads, hoop))
        if hoop.legs is not None:
            findings += [_bow(spec, plan, hoop, hoop.legs), _stress(spec, plan, hoop, hoop.legs)]
    findings += _sprung(spec, plan, loads)
    if loads.line is not None:
        findings.append(_line(spec, loads, loads.line))
    if spec.anchor is not None:
        findings.append(_anchor(spec, loads, spec.anchor))
    return [*findings, _range(spec, loads), _models(spec, loads)]


def _at(spec: NetSpec, loads: Loads) -> str:
    return f"At {spec.tape.speed(loads.current)}"


def _still(spec: NetSpec, loads: Loads) -> Finding:
    """Whether the shape in the current was found at all."""
    standing = loads.standing
    settled = standing.still and standing.state in GOOD
    message = f"{_at(spec, loads)} the net comes to rest."
    if not settled:
        message = (
            f"{_at(spec, loads)} the net does not come to rest, so its loads cannot be trusted: "
            f"{standing.state.sentence} Give it more pull, or less current."
        )
    level = Level.OK if settled else Level.FAIL
    return Finding("river-shape", level, "whole net", message, standing.mismatch, MATCHED, "common practice")


def _twine(spec: NetSpec, loads: Loads) -> Finding:
    limit = spec.limits.threshold("twine_load")
    name = loads.twine_part.place
    tension = spec.tape.force(loads.twine_tension)
    needed = spec.tape.force(loads.twine_tension / limit.caution)
    share = f"{loads.twine_share:.1%}"
    strings = ""
    if loads.string_tension:
        strings = f" Strings and their knots bear up to {spec.tape.force(loads.string_tension)} each."
    return graded(
        TWINE,
        loads.twine_part,
        loads.twine_share,
        limit,
        (
            f"{_at(spec, loads)} no bar carries more than {tension}, {share} of its strength.{strings}",
            f"{_at(spec, loads)} a bar of {name} carries {tension}, {share} of its strength, wet and knotted"
            f". Take twine that breaks, wet and knotted, at {needed} or more, or a weaker current.",
        ),
    )


def _buckling(spec: NetSpec, loads: Loads, hoop: HoopLoad) -> Finding:
    limit = spec.limits.threshold("hoop_buckling")
    where = f"hoop {hoop.number}"
    force = spec.tape.force(max(hoop.compression, 0.0))
    stiffer = (limit.caution / max(hoop.buckling_factor, 1e-9)) ** 0.25
    return graded(
        "hoop-buckling",
        Part.hoop(hoop.number),
        min(hoop.buckling_factor, 1e6),
        limit,
        (
            f"{where.capitalize()}: the netting squeezes it with {force}; it would buckle at "
            f"{_times(hoop.buckling_factor)} that.",
            f"{where.capitalize()}: the netting squeezes it with {force}, and it buckles at "
            f"{hoop.buckling_factor:.1f} times that. Take a rod {stiffer:.2f} times as thick, or hang the "
            "netting with more meshes around.",
        ),
    )


def _times(factor: float) -> str:
    return f"{factor:.0f} times" if factor < 100 else "more than 100 times"


def _bow(spec: NetSpec, plan: Plan, hoop: HoopLoad, legs: Legs) -> Finding:
    limit = spec.limits.threshold("hoop_bow")
    across = plan.hoops[hoop.number - 1].widest
    bow = spec.tape.length(legs.bow)
    return graded(
        "hoop-bow",
        Part.hoop(hoop.number),
        legs.bow / across,
        limit,
        (
            f"Hoop {hoop.number}: its {legs.count} legs bow it by {bow}.",
            f"Hoop {hoop.number}: its {legs.count} legs bow it by {bow} out of flat, and over years that "
            f"stays. {_more_legs(spec, plan, hoop, legs)}",
        ),
    )


def _more_legs(spec: NetSpec, plan: Plan, hoop: HoopLoad, legs: Legs) -> str:
    """What one leg more would do."""
    planned, bridle = plan.hoops[hoop.number - 1], spec.rigging.bridle
    if bridle is None or planned.is_frame:
        return "Take a thicker rod."
    return f"Give the bridle {legs.count + 1} legs, or take a thicker rod."


def _stress(spec: NetSpec, plan: Plan, hoop: HoopLoad, legs: Legs) -> Finding:
    limit = spec.limits.threshold("hoop_stress")
    share = legs.stress / hoop.strength
    where = f"hoop {hoop.number}"
    return graded(
        "hoop-stress",
        Part.hoop(hoop.number),
        share,
        limit,
        (
            f"{where.capitalize()}: its bridle loads the {hoop.material} to {share:.0%} of its strength.",
            f"{where.capitalize()}: its bridle loads the {hoop.material} to {share:.0%} of its strength. "
            f"{_more_legs(spec, plan, hoop, legs)}",
        ),
    )


def _sprung(spec: NetSpec, plan: Plan, loads: Loads) -> list[Finding]:
    """Whether a straight rod breaks when it is sprung into its hoop, by the hoop where it is bent hardest.

    A frame with corners is not sprung.
    """
    sprung = [hoop for hoop in loads.hoops if not plan.hoops[hoop.number - 1].outline.corners.size]
    hardest = sorted(sprung, key=lambda hoop: hoop.sprung_stress / hoop.strength)[-1:]
    return [_sprung_in(spec, plan, hoop) for hoop in hardest]


def _sprung_in(spec: NetSpec, plan: Plan, worst: HoopLoad) -> Finding:
    material, share = hoop_materials()[worst.material], worst.sprung_stress / worst.strength
    limit = spec.limits.threshold("hoop_sprung")
    said = (
        f"Hoop {worst.number}: a straight rod of {material.name} sprung into it carries {share:.0%} of its "
        "strength"
    )
    other, remedy = "one bent hot, steamed or rolled, nor for", "Have the rod bent hot, steamed or rolled."
    if not material.bent_hot:
        other = "one moulded round, nor for"
        diameter = plan.hoops[worst.number - 1].outside_diameter
        remedy = f"Take {_rod_size(spec, sprung_rod(material, diameter, limit.caution))}."
    return graded(
        "hoop-sprung",
        Part.hoop(worst.number),
        share,
        replace(limit, fail=inf) if material.bent_hot else limit,
        (
            f"{said}.",
            f"{said}{' and breaks' if share >= 1 else ''}. That is for a straight rod sprung in, and not for "
            f"{other} a hoop that has stood for years. {remedy}",
        ),
    )


def _rod_size(spec: NetSpec, thickness: float) -> str:
    """A rod no thicker than this [m], down to the tape's mark."""
    return f"a rod of {spec.tape.thickness(spec.tape.sold_rod(thickness))} or thinner, or a larger hoop"


def _line(spec: NetSpec, loads: Loads, line: AnchorLine) -> Finding:
    limit = spec.limits.threshold("line_hold")
    pull, breaks = spec.tape.force(line.tension), spec.tape.force(line.rope.strength)
    said = (
        f"{_at(spec, loads)} the anchor line is pulled with up to {pull} and breaks, wet and "
        f"{line.rope.ends}, at {breaks}"
    )
    return graded(
        "line-load",
        ANCHOR_LINE,
        min(line.factor, 1e6),
        limit,
        (f"{said}.", f"{said}, {line.factor:.1f} times that. {rope_remedy(spec, line, limit.caution)}"),
    )


def _anchor(spec: NetSpec, loads: Loads, anchor: AnchorSpec) -> Finding:
    limit = spec.limits.threshold("anchor_hold")
    rise = loads.line.rise if loads.line else 0.0
    bottom, pull = spec.water.bottom, loads.anchor_pull_high
    factor = holding_factor(pull, rise, (anchor.type, bottom, anchor.weight))
    weight, drawn = spec.tape.mass(anchor.weight), spec.tape.force(pull)
    name = f"the {anchor.type} of {weight} on {bottom}"
    remedy = anchor_remedy(spec, anchor.type, pull, loads.line)
    if factor is None:
        bad = f"A {anchor.type} has no hold on {bottom} to be relied on. {remedy}"
    else:
        bad = (
            f"{_at(spec, loads)} {name} is pulled with up to {drawn} and holds {factor:.1f} times that at "
            f"the least. {remedy}"
        )
    return graded(
        "anchor-light",
        "anchor",
        factor or 0.0,
        limit,
        (f"{_at(spec, loads)} {name} holds {factor or 0:.1f} times the pull of up to {drawn}.", bad),
    )


def _range(spec: NetSpec, loads: Loads) -> Finding:
    ratio = loads.drag_high / loads.drag_low
    low, high = (spec.tape.force(drag) for drag in (loads.drag_low, loads.drag_high))
    return graded(
        "drag-range",
        "whole net",
        ratio,
        spec.limits.threshold("drag_range"),
        (
            f"{_at(spec, loads)} the river pulls with {low} to {high}.",
            f"{_at(spec, loads)} the river pulls with {low} to {high}, by one model or another: choose "
            "anchor and line by the higher, and measure the pull with a spring scale when the net is first "
            "set.",
        ),
    )


def _models(spec: NetSpec, loads: Loads) -> Finding:
    kinds = loads.range.kinds
    left = "; ".join(f"{model.name}: {model.remark}" for model in loads.models if not model.counts)
    return graded(
        "current-range",
        "whole net",
        len(kinds),
        spec.limits.threshold("drag_models"),
        (
            f"{_at(spec, loads)} {len(kinds)} kinds of model fit the net: {', '.join(kinds)}.",
            f"{_at(spec, loads)} one model fits the net, {kinds[0]}, and its range is widened to what the "
            f"others say ({left}). Take the loads for rough, double the safety, and measure the pull with a "
            "spring scale; less debris or another current may bring more models into range.",
        ),
    )
