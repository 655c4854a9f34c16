"""The cut table: the pieces to cut from sheet netting, how their edges run, and the seams that join them."""

from __future__ import annotations

from collections import Counter

from net3d.plan.cutting import Panel, is_even, panels_of
from net3d.plan.guides import GuidePlan
from net3d.plan.lay_out import lay_out
from net3d.plan.plan import HoopPlan, Plan, ThroatPlan
from net3d.shop.tubes import Tube, tubes
from net3d.spec.changes import vary
from net3d.spec.spec import NetSpec
from net3d.tables.cautions import HOT_KNIFE
from net3d.tables.sheet import Cell, Column, Note, Sheet, noted

CUTS = (
    "Cuts as in ISO 1532, read from the first edge to the last: N along the points, a mesh deep; T straight "
    "across, a mesh wide; B along one bar, half a mesh wide and half a mesh deep. 1N2B x 3 is one N and two "
    "B, three times; out means that the piece gets wider there. An edge that begins with 1/2N begins between "
    "two knots, half a mesh before its first side knot."
)
SEAMS = (
    "Left and right are seen from inside the tube with the first edge up. Lace edge to edge, side knot to "
    "side knot, so that two become one: where both edges are cut B the seam loses a mesh."
)


def panels_sheet(spec: NetSpec, plan: Plan) -> Sheet:
    """One row for all panels that are alike. Cells are SI [m].

    A panel M meshes across and N deep is M m wide and N m long with its meshes pulled shut one way or the
    other, m the stretched mesh.
    """
    columns = (
        Column("piece", "piece"),
        Column("pieces", "pieces"),
        Column("twine", "twine"),
        Column("across_first", "meshes across at first edge"),
        Column("across_last", "meshes across at last edge"),
        Column("meshes_deep", "meshes deep"),
        Column("stretched_width", "stretched width", "run"),
        Column("stretched_length", "stretched length", "run"),
        Column("left_edge", "left edge"),
        Column("right_edge", "right edge"),
        Column("first_edge_to", "first edge to"),
        Column("last_edge_to", "last edge to"),
        Column("first_edge_knots", "knots along first edge"),
        Column("knots", "knots in a piece", told=False),  # its edges' too: more than the net's in all
    )
    rows = tuple(_row(spec, plan, tube, piece) for tube in tubes(plan) for piece in pieces_of(tube))
    rows += tuple(_guide(guide) for guide in plan.guides)
    return Sheet("cuts", f"{spec.title}: pieces to cut", spec.tape, columns, rows, _notes(spec, plan))


def _guide(guide: GuidePlan) -> tuple[Cell, ...]:
    """A straight piece between two lines; nothing is rolled into a seam."""
    said = guide.spec
    edge = f"{said.deep}N"
    return (
        guide.part.title,
        len(guide.sides),
        said.twine.name,
        said.long,
        said.long,
        said.deep,
        said.long * said.stretched,
        said.deep * said.stretched,
        edge,
        edge,
        "float line",
        "lead line",
        said.long,
        guide.knots,
    )


def pieces_of(tube: Tube) -> list[tuple[str, Panel, int]]:
    """The panels of a tube, those alike together: name, panel, how many."""
    counted = Counter(tube.panels)
    if len(counted) == 1:
        return [(tube.name, panel, count) for panel, count in counted.items()]
    return [
        (f"{tube.name} {letter}", panel, count)
        for letter, (panel, count) in zip("ABCD", counted.items(), strict=False)
    ]


def seam_lines(tube: Tube) -> list[str]:
    """Which edge is laced to which, around the tube."""
    names = {panel: name for name, panel, _ in pieces_of(tube)}
    panels = tube.panels
    if len(panels) == 1:
        return [f"{tube.name}: its left edge to its right edge, one seam."]
    if len(names) == 1:
        return [
            f"{tube.name}: {len(panels)} seams, each right edge to the left edge of the next piece around; "
            "all pieces are alike."
        ]
    order = " - ".join(names[panel].removeprefix(tube.name).strip() for panel in panels)
    return [
        f"{tube.name}: {len(panels)} seams, each right edge to the left edge of the next piece around, "
        f"clockwise from the mouth: {order}, and back to the first."
    ]


def _laced_to(plan: Plan, tube: Tube) -> tuple[str, str]:
    """What the first and the last edge of a tube are laced to."""
    throat = tube.throat
    if throat is None:
        return "hoop 1", "drawstring" if plan.tail else f"hoop {len(plan.hoops)}"
    first = f"hoop {throat.hoop}, {'its own marks' if throat.own_marks else 'with the body'}"
    return first, "strings" if throat.tip_line is None else "line through the tip"


def _row(spec: NetSpec, plan: Plan, tube: Tube, piece: tuple[str, Panel, int]) -> tuple[Cell, ...]:
    name, panel, count = piece
    first, last = (across + 2 * spec.lacing.take_up for across in (panel.across_first, panel.across_last))
    return (
        name,
        count,
        tube.twine.name,
        first,
        last,
        panel.deep,
        max(first, last) * tube.stretched_mesh,
        panel.deep * tube.stretched_mesh,
        str(panel.left),
        str(panel.right),
        *_laced_to(plan, tube),
        panel.first_knots,
        panel.knots,
    )


def _notes(spec: NetSpec, plan: Plan) -> tuple[Note, ...]:
    take_up = spec.lacing.take_up
    rolled = (
        f"Every piece is {2 * take_up} meshes wider than the netting it makes: {take_up} of each edge "
        f"{'are' if take_up > 1 else 'is'} rolled into the seam."
        if take_up
        else "Nothing is rolled into the seams: add meshes to both edges if you do."
    )
    cut = tubes(plan)
    joined = sum(tube.seam_knots for tube in cut)
    counted = f"{joined:,} pairs of side knots are laced in the seams, each pair to one."
    return (
        *noted("how", CUTS, SEAMS, *(line for tube in cut for line in seam_lines(tube))),
        *noted(
            "how", *(_uneven(spec, throat) for throat in plan.throats if not is_even(throat.piece.wanted))
        ),
        *noted("fact", counted),
        *noted("how", rolled, _where_hoops_come(plan)),
        *noted("caution", HOT_KNIFE),
    )


def _uneven(spec: NetSpec, throat: ThroatPlan) -> str:
    """That a throat's edges have no cycle to cut by, and how they would run if it lost its meshes evenly."""
    own = spec.throats[throat.number - 1].decreases is not None
    key, where = f"throat.{throat.number}", "where its decreases say" if own else "late"
    note = f"{throat.part.title} loses its meshes {where}, so that its edges are cut in no cycle that repeats"
    changes: dict[str, object] = {f"{key}.taper": "even"} | ({f"{key}.decreases": None} if own else {})
    even = lay_out(vary(spec, changes)).throats[throat.number - 1]  # goes wherever others go
    panels = panels_of((even.piece,))
    edges = dict.fromkeys(str(edge) for panel in panels for edge in (panel.left, panel.right))
    pieces = f"{len(panels)} piece{'s' if len(panels) > 1 else ''}"
    place = " in the place of its decreases" if own else ""
    return f'{note}. With taper = "even"{place} it is cut from {pieces}, the edges {" and ".join(edges)}.'


def _where_hoops_come(plan: Plan) -> str:
    places = ", ".join(f"hoop {hoop.number} {_depth(hoop)}" for hoop in plan.hoops[1:])
    return f"Where the hoops come in, counted from the mouth down the body's points: {places}."


def _depth(hoop: HoopPlan) -> str:
    meshes = hoop.knot_row / 2
    return f"after {meshes:g} meshes ({hoop.meshes_around} around)"
