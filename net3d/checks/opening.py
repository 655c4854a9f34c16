"""Whether the fish that are named get in through each throat, and not out again too easily."""

from __future__ import annotations

from math import ceil

from net3d.catch.kept import widest_girth
from net3d.checks.checks import Finding
from net3d.checks.grading import graded
from net3d.plan.plan import Plan, ThroatPlan
from net3d.spec.spec import FishSpec, NetSpec
from net3d.statics.shape import Shape, ThroatShape


def check_openings(spec: NetSpec, plan: Plan, shape: Shape) -> list[Finding]:
    """Two findings a throat where the spec names fish, none where it does not."""
    if spec.fish is None:
        return []
    return [
        finding
        for planned, throat in zip(plan.throats, shape.throats, strict=True)
        for finding in (
            _too_tight(spec, spec.fish, planned, throat),
            _too_wide(spec, spec.fish, planned, throat),
        )
    ]


def _too_tight(spec: NetSpec, fish: FishSpec, planned: ThroatPlan, throat: ThroatShape) -> Finding:
    most = widest_girth(planned)
    name, opens, girth = f"Throat {throat.number}", spec.tape.length(most), spec.tape.length(fish.girth_max)
    limit = spec.limits.threshold("opening_tight")
    return graded(
        "opening-tight",
        planned.part,
        fish.girth_max / most,
        limit,
        (
            f"{name}'s tip opens to {opens} around, enough for fish of {girth} girth.",
            f"{name}'s tip opens to {opens} around at most, and the largest fish have a girth of {girth}. "
            f"{_wider(spec, planned, fish.girth_max / limit.caution)}",
        ),
    )


def _wider(spec: NetSpec, planned: ThroatPlan, girth: float) -> str:
    """What lets a tip open to a girth [m]."""
    meshes = ceil(girth / planned.stretched_mesh - 1e-9)
    if planned.tip_line is None:
        return f"Give its tip {meshes} meshes or more."
    more = f" and its tip {meshes} meshes or more" if meshes > planned.tip else ""
    line = spec.tape.length(ceil(girth / spec.tape.step - 1e-9) * spec.tape.step)
    return f"Make the line through its tip {line} long{more}."


def _narrower(planned: ThroatPlan) -> str:
    if planned.tip_line is not None:
        return "Make the line through its tip shorter."
    return f'Give it fewer meshes than {planned.tip}, or a tip on a line: style = "square".'


def _too_wide(spec: NetSpec, fish: FishSpec, planned: ThroatPlan, throat: ThroatShape) -> Finding:
    name = f"Throat {throat.number}"
    girth = spec.tape.length(throat.opening_girth)
    smallest = spec.tape.length(fish.girth_min)
    return graded(
        "opening-wide",
        planned.part,
        throat.opening_girth / fish.girth_min,
        spec.limits.threshold("opening_wide"),
        (
            f"{name}'s tip hangs open {girth} around, narrow enough for fish of {smallest} girth to stay.",
            f"{name}'s tip hangs open {girth} around, wide enough for fish of {smallest} girth to leave "
            f"again. {_narrower(planned)}",
        ),
    )
