"""From the spec to the plan: rows, ratios, marks, knots and twine of the body."""

from __future__ import annotations

from itertools import accumulate
from math import pi, sqrt

from net3d.plan.marking import mark_readings, step_around
from net3d.plan.plan import HoopPlan, Plan, SectionPlan
from net3d.spec.spec import HoopSpec, NetSpec

KNOT_TWINE = 16.0  # twine in a single sheet bend a mesh, in twine diameters: see twine_length


def lay_out(spec: NetSpec) -> Plan:
    """Work out the whole-number arithmetic of a net.

    Rows of knots are counted from the mouth hoop, two to a mesh; the knots of every other row stand
    half a pitch off the reference mark.
    """
    sections = _sections(spec)
    knot_rows = [0, *accumulate(section.bar_rows for section in sections)]
    tail_rows = round(2 * spec.tail.deep) if spec.tail else 0
    meshes_deep = (knot_rows[-1] + tail_rows) / 2
    around, stretched, twine = spec.netting.around, spec.netting.stretched, spec.twine
    length = twine_length(around, meshes_deep, stretched, twine.diameter)
    return Plan(
        meshes_around=around,
        stretched_mesh=stretched,
        twine=twine,
        hoops=tuple(
            _hoop(spec, hoop, number, row)
            for number, (hoop, row) in enumerate(zip(spec.hoops, knot_rows, strict=True), start=1)
        ),
        sections=sections,
        tail_rows=tail_rows,
        knots=round(2 * around * meshes_deep),
        twine_length=length,
        twine_mass=length * twine.mass_per_length,
    )


def twine_length(around: int, deep: float, stretched: float, diameter: float) -> float:
    """Twine in a tube of netting, its knots counted [m].

    ``L = 2 M N (m + 16 d)`` for the single sheet bend, M meshes around, N deep, stretched mesh m and
    twine diameter d in [m]. Form: lecture notes after Fridman, Calculations for Fishing Gear Designs,
    FAO 1986; the factor 16 from memory.

    >>> round(twine_length(100, 10, 0.1, 0.001), 3)
    232.0
    """
    return 2.0 * around * deep * (stretched + KNOT_TWINE * diameter)


def hanging_ratios(knot_circle_diameter: float, around: int, stretched: float) -> tuple[float, float]:
    """Hanging ratios across and along a hoop, ``E1 = pi d / (N m)`` and ``E2 = sqrt(1 - E1^2)``.

    Terms of ISO 1107; lengths in [m]. Raises ValueError for E1 >= 1, which cannot be tied.

    >>> e1, e2 = hanging_ratios(0.6 / pi, 12, 0.1)
    >>> round(e1, 3), round(e2, 4)
    (0.5, 0.866)
    """
    across = pi * knot_circle_diameter / (around * stretched)
    if across >= 1.0:
        raise ValueError(f"E1 is {across:.3f}: the meshes do not reach around the hoop")
    return across, sqrt(1.0 - across**2)


def _sections(spec: NetSpec) -> tuple[SectionPlan, ...]:
    pairs = zip(spec.sections.deep, spec.sections.spacing, strict=True)
    return tuple(
        SectionPlan(number, number + 1, round(2 * deep), spacing)
        for number, (deep, spacing) in enumerate(pairs, start=1)
    )


def _hoop(spec: NetSpec, hoop: HoopSpec, number: int, knot_row: int) -> HoopPlan:
    around, step = spec.netting.around, spec.marking.round
    circumference = pi * hoop.diameter
    pitch = circumference / around
    half_pitch_off = knot_row % 2 == 1
    offset = pitch / 2 if half_pitch_off else 0.0
    across, along = hanging_ratios(hoop.diameter - 2 * hoop.rod, around, spec.netting.stretched)
    stepped_pitch, stepping_error = step_around(circumference, around, step)
    return HoopPlan(
        number=number,
        outside_diameter=hoop.diameter,
        rod_diameter=hoop.rod,
        material=hoop.material,
        knot_row=knot_row,
        meshes_around=around,
        pitch=pitch,
        hanging_ratio=across,
        depth_ratio=along,
        half_pitch_off=half_pitch_off,
        mark_offset=offset,
        marks=mark_readings(circumference, around, offset, step),
        stepped_pitch=stepped_pitch,
        stepping_error=stepping_error,
    )
