"""What the hoops do: slide along the net, keep a rod's distance, or stand still."""

from __future__ import annotations

from net3d.netting.fabric import Seat
from net3d.netting.netting import Carrier
from net3d.parts import Part
from net3d.plan.plan import HoopPlan, Plan
from net3d.spec.spec import NetSpec


def hoop_seat(hoop: HoopPlan, inside: float | None = None) -> Seat:
    """Where knots sit on a hoop: inside its rod, or ``inside`` its outline by so much [m]."""
    return Seat(hoop.number - 1, hoop.outline, hoop.rod_diameter if inside is None else inside)


def hoop_carriers(spec: NetSpec, plan: Plan) -> list[Carrier]:
    """One carrier a hoop; one at the end of spreader rods keeps its distance from the hoop before.

    A hoop that the anchor holds directly stands still. Where any hoop is bowed or oval, all hoops also tilt
    freely; flat and round ones have no cause to.
    """
    tilts = not all(hoop.is_true for hoop in plan.hoops)
    held = _held_hoop(spec, plan)
    spacings = [None, *(section.spacing for section in plan.sections)]
    return [
        Carrier(
            Part.hoop(number + 1).name,
            "" if number == held else "x",
            None if spacing is None else number - 1,
            spacing or 0.0,
            tilts=tilts,
        )
        for number, spacing in enumerate(spacings)
    ]


def _held_hoop(spec: NetSpec, plan: Plan) -> int | None:
    """The hoop, counted from 0, that the anchor holds without tail or bridle between them."""
    if spec.rigging.anchor == "tail":
        return None if plan.tail else len(plan.hoops) - 1
    return 0 if spec.rigging.bridle is None else None
