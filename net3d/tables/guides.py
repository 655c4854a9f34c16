"""Wings and leader: their lines, how high they hang, floats and leads."""

from __future__ import annotations

import numpy as np

from net3d.chain import Design
from net3d.plan.guides import GuidePlan
from net3d.plan.plan import Plan
from net3d.shop.guides import lines_of
from net3d.spec.spec import NetSpec
from net3d.tables.cautions import LINES, LOCAL_CODE
from net3d.tables.sheet import Cell, Column, Note, Sheet, noted
from net3d.water.guides import StandingWall

STANDING = (
    "Each is solved by itself: mouth and stake hold its ends and do not give way, its lead line slides over "
    "a flat bottom without friction, and nothing up the stream slows the water.",
    "Height is where the float line is lowest, from a fifth to four fifths of the way out. Netting of very "
    "many meshes is solved and drawn with larger ones, each for several.",
)


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


def standing_guides_sheet(design: Design) -> Sheet:
    """How each stands in still water and in every current that the spec names, a side a row. Cells are SI."""
    columns = (
        Column("guide", "wing or leader"),
        Column("current", "current", "speed"),
        Column("height", "stands high", "reading"),
        Column("gap", "lead line lifts by", "reading"),
        Column("sag", "bellies by", "reading"),
        Column("drag", "the river pulls", "force"),
        Column("mouth_pull", "the mouth bears", "force"),
        Column("stake_pull", "its stake bears", "force"),
        Column("line_tension", "tightest line", "force"),
        Column("rest", "rests"),
    )
    standing = [design.guides, *(row.guides for row in design.loads)]
    rows = tuple(_stood(one) for row in standing for one in row)
    title = f"{design.spec.title}: how wings and leader stand"
    return Sheet("standing_guides", title, design.spec.tape, columns, rows, noted("how", *STANDING))


def _stood(one: StandingWall) -> tuple[Cell, ...]:
    pulls = [float(np.linalg.norm(pull)) for pull in (one.drag, one.mouth_pull, one.stake_pull)]
    place = (one.wall.name.removeprefix("the "), one.current)
    rest = "yes" if one.still else "no: do not trust it"
    return (*place, one.height, one.gap, one.sag, *pulls, one.line_tension, rest)


def _notes(plan: Plan) -> tuple[Note, ...]:
    how = (
        "Tie a mesh to its line every so far as a mesh takes up; the first and the last float or lead stand "
        "half their spacing from the ends.",
        "Lines are taken to weigh nothing in water: heavier rope needs more floats.",
    )
    return (*noted("how", *how), *noted("caution", LINES, LOCAL_CODE)) if plan.guides else ()
