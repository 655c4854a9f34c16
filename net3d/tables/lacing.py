"""The lacing sheet: how each hoop is sewn in."""

from __future__ import annotations

from net3d.plan.plan import Plan
from net3d.shop.lacing import lace
from net3d.spec.spec import NetSpec
from net3d.tables.cautions import BENDING, HOT_KNIFE
from net3d.tables.marks import layers_text
from net3d.tables.sheet import Column, Note, Sheet, noted

NOTES = (
    "Where a throat joins, every hitch takes the knot of the body and the knot of the throat together.",
    "Lacing twine wears before the netting does. When it is worn, cut it out and lace the hoop anew.",
)


def lacing_sheet(spec: NetSpec, plan: Plan) -> Sheet:
    """One row for each row of netting that is sewn to a hoop, mouth first. Cells are SI [m]."""
    columns = (
        Column("hoop", "hoop"),
        Column("takes", "takes"),
        Column("knot_row", "row of knots"),
        Column("knots", "knots"),
        Column("hitches_per_knot", "hitches a knot"),
        Column("hitches", "hitches"),
        Column("twine", "lacing twine", "run"),
    )
    rows = tuple(
        (
            row.hoop,
            layers_text(row.body, row.throats),
            plan.hoops[row.hoop - 1].knot_row if row.body else 0,
            row.knots,
            row.hitches_per_knot,
            row.hitches,
            row.length,
        )
        for row in lace(plan, spec.lacing)
    )
    title = f"{spec.title}: lacing the hoops"
    return Sheet("lacing", title, spec.tape, columns, rows, _notes(spec, plan))


def _notes(spec: NetSpec, plan: Plan) -> tuple[Note, ...]:
    lacing, netting = spec.lacing.twine, plan.twine
    ratio = lacing.tex / netting.tex
    heavier = f"{ratio:.2g} times the weight of the netting's {netting.name}, so that it outlasts it"
    turned = any(hoop.meshes_turned for hoop in plan.hoops)
    line = "each hoop turned as its page says" if turned else "the reference marks of all hoops in line"
    inside = (
        "Netting on the inside of the hoop, its knots inside the rod, where the bottom cannot wear them; knot"
        f" by knot on the marks, {line}."
    )
    same = "as the netting's: no heavier one of its kind is in the table, so look it over often"
    with_what = f"Lace with {lacing.name}, {heavier if ratio > 1 else same}."
    return (*noted("how", with_what, inside, *NOTES), *noted("caution", BENDING, HOT_KNIFE))
