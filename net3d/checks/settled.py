"""Whether the net came to rest, and which rods are out of reach."""

from __future__ import annotations

from net3d.checks.checks import Finding, Level
from net3d.parts import Part
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.statics.shape import EndState, Shape

_LEVELS = {EndState.SETTLED: Level.OK, EndState.SETTLED_LOOSELY: Level.CAUTION}
ONE_OF_MANY = (
    "Its twine is taken to weigh nothing: where that hangs slack it could hang otherwise than it is shown."
)
STATICS = "second-order cone program, balance checked afresh at every knot"


def check_settled(spec: NetSpec, plan: Plan, shape: Shape) -> list[Finding]:
    """Whether there is a shape to trust, and which rods are out of reach by how much."""
    level = _LEVELS.get(shape.state, Level.FAIL)
    sentence = f"{shape.state.sentence} {ONE_OF_MANY}" if shape.one_of_many else shape.state.sentence
    findings = [Finding("settled", level, "net", sentence, shape.residual, 1e-6, STATICS)]
    for section, missing in zip(plan.sections, shape.shortfalls, strict=False):
        if missing > 0.0 and section.spacing is not None:
            findings.append(_out_of_reach(spec, shape, section.from_hoop, (section.spacing, missing)))
    return findings


def _out_of_reach(spec: NetSpec, shape: Shape, from_hoop: int, rod: tuple[float, float]) -> Finding:
    spacing, missing = rod
    texts = [spec.tape.length(length) for length in (spacing, missing, shape.free_lengths[from_hoop - 1])]
    message = (
        f"Hoops {from_hoop} to {from_hoop + 1} are held {texts[0]} apart, {texts[1]} further than the "
        f"netting stretches before it breaks. Under the pull alone it hangs {texts[2]} long: make the rods "
        f"about that. The net is shown without them."
    )
    part, numbers = Part.section(from_hoop, from_hoop + 1), (spacing, spacing - missing)
    return Finding("out-of-reach", Level.FAIL, part.place, message, *numbers, STATICS, part=part)
