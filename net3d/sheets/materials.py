"""The materials sheet: twine, rod and rope to buy."""

from __future__ import annotations

from collections import Counter
from math import pi

from net3d.plan.plan import HoopPlan, Plan
from net3d.sheets.cautions import DIP, LOCAL_CODE, ON_THE_WATER, RUNNING_TWINE, WILDLIFE
from net3d.sheets.sheets import Cell, Column, Sheet, long_unit
from net3d.spec.spec import NetSpec
from net3d.units import INCH_UNITS, format_length

NOTES = (
    "Netting twine is what the body takes, knots counted; nothing is added for waste. Not counted: lacing "
    "twine (usually a size or two heavier than the netting's), the drawstring, floats and weights.",
    "Rod is measured along its middle and ends butt to butt: add what your joint takes. Rope is from knot "
    "to knot: add what your knots and splices take.",
    DIP,
    RUNNING_TWINE,
    ON_THE_WATER,
    WILDLIFE,
    LOCAL_CODE,
)


def materials_sheet(spec: NetSpec, plan: Plan) -> Sheet:
    """What the body, its hoops and its rigging take. Cells are SI [m, kg]."""
    columns = (
        Column("item"),
        Column("what"),
        Column("pieces"),
        Column("length of each", spec.units, spec.marking.round),
        Column("length in all", long_unit(spec.units)),
        Column("weight", "lb" if spec.units in INCH_UNITS else "kg"),
        Column("knots"),
    )
    netting: tuple[Cell, ...]
    netting = ("netting twine", plan.twine.name, None, None, plan.twine_length, plan.twine_mass, plan.knots)
    rows = (netting, *_rod_rows(spec, plan), *_rope_rows(spec, plan))
    return Sheet("materials", f"{spec.title}: materials", columns, rows, NOTES)


def hoop_rod_length(hoop: HoopPlan) -> float:
    """Rod in a hoop along the middle of the rod, ``pi (D - rod)`` [m].

    Source: circumference of the circle that runs along the middle of a torus's tube.
    """
    return pi * (hoop.outside_diameter - hoop.rod_diameter)


def has_anchor_line(spec: NetSpec, plan: Plan) -> bool:
    """Whether there is an anchor line: from the gathered tail, or from the bridle's ring."""
    if spec.rigging.anchor == "tail":
        return plan.tail_rows > 0
    return spec.rigging.bridle is not None


def _rod_rows(spec: NetSpec, plan: Plan) -> list[tuple[Cell, ...]]:
    alike = Counter((hoop.material, hoop.rod_diameter, hoop_rod_length(hoop)) for hoop in plan.hoops)
    return [
        (
            "hoop rod",
            f"{material}, {format_length(rod, spec.units)} thick",
            count,
            length,
            count * length,
            None,
            None,
        )
        for (material, rod, length), count in alike.items()
    ]


def _rope_rows(spec: NetSpec, plan: Plan) -> list[tuple[Cell, ...]]:
    rigging = spec.rigging
    rope = f"rope, {format_length(rigging.rope, spec.units)} thick"
    rows: list[tuple[Cell, ...]] = []
    if rigging.bridle is not None:
        legs, length = rigging.bridle.legs, rigging.bridle.length
        rows.append(("bridle legs", rope, legs, length, legs * length, None, None))
    if has_anchor_line(spec, plan):
        rows.append(("anchor line", rope, 1, rigging.line, rigging.line, None, None))
    return rows
