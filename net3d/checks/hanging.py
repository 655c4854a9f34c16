"""Whether the meshes are hung too closed or too open on each hoop."""

from __future__ import annotations

from math import ceil, floor

from net3d.checks.checks import Finding
from net3d.checks.grading import graded
from net3d.parts import Part
from net3d.plan.plan import HoopPlan, Plan
from net3d.spec.quantities import LEAST_AROUND
from net3d.spec.spec import NetSpec


def check_hanging(spec: NetSpec, plan: Plan) -> list[Finding]:
    """One finding a hoop and side of the hanging ratio."""
    return [
        finding
        for hoop in plan.hoops
        for finding in (_too_closed(spec, plan, hoop), _too_open(spec, plan, hoop))
    ]


def _too_closed(spec: NetSpec, plan: Plan, hoop: HoopPlan) -> Finding:
    limit = spec.limits.threshold("hanging_ratio_low")
    most = floor(hoop.knot_girth / (limit.caution * plan.stretched_mesh))
    fewer = f"{most} meshes around or fewer, " if most >= LEAST_AROUND else ""
    return graded(
        "hanging-ratio-low",
        Part.hoop(hoop.number),
        hoop.hanging_ratio,
        limit,
        (
            _hangs(hoop),
            f"Hoop {hoop.number}: {hoop.meshes_around} meshes crowd it, {_open(hoop)}. "
            f"Use {fewer}a smaller mesh or a larger hoop.",
        ),
    )


def _too_open(spec: NetSpec, plan: Plan, hoop: HoopPlan) -> Finding:
    limit = spec.limits.threshold("hanging_ratio_high")
    least = ceil(hoop.knot_girth / (limit.caution * plan.stretched_mesh))
    return graded(
        "hanging-ratio-high",
        Part.hoop(hoop.number),
        hoop.hanging_ratio,
        limit,
        (
            _hangs(hoop),
            f"Hoop {hoop.number}: {hoop.meshes_around} meshes are pulled almost flat along it, "
            f"{_open(hoop)}; little depth is left. "
            f"Use {least} meshes around or more, a larger mesh or a smaller hoop.",
        ),
    )


def _hangs(hoop: HoopPlan) -> str:
    return f"Hoop {hoop.number}: {hoop.meshes_around} meshes around, {_open(hoop)}."


def _open(hoop: HoopPlan) -> str:
    """The hanging ratio in words."""
    return f"hung at {hoop.hanging_ratio:.0%} of their stretched width"
