"""Which figures of the work a net's sheets show, each where its work is told."""

from __future__ import annotations

from net3d.chain import Design
from net3d.drawings.figure import Figure
from net3d.drawings.work_hoops import (
    Gear,
    body_hitch,
    half_pitch,
    held_in_three,
    netting_inside,
    round_joined,
    throat_hitch,
)
from net3d.drawings.work_knots import (
    double_bend,
    drawstring,
    eye_splice,
    finger_tip,
    sheet_bend,
    square_line,
)
from net3d.plan.plan import ThroatPlan


def knitting_figures(design: Design) -> list[Figure]:
    """The knot, the join of the round, and what closes the last row."""
    knitted = design.spec.netting.made != "sheet"
    tail = [drawstring()] if design.plan.tail is not None else []
    return [*([sheet_bend(), double_bend(), round_joined()] if knitted else []), *tail]


def lacing_figures(design: Design) -> list[Figure]:
    """Hoops and netting: how they are held, where they begin, the hitches, the bridle's splice."""
    gear = gear_of(design)
    off = any(hoop.half_pitch_off for hoop in design.plan.hoops)
    return [
        held_in_three(),
        *([half_pitch()] if off else []),
        netting_inside(gear),
        body_hitch(gear),
        *([throat_hitch(gear)] if design.plan.throats else []),
        *([eye_splice("hoop")] if design.spec.rigging.bridle is not None else []),
    ]


def throat_figure(throat: ThroatPlan) -> Figure:
    """How its strings are tied to its tip."""
    return finger_tip() if throat.tip_line is None else square_line()


def gear_of(design: Design) -> Gear:
    """The mouth hoop's rod, the netting's twine and the lacing's, as thick as they are."""
    lacing, plan = design.spec.lacing, design.plan
    return Gear(plan.hoops[0].rod_diameter, plan.twine.diameter, lacing.twine.diameter, lacing.hitches)
