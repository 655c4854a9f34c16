"""The knitting sheet: every row of knots in order, and where meshes are taken together or hung on."""

from __future__ import annotations

from collections.abc import Sequence

from net3d.plan.decreases import Piece
from net3d.plan.guides import GuidePlan
from net3d.plan.plan import HoopPlan, Plan, ThroatPlan
from net3d.shop.escapes import escape_knots
from net3d.shop.guides import guide_knots
from net3d.shop.knitting import EXTRA, KnitRow, knit_rows, single_rows
from net3d.spec.spec import NetSpec
from net3d.tables.cautions import RUNNING_TWINE
from net3d.tables.sheet import Cell, Column, Note, Sheet, noted

NUMBERING = (
    "Hang a marker thread at the reference mark. Knot 1 of every row is the first at the marker or behind it,"
    " clockwise as seen from the mouth. Loop 1 hangs between knots 1 and 2, the last one between the last"
    " knot and knot 1. Every knot takes one loop, in order, but for those named."
)
TOGETHER = "5+6: loops 5 and 6 are taken together in one knot, and the row has a mesh less."
HUNG_ON = f"{EXTRA}5: an extra loop hung on knot 5 of the row above, and the row has a mesh more."


def knitting_sheet(spec: NetSpec, plan: Plan, each: bool = False) -> Sheet:
    """Rows of knots, two to a mesh, counted from the row that the part hangs from.

    Plain rows that follow each other stand in one line, unless ``each`` row is to have its own.
    """
    columns = (
        Column("part", "part"),
        Column("from_row", "from row"),
        Column("to_row", "to row"),
        Column("knots_in_row", "knots in a row"),
        Column("first_loop", "knot 1 takes loop"),
        Column("taken_together", "taken together"),
        Column("extra_loop_knots", "extra loop on knot"),
        Column("knots", "knots tied"),
        Column("then", "then"),
    )
    rows = [*_body(plan, each), *(row for throat in plan.throats for row in _throat(throat, each))]
    rows += [row for guide in plan.guides for row in _guide(guide)]
    title = f"{spec.title}: knitting, row by row"
    return Sheet("cuts", title, spec.tape, columns, tuple(rows), _notes(spec, plan))


def _body(plan: Plan, each: bool) -> list[tuple[Cell, ...]]:
    """The body from the mouth, its rows numbered on through all sections and the tail."""
    rows: list[tuple[Cell, ...]] = [_cast_on("body", plan.meshes_around, _joins(plan, plan.hoops[0]))]
    for section in plan.sections:
        start, hoop = plan.hoops[section.from_hoop - 1].knot_row, plan.hoops[section.to_hoop - 1]
        rows += _knitted("body", _rows(section.piece, each), start, _joins(plan, hoop))
    if plan.tail is not None:
        tail = _rows(plan.tail, each)
        rows += _knitted("body", tail, plan.hoops[-1].knot_row, "drawstring through the last row")
    return rows


def _throat(throat: ThroatPlan, each: bool) -> list[tuple[Cell, ...]]:
    end = "a string on every knot" if throat.tip_line is None else "a line through the last row"
    return [
        _cast_on(throat.part.name, throat.piece.rows[0].count, f"lace to hoop {throat.hoop}"),
        *_knitted(throat.part.name, _rows(throat.piece, each), 0, end),
    ]


def _guide(guide: GuidePlan) -> list[tuple[Cell, ...]]:
    """A flat piece; of a wing on both sides what one takes."""
    long, deep = guide.spec.long, guide.spec.deep
    pieces = f"; {len(guide.sides)} of them" if len(guide.sides) > 1 else ""
    flat = f"cast on along the float line, flat{pieces}"
    return [
        (guide.part.name, 0, 0, long, flat, "", "", None, "float line"),
        (guide.part.name, 1, 2 * deep, long, "1, back and forth", "", "", guide.knots, "lead line"),
    ]


def _joins(plan: Plan, hoop: HoopPlan) -> str:
    throats = [f" with throat {throat.number}" for throat in plan.throats if throat.hoop == hoop.number]
    return f"hoop {hoop.number}{''.join(throats)}"


def _cast_on(part: str, count: int, then: str) -> tuple[Cell, ...]:
    return (part, 0, 0, count, "cast on, close the round", "", "", None, then)


def _rows(piece: Piece, each: bool) -> Sequence[KnitRow]:
    return single_rows(piece) if each else knit_rows(piece)


def _knitted(part: str, rows: Sequence[KnitRow], start: int, then: str) -> list[tuple[Cell, ...]]:
    return [_row(part, row, start, then if row is rows[-1] else "") for row in rows]


def _row(part: str, row: KnitRow, start: int, then: str) -> tuple[Cell, ...]:
    return (
        part,
        start + row.first,
        start + row.last,
        row.knots,
        " and ".join(row.starts) + (" in turn" if len(row.starts) > 1 else ""),
        ", ".join(row.together),
        ", ".join(map(str, row.extras)),
        row.knots * (row.last - row.first + 1),
        then,
    )


def _notes(spec: NetSpec, plan: Plan) -> tuple[Note, ...]:
    bar = spec.tape.mesh(plan.bar)
    throats, guides = ([piece.twine.name for piece in kind] for kind in (plan.throats, plan.guides))
    twines = dict.fromkeys([plan.twine.name, *throats, *guides])
    knots = plan.knots + sum(throat.knots for throat in plan.throats)
    knots += guide_knots(plan) + escape_knots(plan)
    changes = [
        change
        for piece in (*plan.body, *(throat.piece for throat in plan.throats))
        for change in piece.changes
    ]
    twine = (
        f"Twine {', '.join(twines)}; bar {bar}, knot to knot. {knots:,} knots in all. "
        "Every row makes the part half a mesh deeper."
    )
    how = [
        NUMBERING,
        *([TOGETHER] if any(change.batings for change in changes) else []),
        *([HUNG_ON] if any(change.creasings for change in changes) else []),
    ]
    return (
        *noted("fact", twine),
        *noted("how", *how),
        *noted("fact", *_gauges(spec, plan)),
        *noted("caution", RUNNING_TWINE),
    )


def _gauges(spec: NetSpec, plan: Plan) -> list[str]:
    """Throats, wings and leaders of another mesh than the body's."""
    pieces = [(throat.part, throat.stretched_mesh, throat.twine) for throat in plan.throats]
    pieces += [(guide.part, guide.spec.stretched, guide.twine) for guide in plan.guides]
    return [
        f"{part.name} is knitted on another gauge: bar {spec.tape.mesh(stretched / 2)}, twine {twine.name}."
        for part, stretched, twine in pieces
        if stretched != plan.stretched_mesh
    ]
