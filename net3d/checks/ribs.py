"""Whether rib lines carry the pull, so that the netting hangs on them with its own weight alone."""

from __future__ import annotations

from net3d.checks.checks import Finding
from net3d.checks.grading import graded
from net3d.netting.netting import Netting
from net3d.plan.plan import Plan, RibPlan
from net3d.spec.spec import NetSpec
from net3d.statics.balance import bar_spans
from net3d.statics.shape import Shape


def check_ribs(spec: NetSpec, plan: Plan, netting: Netting, shape: Shape) -> list[Finding]:
    """A finding for the lines of every section that has some."""
    return [_carry(spec, rib, netting, shape) for rib in plan.ribs]


def rib_pull(rib: RibPlan, netting: Netting, shape: Shape) -> tuple[float, float]:
    """What the lines of a section carry along the net, all together, and the tightest of them [N]."""
    bars = netting.bars_of(rib.part)
    spans, distances = bar_spans(netting, shape.knot_positions)
    tensions = shape.bar_tensions[bars]
    along = tensions * spans[bars, 0] / distances[bars]
    return float(along.sum() / (netting.bar_rows[bars].max() + 1)), float(tensions.max())


def _carry(spec: NetSpec, rib: RibPlan, netting: Netting, shape: Shape) -> Finding:
    pull, most = rib_pull(rib, netting, shape)
    share = pull / netting.pull
    where = rib.section.place.capitalize()
    lines = f"its {len(rib.starts)} rib lines of {spec.tape.length(rib.length)}"
    return graded(
        "rib-lines",
        rib.part,
        share,
        spec.limits.threshold("rib_share"),
        (
            f"{where}: {lines} carry {share:.0%} of the pull, up to {spec.tape.force(most)} each, and the "
            f"netting hangs on them at {rib.hanging:g} of its stretched length.",
            f"{where}: {lines} carry only {share:.0%} of the pull, so that the netting bears the rest where "
            "it happens to be tight. Make them shorter: hang more netting on them, at a smaller ratio.",
        ),
    )
