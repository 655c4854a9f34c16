"""Wings and leader: their lines, how high they hang, floats and leads."""

from __future__ import annotations

from net3d.plan.guides import GuidePlan
from net3d.plan.plan import Plan
from net3d.shop.guides import lines_of
from net3d.spec.spec import NetSpec
from net3d.tables.cautions import LINES, LOCAL_CODE
from net3d.tables.sheet import Cell, Column, Note, Sheet, noted


def guides_sheet(spec: NetSpec, plan: Plan) -> Sheet:
    """A row for each; what is on both sides of the mouth stands once. Cells are SI [m, N, kg]."""
    columns = (
        Column("guide", "wing or leader"),
        Column("pieces", "pieces"),
        Column("meshes_long", "meshes long"),
        Column("meshes_deep", "meshes deep"),
        Column("stretched_mesh", "stretched mesh", "reading"),
        Column("hanging_ratio", "hung at"),
        Column("float_line", "float line, along the netting", "cut"),
        Column("float_line_cut", "cut to", "cut"),
        Column("lead_hanging_ratio", "lead line hung at"),
        Column("lead_line", "lead line, along the netting", "cut"),
        Column("lead_line_cut", "lead line cut to", "cut"),
        Column("taken_up", "a mesh takes up on the float line", "reading"),
        Column("height", "stands high", "reading"),
        Column("netting_weight", "netting weighs in water", "force"),
        Column("floats", "floats"),
        Column("float_lift", "one lifts", "force"),
        Column("float_spacing", "floats apart", "reading"),
        Column("leads", "leads"),
        Column("lead_weight", "one weighs, in air", "mass"),
        Column("lead_spacing", "leads apart", "reading"),
    )
    rows = tuple(_row(spec, guide) for guide in plan.guides)
    return Sheet("guides", f"{spec.title}: wings and leader", spec.tape, columns, rows, _notes(plan), True)


def _row(spec: NetSpec, guide: GuidePlan) -> tuple[Cell, ...]:
    said, floats, leads = guide.spec, guide.float_line, guide.lead_line
    cut = [line.cut_length for line in lines_of(spec, guide)]
    return (
        guide.part.title,
        len(guide.sides),
        said.long,
        said.deep,
        said.stretched,
        said.hanging,
        floats.length,
        cut[0],
        said.lead_hanging,
        leads.length,
        cut[1],
        floats.length / said.long,
        guide.height,
        guide.weight,
        floats.pieces,
        floats.each,
        floats.apart,
        leads.pieces,
        leads.mass,
        leads.apart,
    )


def _notes(plan: Plan) -> tuple[Note, ...]:
    how = (
        "Tie a mesh to its line every so far as a mesh takes up; the first and the last float or lead stand "
        "half their spacing from the ends.",
        "Lines are taken to weigh nothing in water: heavier rope needs more floats.",
    )
    return (*noted("how", *how), *noted("caution", LINES, LOCAL_CODE)) if plan.guides else ()
