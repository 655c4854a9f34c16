"""The marks sheet: where the chalk goes on every hoop."""

from __future__ import annotations

from net3d.plan.plan import HoopPlan, Plan
from net3d.sheets.cautions import BENDING
from net3d.sheets.sheets import Cell, Column, Sheet
from net3d.spec.spec import NetSpec

NOTES = (
    "Measure with the tape around the outside of the hoop, from the reference mark at the top, clockwise "
    "as seen from the mouth.",
    "Every reading is rounded once, so errors do not add up. Stepping one rounded pitch around instead "
    "overshoots the first mark by the figure shown (a minus sign: falls short of it).",
    "Where a row starts half a pitch off, its first mark is not the reference mark: the half mesh before it "
    "turns the row.",
    "Hoops laid nested about one centre, reference marks in line: a straight edge from the centre carries "
    "the outer hoop's marks inward to every hoop whose row starts alike.",
    BENDING,
)


def marks_sheet(spec: NetSpec, plan: Plan) -> Sheet:
    """Tape readings of every mark, one row a hoop; printed one column a hoop.

    Readings and lengths are SI [m] in the cells; the columns name the spec's unit.
    """
    units, step = spec.units, spec.marking.round
    counts = [len(hoop.marks) for hoop in plan.hoops]
    columns = (
        Column("hoop"),
        Column("outside diameter", units, step),
        Column("outside circumference", units, step),
        Column("marks"),
        Column("pitch", units),
        Column("hanging ratio E1"),
        Column("row starts"),
        Column("one pitch on the tape", units, step),
        Column("stepping it overshoots by", units, step),
        *(Column(f"mark {number}", units, step) for number in range(1, max(counts) + 1)),
    )
    rows = tuple(_row(hoop, max(counts)) for hoop in plan.hoops)
    return Sheet("marks", f"{spec.title}: marks on the hoops", columns, rows, NOTES, read_down=True)


def _row(hoop: HoopPlan, length: int) -> tuple[Cell, ...]:
    readings: list[Cell] = [float(mark) for mark in hoop.marks]
    return (
        hoop.number,
        hoop.outside_diameter,
        hoop.circumference,
        len(readings),
        hoop.pitch,
        hoop.hanging_ratio,
        "half a pitch off" if hoop.half_pitch_off else "on the reference mark",
        hoop.stepped_pitch,
        hoop.stepping_error,
        *readings,
        *[None] * (length - len(readings)),
    )
