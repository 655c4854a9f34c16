"""From the plan to the netting: tie the body, its tail and its throats, then rig it."""

from __future__ import annotations

from net3d.netting.carriers import hoop_carriers, hoop_seat
from net3d.netting.cords import netting_cord
from net3d.netting.escapes import cut_out, tie_escapes, with_seams
from net3d.netting.fabric import Fabric, Ring, Seat
from net3d.netting.netting import Carrier, Ints, Netting
from net3d.netting.ribs import tie_rib
from net3d.netting.rig import rig
from net3d.netting.throats import tie_throat
from net3d.netting.weave import Cloth, weave
from net3d.parts import TAIL
from net3d.plan.decreases import Piece
from net3d.plan.parts import planned_parts, refuse_missing
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec


def tie(spec: NetSpec, plan: Plan) -> Netting:
    """Tie a planned net: every knot and bar with its part, row and place around.

    Raises PartError for a part that is tied and not planned: the lists would leave it out.
    """
    fabric = Fabric(carriers=hoop_carriers(spec, plan), weighed=spec.statics.weight)
    hoop_knots = _tie_body(fabric, plan)
    for rib in plan.ribs:
        tie_rib(fabric, plan, rib, spec.rigging.cordage)
    end = _tie_tail(fabric, plan, plan.tail, hoop_knots[-1]) if plan.tail else hoop_knots[-1]
    for throat in plan.throats:
        tie_throat(fabric, plan, throat, hoop_knots[throat.hoop - 1])
    rig(fabric, spec.rigging, plan, (hoop_knots[0], end))
    sewn = tie_escapes(fabric, plan)
    whole = with_seams(fabric.finish(len(plan.hoops), spec.rigging.still_pull), fabric, plan)
    tied = cut_out(whole, sewn)
    refuse_missing(tied.parts, planned_parts(spec, plan), "tied, and not planned")
    return tied


def _tie_body(fabric: Fabric, plan: Plan) -> list[Ints]:
    """The sections from hoop to hoop; returns the knots on every hoop.

    A hoop's knots belong to the section behind it, the last hoop's to the one before.
    """
    cord = netting_cord(plan.twine, plan.stretched_mesh)
    first = plan.hoops[0]
    knots = fabric.add_ring(Ring(plan.sections[0].part, 0, first.row.angles(), hoop_seat(first)))
    hoop_knots = [knots]
    for section in plan.sections:
        row = plan.hoops[section.from_hoop - 1].knot_row
        hem = hoop_seat(plan.hoops[section.to_hoop - 1])
        knots = weave(fabric, Cloth(section.part, plan.bar, cord, row), section.piece, knots, hem)
        hoop_knots.append(knots)
    return hoop_knots


def _tie_tail(fabric: Fabric, plan: Plan, tail: Piece, knots: Ints) -> Ints:
    """The tail; a drawstring draws its last row of knots, which it returns, together to one point."""
    gather = fabric.add_carrier(Carrier("gathered tail", "xyz"))
    cord = netting_cord(plan.twine, plan.stretched_mesh)
    return weave(fabric, Cloth(TAIL, plan.bar, cord, plan.hoops[-1].knot_row), tail, knots, Seat(gather))
