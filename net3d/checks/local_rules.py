"""Whether a net keeps the maker's own local rules."""

from __future__ import annotations

from net3d.checks.checks import Finding, Level
from net3d.netting.netting import Netting
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.statics.profile import body_knots
from net3d.statics.shape import Shape

MEASURED = {
    "local-stretched-mesh": "stretched mesh",
    "local-bar": "bar",
    "local-largest-hoop": "largest hoop",
    "local-length": "length from the mouth hoop to the end of the tail",
}
OF_MESH = ("local-stretched-mesh", "local-bar")


def check_local_rules(spec: NetSpec, plan: Plan, netting: Netting, shape: Shape) -> list[Finding]:
    """The maker's own [limits]; net3d ships none, and says nothing of those that are not given."""
    rules = spec.limits
    largest = max(hoop.widest for hoop in plan.hoops)
    reach = shape.knot_positions[body_knots(netting), 0]
    length = float(reach.max() - reach.min())
    found = [
        _least(spec, "local-stretched-mesh", plan.stretched_mesh, rules.stretched_min),
        _least(spec, "local-bar", plan.bar, rules.bar_min),
        _most(spec, "local-largest-hoop", largest, rules.hoop_diameter_max),
        _most(spec, "local-length", length, rules.length_max),
        _hoop_count(len(plan.hoops), rules.hoops_max),
    ]
    return [finding for finding in found if finding is not None]


def _least(spec: NetSpec, code: str, value: float, bound: float | None) -> Finding | None:
    if bound is None:
        return None
    return _rule(spec, code, (value, bound), value >= bound * (1 - 1e-9), "at least")


def _most(spec: NetSpec, code: str, value: float, bound: float | None) -> Finding | None:
    if bound is None:
        return None
    return _rule(spec, code, (value, bound), value <= bound * (1 + 1e-9), "at most")


def _rule(spec: NetSpec, code: str, numbers: tuple[float, float], kept: bool, sense: str) -> Finding:
    told = spec.tape.mesh if code in OF_MESH else spec.tape.length
    texts = [told(number) for number in numbers]
    message = f"The {MEASURED[code]} is {texts[0]}; your own limit is {sense} {texts[1]}."
    return Finding(code, Level.OK if kept else Level.FAIL, "net", message, *numbers, "your spec, [limits]")


def _hoop_count(count: int, most: int | None) -> Finding | None:
    if most is None:
        return None
    message = f"The net has {count} hoops; your own limit is at most {most}."
    level = Level.OK if count <= most else Level.FAIL
    return Finding("local-hoops", level, "net", message, float(count), float(most), "your spec, [limits]")
