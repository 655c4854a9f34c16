"""The cuts sheet: what to knit or cut for the body, part by part from the mouth."""

from __future__ import annotations

from net3d.plan.plan import Plan
from net3d.sheets.cautions import HOT_KNIFE, RUNNING_TWINE
from net3d.sheets.sheets import Cell, Column, Sheet, long_unit
from net3d.spec.spec import NetSpec

STRAIGHT_EDGE = "straight down the points, all N"


def cuts_sheet(spec: NetSpec, plan: Plan) -> Sheet:
    """The parts of the body in the order they are worked, and the whole in the last row.

    A tube M meshes around and N deep is M m wide and N m long with its meshes pulled shut one way
    or the other, m the stretched mesh. Cells are SI [m]. Cuts are named as in ISO 1532.
    """
    run = long_unit(spec.units)
    columns = (
        Column("part"),
        Column("twine"),
        Column("pieces"),
        Column("meshes across at mouth end"),
        Column("meshes across at tail end"),
        Column("meshes deep"),
        Column("half-mesh rows"),
        Column("begins after row"),
        Column("laced to"),
        Column("stretched width", run),
        Column("stretched length", run),
        Column("side edges"),
    )
    sheet_made = spec.netting.made == "sheet"
    rows = _rows(plan, STRAIGHT_EDGE if sheet_made else "none, in the round")
    return Sheet("cuts", f"{spec.title}: netting for the body", columns, rows, _notes(plan, sheet_made), True)


def _rows(plan: Plan, edges: str) -> tuple[tuple[Cell, ...], ...]:
    starts = [hoop.knot_row for hoop in plan.hoops]
    parts = [
        (section.part, section.bar_rows, start, f"hoops {section.from_hoop} and {section.to_hoop}")
        for section, start in zip(plan.sections, starts, strict=False)
    ]
    if plan.tail_rows:
        parts.append(("tail", plan.tail_rows, starts[-1], f"hoop {len(plan.hoops)}"))
    whole = ("whole body", starts[-1] + plan.tail_rows, 0, "")
    return tuple(
        _row(plan, part, (1 if part is whole else None, edges if part is whole else ""))
        for part in [*parts, whole]
    )


def _row(plan: Plan, part: tuple[str, int, int, str], piece: tuple[int | None, str]) -> tuple[Cell, ...]:
    name, bar_rows, start, laced = part
    count, edges = piece
    around, mesh = plan.meshes_around, plan.stretched_mesh
    return (
        name,
        plan.twine.name,
        count,
        around,
        around,
        bar_rows / 2,
        bar_rows,
        start,
        laced,
        around * mesh,
        bar_rows / 2 * mesh,
        edges,
    )


def _notes(plan: Plan, sheet_made: bool) -> tuple[str, ...]:
    around, rows = plan.meshes_around, plan.hoops[-1].knot_row + plan.tail_rows
    hoops = ", ".join(f"hoop {hoop.number} after row {hoop.knot_row}" for hoop in plan.hoops[1:])
    if sheet_made:
        return (
            f"One piece, {around} meshes across and {rows / 2:g} deep, both sides cut straight down the "
            "points (N cuts), closed to a tube by one seam.",
            f"{around} is what goes around once the seam is closed: a seam that takes up meshes needs as "
            "many more across.",
            f"Counting half-mesh rows from the mouth: {hoops}.",
            HOT_KNIFE,
        )
    return (
        f"Cast on {around} meshes at the mouth, close the round, and knit {rows} rows of knots; each row "
        "makes the net half a mesh deeper. The count stays the same all the way.",
        f"Rows from the mouth: {hoops}.",
        RUNNING_TWINE,
    )
