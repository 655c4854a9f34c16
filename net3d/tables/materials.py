"""The materials sheet: twine, rod, rope and dip that the net takes."""

from __future__ import annotations

from collections.abc import Sequence

from net3d.handbook.allowances import allowance
from net3d.plan.plan import Plan
from net3d.shop.amounts import Amount, amounts
from net3d.spec.spec import NetSpec
from net3d.tables.cautions import DIP, LOCAL_CODE, ON_THE_WATER, RUNNING_TWINE, WILDLIFE
from net3d.tables.sheet import Cell, Column, Note, Sheet, noted

ITEMS = {  # what the maker calls them
    "netting_twine": "netting twine",
    "sheet_netting": "sheet netting",
    "lacing_twine": "lacing twine",
    "seam_twine": "seam twine",
    "strings": "strings of throat {throat}",
    "tip_line": "line through the tip of throat {throat}",
    "hoop_rod": "hoop rod",
    "bridle": "bridle legs",
    "anchor_line": "anchor line",
    "rib_line": "rib lines",
    "drawstring": "drawstring",
    "float_line": "float line of {guide}",
    "lead_line": "lead line of {guide}",
    "floats": "floats of {guide}",
    "leads": "leads of {guide}",
    "stakes": "stakes of {guide}",
    "poles": "poles of {guide}",
    "guide_anchors": "anchors of {guide}",
    "anchor_lines": "lines to the anchors of {guide}",
    "escape_frame": "frame of escape {escape}",
    "escape_lacing": "lacing of escape {escape}",
    "escape_line": "lines of escape {escape}",
    "escape_float": "float of escape {escape}",
    "rotting_thread": "thread that rots, of escape {escape}",
    "hanging_twine": "twine to hang netting on its lines",
    "dip": "net dip",
}
ONE_OF_PAIR = (
    "For one net of the pair and the leader between them: the second net takes the same again, without what "
    "is of the leader. The shopping list is for both."
)
BY_THE_NEEDLE = ("netting_twine", "lacing_twine", "seam_twine", "hanging_twine")
CAUTIONS = (DIP, RUNNING_TWINE, ON_THE_WATER, WILDLIFE, LOCAL_CODE)


def materials_sheet(spec: NetSpec, plan: Plan, strings: Sequence[float] = ()) -> Sheet:
    """What the net takes; ``strings`` are the lengths of every throat's strings [m]. Cells are SI [m, kg]."""
    columns = (
        Column("item", "item"),
        Column("what", "what"),
        Column("pieces", "pieces"),
        Column("length", "length of each", "cut"),
        Column("cut_length", "cut to", "cut"),
        Column("total_length", "length in all", "run"),
        Column("weight", "weight", "mass"),
        Column("knots", "knots"),
        Column("needle_fills", "needle fills"),
    )
    rows = tuple(_row(spec, amount) for amount in amounts(spec, plan, strings))
    return Sheet("materials", f"{spec.title}: materials", spec.tape, columns, rows, _notes(spec, plan))


def what(spec: NetSpec, amount: Amount) -> str:
    """What a thing is made of, in the shop's words."""
    if amount.twine is not None:
        return amount.twine.name
    if amount.rod is not None:
        return f"{amount.rod[0]}, {spec.tape.thickness(amount.rod[1])}"
    if amount.rope is not None:
        return f"rope, {spec.tape.thickness(amount.rope)}"
    if amount.each is not None:
        does = "lift" if amount.item in {"floats", "escape_float"} else "weigh"
        return f"{does} {spec.tape.force(amount.each)} each in water"
    return amount.made_of


def _row(spec: NetSpec, amount: Amount) -> tuple[Cell, ...]:
    named = amount.guide.title if amount.guide else ""
    by_needle = amount.item in BY_THE_NEEDLE
    return (
        ITEMS.get(amount.item, amount.item).format(throat=amount.throat, guide=named, escape=amount.escape),
        what(spec, amount),
        amount.pieces,
        amount.length,
        amount.cut_length,
        amount.total,
        amount.mass,
        amount.knots,
        _fills(spec, amount.total) if by_needle and amount.total is not None else None,
    )


def _fills(spec: NetSpec, length: float) -> int:
    """Needles to fill for a length of twine, the last one not full."""
    return int(-(-length // (spec.stock.needle or allowance("needle_fill"))))


def _notes(spec: NetSpec, plan: Plan) -> tuple[Note, ...]:
    end, spare = allowance("string_end"), allowance("drawstring_spare")
    needle = spec.stock.needle or allowance("needle_fill")
    how = (
        (
            "Twine in the netting has its knots counted, and nothing added for waste: the shopping list adds"
            " it. Knots of lacing twine are hitches."
        ),
        (
            f"Cut to: a string with {spec.tape.rough(end)} for the knot at either end; rope with an"
            f" eye spliced at either end, {allowance('splice_diameters'):g} times its thickness each; the"
            f" drawstring with {spec.tape.rough(spare)} over. A full needle holds"
            f" {spec.tape.rough(needle)}."
        ),
        "Rod is measured along its middle and ends butt to butt: add what your joint takes.",
        *([ONE_OF_PAIR] if plan.pair else []),
    )
    return (*noted("how", *how), *noted("caution", *CAUTIONS))
