"""What netting that was used still bears, and how well that is known."""

from __future__ import annotations

from net3d.checks.checks import Finding, Level
from net3d.checks.grading import grade
from net3d.handbook.ageing import ageing
from net3d.spec.spec import NetSpec


def check_old(spec: NetSpec) -> list[Finding]:
    """How much of its strength old netting has left; nothing of new netting."""
    if spec.old is None:
        return []
    left, limit = spec.old, spec.limits.threshold("strength_left")
    level = grade(left.low, limit)
    bears, steady = spec.tape.force(spec.twine.wet_knotted_strength), ageing("steady_load")
    message = (
        f"The netting has about {left.likely:.0%} of its strength left, from {left.low:.0%} to "
        f"{left.high:.0%}; it is judged by the least, {bears} a bar, wet and knotted. A steady pull of up to "
        f"{steady:.0%} of that costs it nothing."
    )
    if level is not Level.OK:
        message += " Break some of its bars on a spring scale and write broke under [old]: it is surer."
    bound = limit.fail if level is Level.FAIL else limit.caution
    return [Finding("strength-left", level, "netting", message, left.low, bound, left.source)]
