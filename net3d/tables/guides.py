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


PAIR = (
    "The far end of the leader is tied to the middle of the mouth of a second net alike, which faces this "
    "one. Both mouths are taken to stand still; where the leader is drawn straight its lines bear half each "
    "of what the nets are pulled with. The second net is taken to be dragged as this one is."
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
        Column("float_size", "a float is thick", "reading"),
        Column("lead_size", "a lead is thick", "reading"),
        Column("held_by", "its ends are held by"),
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
        floats.thick,
        leads.thick,
        held_by(spec, guide),
    )


def held_by(spec: NetSpec, guide: GuidePlan) -> str:
    """What holds its far end, and each of its bends, in a few words."""
    anchor, tape = guide.spec.anchor, spec.tape
    if guide.spec.pair:
        return "the mouth of a second net"
    count = f"{guide.holds} " if guide.holds > 1 else "a "
    if anchor is None:
        return f"{count}stake{'s' if guide.holds > 1 else ''}"
    on = f"a {anchor.type} of {tape.mass(anchor.weight)}"
    return f"{count}pole{'s, each' if guide.holds > 1 else ''} with {on}"


def bends_text(guide: GuidePlan) -> str:
    """Where it turns: "after 20 meshes 30 degrees to the side"; empty where it does not."""
    turns = (
        f"after {bend.after} meshes {abs(bend.angle):g} degrees {'out' if bend.angle > 0 else 'back'}"
        if bend.angle
        else f"after {bend.after} meshes straight ahead"
        for bend in guide.spec.bends
    )
    return ", ".join(turns)


def standing_guides_sheet(design: Design) -> Sheet:
    """How each stands in still water and in every current that the spec names, a side a row. Cells are SI."""
    columns = (
        Column("guide", "which"),
        Column("current", "current", "speed"),
        Column("height", "stands high", "reading"),
        Column("gap", "lead line lifts by", "reading"),
        Column("sag", "bellies by", "reading"),
        Column("drag", "the river pulls", "force"),
        Column("mouth_pull", "the mouth bears", "force"),
        Column("stake_pull", "far end bears", "force"),
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
        "Floats are drawn, and their size told, as cylinders of cork half as long again as thick, leads of "
        "lead three times as long: choose yours by what they lift and weigh.",
        *(
            f"{guide.part.title.capitalize()} turns {bends_text(guide)}."
            for guide in plan.guides
            if guide.spec.bends
        ),
        *([PAIR] if plan.pair else []),
    )
    return (*noted("how", *how), *noted("caution", LINES, LOCAL_CODE)) if plan.guides else ()
