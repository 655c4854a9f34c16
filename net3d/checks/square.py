"""Whether a square tip opens as a square, and wide enough for the fish that are named."""

from __future__ import annotations

from math import pi

from net3d.checks.checks import Finding, Level
from net3d.checks.grading import graded
from net3d.plan.plan import Plan, ThroatPlan
from net3d.spec.spec import NetSpec
from net3d.statics.shape import Shape, ThroatShape


def check_square(spec: NetSpec, plan: Plan, shape: Shape) -> list[Finding]:
    """Findings of each square tip."""
    findings = []
    for planned, throat in zip(plan.throats, shape.throats, strict=True):
        if planned.tip_line is not None:
            findings.append(_corners(spec, planned, throat))
            findings += _clear(spec, planned, throat)
    return findings


def _corners(spec: NetSpec, planned: ThroatPlan, throat: ThroatShape) -> Finding:
    """Strings stand evenly along the line only where its meshes divide by them: arithmetic."""
    strings = planned.strings.points
    over = planned.tip % strings
    clear = spec.tape.length(throat.opening_clear)
    message = f"Throat {planned.number}: {planned.tip} meshes of its tip divide by {strings} strings."
    if over:
        message = (
            f"Throat {planned.number}: {planned.tip} meshes of its tip do not divide by {strings} strings: "
            f"the opening hangs uneven, clear {clear} across. "
            f"Take {planned.tip - over or strings} or {planned.tip - over + strings}."
        )
    level = Level.CAUTION if over else Level.OK
    source = "arithmetic: even corners"
    where = planned.part.place
    return Finding("tip-uneven", level, where, message, float(over), 0.0, source, part=planned.part)


def _clear(spec: NetSpec, planned: ThroatPlan, throat: ThroatShape) -> list[Finding]:
    """The largest fish's girth over that of the widest round hole, ``g / (pi w)``."""
    if spec.fish is None:
        return []
    girth, clear = spec.tape.length(spec.fish.girth_max), spec.tape.length(throat.opening_clear)
    said = f"Throat {planned.number}'s tip is clear {clear} across as it hangs"
    return [
        graded(
            "opening-narrow",
            planned.part,
            spec.fish.girth_max / max(pi * throat.opening_clear, 1e-9),
            spec.limits.threshold("opening_narrow"),
            (
                f"{said}, enough for fish of {girth} girth.",
                f"{said}: fish of {girth} girth must force it.",
            ),
        )
    ]
