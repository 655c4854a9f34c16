"""What an old net still gives: its whole pieces, and which parts of another net they make."""

from __future__ import annotations

from net3d.mending.lattice import lattice_of
from net3d.mending.pieces import Whole, knots_along, whole_pieces
from net3d.mending.torn import holes_of
from net3d.plan.plan import Plan
from net3d.shop.reuse import Made, made_of, wanted_parts
from net3d.spec.spec import NetSpec
from net3d.tables.sheet import Column, Sheet, noted

CUT = (
    "Rows and knots are those of the knitting table (net3d cuts). Each piece is the largest that those above "
    "it leave, tubes first where they make more of the other net. Cut the lacing first, and cut beside the "
    "piece, so that its own edge knots hold."
)
WANTED = (
    "Largest parts are served first, each by as few panels as do, wider by what seams take up. A part that "
    "loses meshes is cut to shape from a piece as wide as its wide end. What no piece makes is to be knit or "
    "bought."
)


Cut = tuple[Whole, ...]


def pieces_of(spec: NetSpec, plan: Plan, tubes: bool = False) -> Cut:
    """The whole pieces of a net's body, the largest first; tubes before all others where they are wanted."""
    torn = frozenset[int]().union(*(hole.bars for hole in holes_of(spec, plan) if hole.throat is None))
    return whole_pieces(lattice_of(*plan.body), torn, tubes)


def best_cut(spec: NetSpec, plan: Plan, wanted: tuple[NetSpec, Plan]) -> tuple[Cut, tuple[Made, ...]]:
    """The pieces that make more of another net, the largest or tubes first, and what they make of it."""
    other, its_plan = wanted
    ways = []
    for tubes in (True, False):
        cut = pieces_of(spec, plan, tubes)
        made = made_of(wanted_parts(its_plan), cut, spec.netting.stretched, other.lacing.take_up)
        ways.append((sum(one.wanted.meshes for one in made if one.pieces), cut, made))
    _, cut, made = max(ways, key=lambda way: way[0])
    return cut, made


def pieces_sheet(spec: NetSpec, plan: Plan, found: Cut) -> Sheet:
    """One row a whole piece of the body."""
    columns = (
        Column("piece", "piece"),
        Column("shape", "shape"),
        Column("meshes_across", "meshes across"),
        Column("meshes_deep", "meshes deep"),
        Column("rows", "rows of knots"),
        Column("knots", "knots in its first row"),
    )
    lattice = lattice_of(*plan.body)
    rows = tuple(
        (
            number,
            "tube" if one.ring else "sheet",
            one.across / 2,
            one.deep / 2,
            f"{one.row} to {one.row + one.deep}",
            "all" if one.ring else "{} to {}".format(*knots_along(lattice, one)),
        )
        for number, one in enumerate(found, start=1)
    )
    notes = noted("how", CUT)
    return Sheet("whole_pieces", f"{spec.title}: what is whole", spec.tape, columns, rows, notes)


def reuse_sheet(spec: NetSpec, other: NetSpec, found: tuple[Made, ...]) -> Sheet:
    """One row a part of the wanted net, by the pieces that make it."""
    columns = (
        Column("part", "part"),
        Column("meshes_around", "meshes around"),
        Column("meshes_deep", "meshes deep"),
        Column("made_of", "made of"),
        Column("seams", "seams"),
    )
    rows = tuple(
        (one.wanted.part.title, one.wanted.around / 2, one.wanted.deep / 2, _told(one), one.seams)
        for one in found
    )
    title = f"{other.title}: from {spec.title}"
    return Sheet("reuse", title, other.tape, columns, rows, noted("how", WANTED))


def _told(made: Made) -> str:
    if not made.pieces:
        return "knit or buy"
    if not made.seams:
        return f"a tube of piece {made.pieces[0]}"
    times = [f"{made.pieces.count(number)} of piece {number}" for number in dict.fromkeys(made.pieces)]
    return ", ".join(times)
