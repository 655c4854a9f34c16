"""From the plan to the netting: tie the body, the tail, the bridle and the anchor line."""

from __future__ import annotations

from math import pi

import numpy as np

from net3d.handbook.rope import rope_stiffness, rope_strength
from net3d.handbook.water import submerged_weight
from net3d.netting.fabric import Fabric, Line, Ring
from net3d.netting.joins import plain_join
from net3d.netting.netting import FREE, Carrier, Floats, Ints, Netting
from net3d.plan.lay_out import twine_length
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec

MOUTHWARD = np.array([-1.0, 0.0, 0.0])


def tie(spec: NetSpec, plan: Plan) -> Netting:
    """Tie a planned net: every knot and bar with its part, row and place around."""
    fabric = Fabric(carriers=_hoop_carriers(spec, plan))
    line = body_twine(plan, spec.statics.weight)
    mouth, end = _tie_body(fabric, plan, line)
    if plan.tail_rows:
        end = _tie_tail(fabric, plan, end, line)
    _rig(fabric, spec, plan, (mouth, end))
    return fabric.finish(len(plan.hoops), spec.rigging.pull)


def body_twine(plan: Plan, weighed: bool) -> Line:
    """The body's twine as a line; if ``weighed``, with its weight in water, the knots' share in every bar."""
    twine = plan.twine
    if not weighed:
        return Line(twine.diameter, twine.stiffness, twine.wet_knotted_strength)
    mesh_twine = twine_length(1, 1, plan.stretched_mesh, twine.diameter) / (2 * plan.stretched_mesh)
    weight = submerged_weight(twine.mass_per_length, twine.density) * mesh_twine
    return Line(twine.diameter, twine.stiffness, twine.wet_knotted_strength, weight)


def _hoop_carriers(spec: NetSpec, plan: Plan) -> list[Carrier]:
    """Hoops slide along the net; one at the end of spreader rods keeps its distance from the one before.

    A hoop that the anchor holds directly stands still.
    """
    held = _held_hoop(spec, plan)
    spacings = [None, *(section.spacing for section in plan.sections)]
    return [
        Carrier(
            f"hoop-{number + 1}",
            "" if number == held else "x",
            None if spacing is None else number - 1,
            spacing or 0.0,
        )
        for number, spacing in enumerate(spacings)
    ]


def _held_hoop(spec: NetSpec, plan: Plan) -> int | None:
    """The hoop, counted from 0, that the anchor holds without tail or bridle between them."""
    if spec.rigging.anchor == "tail":
        return None if plan.tail_rows else len(plan.hoops) - 1
    return 0 if spec.rigging.bridle is None else None


def _tie_body(fabric: Fabric, plan: Plan, line: Line) -> tuple[Ints, Ints]:
    """The sections from hoop to hoop; returns the knots on the first and on the last hoop."""
    row = 0
    first = knots = _hoop_ring(fabric, plan, 1)
    for section in plan.sections:
        for step in range(section.bar_rows):
            last = step == section.bar_rows - 1
            below = (
                _hoop_ring(fabric, plan, section.to_hoop)
                if last
                else fabric.add_ring(Ring(section.part, row + 1, row_angles(plan.meshes_around, row + 1)))
            )
            _tie_row(fabric, (section.part, step), (knots, below), (row, plan.bar, line))
            knots, row = below, row + 1
    return first, knots


def _hoop_ring(fabric: Fabric, plan: Plan, number: int) -> Ints:
    """The row of knots laced to a hoop; it belongs to the section behind it, the last to the one before."""
    hoop = plan.hoops[number - 1]
    part = plan.sections[min(number, len(plan.sections)) - 1].part
    angles = row_angles(hoop.meshes_around, hoop.knot_row)
    return fabric.add_ring(Ring(part, hoop.knot_row, angles, number - 1, hoop.knot_circle_diameter / 2))


def _tie_tail(fabric: Fabric, plan: Plan, knots: Ints, line: Line) -> Ints:
    """The tail; its last row of knots is drawn together to one point. Returns a knot of that point."""
    start = plan.hoops[-1].knot_row
    gather = fabric.add_carrier(Carrier("gathered tail", "xyz"))
    for step in range(plan.tail_rows):
        row = start + step + 1
        carrier = gather if step == plan.tail_rows - 1 else FREE
        below = fabric.add_ring(Ring("tail", row, row_angles(plan.meshes_around, row), carrier))
        _tie_row(fabric, ("tail", step), (knots, below), (row - 1, plan.bar, line))
        knots = below
    return knots


def _tie_row(
    fabric: Fabric, place: tuple[str, int], rows: tuple[Ints, Ints], what: tuple[int, float, Line]
) -> None:
    above, below = rows
    row, length, line = what
    upper, lower = plain_join(len(above), row % 2 == 1).bars()
    fabric.add_bars(place, np.stack([above[upper], below[lower]], axis=1), length, line)


def row_angles(count: int, row: int) -> Floats:
    """Nominal angles of a row's knots from the reference mark [rad]; odd rows stand half a pitch off."""
    return np.asarray((np.arange(count) + 0.5 * (row % 2)) * (2 * pi / count))


def _rig(fabric: Fabric, spec: NetSpec, plan: Plan, ends: tuple[Ints, Ints]) -> None:
    """Bridle, anchor line and pull, for a net anchored by the tail or by the mouth."""
    rigging = spec.rigging
    rope = Line(rigging.rope, rope_stiffness(rigging.rope), rope_strength(rigging.rope))
    mouth, tail = ends
    if rigging.bridle is not None:
        mouth = _tie_bridle(fabric, plan, (rigging.bridle.legs, rigging.bridle.length), rope)
    by_tail = rigging.anchor == "tail"
    fabric.add_load(mouth if by_tail else tail, rigging.pull * (MOUTHWARD if by_tail else -MOUTHWARD))
    if by_tail and plan.tail_rows:
        carrier = len(fabric.carriers) - 1
        _tie_anchor(fabric, fabric.add_ring(Ring("anchor-line", 0, np.zeros(1), carrier)), rigging.line, rope)
    elif not by_tail and rigging.bridle is not None:
        _tie_anchor(fabric, mouth, rigging.line, rope)


def _tie_bridle(fabric: Fabric, plan: Plan, legs: tuple[int, float], rope: Line) -> Ints:
    """Legs, so many and so long, from the mouth hoop to one ring ahead of it, the first at the reference mark."""
    count, length = legs
    hoop = plan.hoops[0]
    radius = (hoop.outside_diameter - hoop.rod_diameter) / 2
    feet = fabric.add_ring(Ring("bridle", 1, row_angles(count, 0), 0, radius))
    ring = fabric.add_ring(Ring("bridle", 0, np.zeros(1)))
    fabric.add_bars(("bridle", 0), np.stack([np.repeat(ring, count), feet], axis=1), length, rope)
    return ring


def _tie_anchor(fabric: Fabric, end: Ints, length: float, rope: Line) -> None:
    """A line from the end of the net to the anchor, which does not move."""
    anchor = fabric.add_carrier(Carrier("anchor", ""))
    anchored = fabric.add_ring(Ring("anchor-line", 1, np.zeros(1), anchor))
    fabric.add_bars(("anchor-line", 0), np.stack([end, anchored], axis=1), length, rope)
