"""What the hoops do: slide along the net, keep a rod's distance, or stand still."""

from __future__ import annotations

from math import sqrt, tanh

from net3d.handbook.hoops import hoop_materials
from net3d.netting.fabric import Seat
from net3d.netting.netting import Bending, Carrier
from net3d.outline.elastic import Rod
from net3d.outline.modes import frame_modes
from net3d.parts import Part
from net3d.plan.legs import leg_arcs
from net3d.plan.plan import HoopPlan, Plan
from net3d.spec.spec import NetSpec

FIRST_WAVES = (2, 3, 4)


def hoop_seat(hoop: HoopPlan, inside: float | None = None) -> Seat:
    """Where knots sit on a hoop: inside its rod, or ``inside`` its outline by so much [m]."""
    return Seat(hoop.number - 1, hoop.outline, hoop.rod_diameter if inside is None else inside)


def hoop_carriers(spec: NetSpec, plan: Plan) -> list[Carrier]:
    """One carrier a hoop; one at the end of spreader rods keeps its distance from the hoop before.

    A hoop that the anchor holds directly stands still. Where any hoop is bowed or oval, all hoops also tilt
    freely; flat and round ones have no cause to. There, on frames, and where the legs of a bridle pull at the
    mouth hoop, all of them bend as well: a hoop that is bent passes some of it on to the next.
    """
    tilts = not all(hoop.is_true and _stands_upright(spec, hoop) for hoop in plan.hoops)
    numbers, inward = _wave_numbers(spec, plan), _inward_loads(spec, plan)
    held = _held_hoop(spec, plan)
    spacings = [None, *(section.spacing for section in plan.sections)]
    return [
        Carrier(
            Part.hoop(number + 1).name,
            "" if number == held else "x",
            None if spacing is None else number - 1,
            spacing or 0.0,
            tilts=tilts,
            thickness=plan.hoops[number].rod_diameter,
            bends=_bending(spec, plan.hoops[number], numbers, inward[number]) if numbers else None,
        )
        for number, spacing in enumerate(spacings)
    ]


def _bending(spec: NetSpec, hoop: HoopPlan, numbers: tuple[int, ...], inward: float) -> Bending:
    """How a hoop bends, by waves or as a frame; legs bend the mouth's frame where they pull."""
    rod = rod_of(hoop)
    if not hoop.is_frame:
        return Bending(rod, numbers, inward)
    bridle = spec.rigging.bridle if hoop.number == 1 else None
    legs = tuple(leg_arcs(hoop, bridle.legs).tolist()) if bridle else ()
    return Bending(rod, (), inward, frame_modes(rod, hoop.outline, legs))


def _stands_upright(spec: NetSpec, hoop: HoopPlan) -> bool:
    """Whether what pulls at a hoop gives it no cause to lean.

    None has a round hoop, which its netting pulls evenly, nor a frame whose upper half mirrors its lower.
    """
    legs = spec.rigging.bridle.legs if spec.rigging.bridle and hoop.number == 1 else 2
    return hoop.frame is None or (legs % 2 == 0 and hoop.frame.shape != "d")


def rod_of(hoop: HoopPlan) -> Rod:
    """The rod of a planned hoop, bent to a ring."""
    radius = (hoop.outside_diameter - hoop.rod_diameter) / 2
    return Rod(radius, hoop.rod_diameter, hoop_materials()[hoop.material])


def _inward_loads(spec: NetSpec, plan: Plan) -> list[float]:
    """About what draws every hoop inward, to begin from [N/m]: slopes of what pulls, times P / 2 pi R.

    Netting that pulls with P curves inward along the net by ``tan^2 f / R``, f the angle of its bars to
    the axis: a section of length L meets its hoops at a slope of ``L tan^2 f / 2 R``. A gathered tail of n
    bars b long leaves its hoop, of hanging ratio E1, at ``tan f / tanh(n b E1 / R)``, and a bridle's legs of
    length l at ``R / sqrt(l^2 - R^2)``. Source: membrane of revolution under tension in two families of
    lines, derived; the tail's slope from ``r'' = r tan^2 f / R^2``.
    """
    slopes = [0.0] * len(plan.hoops)
    for section in plan.sections:
        for hoop in (plan.hoops[section.from_hoop - 1], plan.hoops[section.to_hoop - 1]):
            length = section.meshes_deep * plan.stretched_mesh * hoop.depth_ratio
            slopes[hoop.number - 1] += length * _steepness(hoop) ** 2 / hoop.outside_diameter
    first, last = plan.hoops[0], plan.hoops[-1]
    if plan.tail:
        length = len(plan.tail.changes) * plan.bar
        slopes[-1] += _steepness(last) / tanh(length * last.hanging_ratio / (last.outside_diameter / 2))
    if spec.rigging.bridle:
        radius = first.outside_diameter / 2
        slopes[0] += radius / sqrt(spec.rigging.bridle.length**2 - radius**2)
    return [
        spec.rigging.still_pull * slope / hoop.circumference
        for slope, hoop in zip(slopes, plan.hoops, strict=True)
    ]


def _steepness(hoop: HoopPlan) -> float:
    """Tangent of the angle of the bars at a hoop to the axis [-]."""
    return hoop.hanging_ratio / hoop.depth_ratio


def _wave_numbers(spec: NetSpec, plan: Plan) -> tuple[int, ...]:
    """Waves by which the hoops bend, none where nothing bends them.

    What a wave costs grows with the fourth power of its number, so that few tell: with those up to 6 in place
    of 4 a bow of 10 mm came out the same within a hundredth of a millimetre.
    """
    own = {number for hoop in plan.hoops for number in hoop.outline.wave_numbers}
    legs = spec.rigging.bridle.legs if spec.rigging.bridle else 0
    if not own and not legs and not any(hoop.is_frame for hoop in plan.hoops):
        return ()
    return tuple(sorted({*FIRST_WAVES, *own, *({legs, 2 * legs} if legs else ())}))


def _held_hoop(spec: NetSpec, plan: Plan) -> int | None:
    """The hoop, counted from 0, that the anchor holds without tail or bridle between them."""
    if spec.rigging.anchor == "tail":
        return None if plan.tail else len(plan.hoops) - 1
    return 0 if spec.rigging.bridle is None else None
