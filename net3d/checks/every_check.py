"""All checks, in the order in which a maker would ask."""

from __future__ import annotations

from net3d.checks.bow import check_bow
from net3d.checks.built import check_built
from net3d.checks.checks import Finding
from net3d.checks.doubts import check_doubts
from net3d.checks.escapes import check_escapes
from net3d.checks.frames import check_frames
from net3d.checks.hanging import check_hanging
from net3d.checks.kept import check_kept
from net3d.checks.local_rules import check_local_rules
from net3d.checks.old import check_old
from net3d.checks.ribs import check_ribs
from net3d.checks.settled import check_settled
from net3d.checks.sheet import check_sheet
from net3d.checks.square import check_square
from net3d.checks.tension import check_tension
from net3d.checks.throats import check_decreases
from net3d.checks.waters import check_throats_in
from net3d.netting.netting import Netting
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.statics.shape import Shape
from net3d.water.working import Working


def check(
    spec: NetSpec, plan: Plan, netting: Netting, shape: Shape, working: Working | None = None
) -> tuple[Finding, ...]:
    """Every finding of a net, those that are fine included.

    Tensions are judged only where there is an equilibrium to judge; throats in still water alone unless it is
    known how the net stands where it works.
    """
    findings = (
        check_doubts(spec)
        + check_settled(spec, plan, shape)
        + check_hanging(spec, plan)
        + check_decreases(plan)
    )
    findings += check_sheet(spec, plan)
    findings += check_old(spec)
    if shape.at_rest:
        findings += check_built(spec, shape)
        findings += check_throats_in(spec, plan, shape, working)
        findings += check_square(spec, plan, shape)
        findings += check_kept(spec, plan, netting, shape)
        findings += check_tension(spec, plan, netting, shape)
        findings += check_bow(spec, plan, netting, shape)
        findings += check_frames(spec, plan, netting, shape)
        findings += check_ribs(spec, plan, netting, shape)
        findings += check_escapes(spec, plan, netting, shape)
        findings += check_local_rules(spec, plan, netting, shape)
    return tuple(findings)
