"""Shopping list, hours of work, and the maker's own reckoning of the price."""

from __future__ import annotations

from collections.abc import Sequence

from net3d.handbook.allowances import allowance, allowance_source
from net3d.plan.plan import Plan
from net3d.shop.costing import Price, Purchase, price, shopping, work
from net3d.spec.spec import NetSpec
from net3d.tables.sheet import Cell, Column, Note, Sheet, noted

ITEMS = {  # what the maker calls what is bought
    "sheet_netting": "sheet netting",
    "twine": "twine",
    "hoops": "hoops",
    "rope": "rope",
    "dip": "net dip",
    "anchor": "anchor",
    "floats": "floats",
    "leads": "leads",
    "stakes": "stakes",
    "poles": "poles",
    "escape_frame": "frames of ways out",
}
BOTH = "For both nets of the pair and the one leader between them."
WORK = {
    "knitting": "knitting",
    "cutting": "cutting",
    "seaming": "seaming",
    "lacing": "lacing the hoops",
    "throats": "hanging the throats",
    "hanging": "hanging wings and leader on their lines",
    "escapes": "lacing ways out",
    "fitting": "marking, rigging, dipping, looking it over",
}


def shopping_sheet(spec: NetSpec, plan: Plan, strings: Sequence[float] = ()) -> Sheet:
    """What to buy, rounded up to how it is sold; ``strings`` are the throats' string lengths [m]."""
    columns = (
        Column("item", "to buy"),
        Column("what", "what"),
        Column("needed", "needed"),
        Column("sold_by", "sold by"),
        Column("count", "buy"),
        Column("price", "each", "money"),
        Column("cost", "cost", "money"),
    )
    rows = tuple(_bought(spec, one) for one in shopping(spec, plan, strings))
    title = f"{spec.title}: shopping list"
    return Sheet("shopping", title, spec.tape, columns, rows, _shopping_notes(spec, plan))


def hours_sheet(spec: NetSpec, plan: Plan) -> Sheet:
    """Hours of every kind of work, at the spec's rates."""
    done = work(spec, plan)
    columns = (
        Column("work", "work"),
        Column("amount", "how many"),
        Column("rate", "an hour"),
        Column("hours", "hours", "hours"),
    )
    rows: list[tuple[Cell, ...]] = [
        (
            WORK[one.work],
            "" if one.number is None else f"{one.number:,.0f} {one.counted}",
            one.rate,
            one.hours,
        )
        for one in done
    ]
    rows.append(("all of it", "", None, sum(one.hours for one in done)))
    rate = allowance("knots_per_hour")
    notes = noted(
        "source",
        f"{rate:g} knots an hour is a published figure for an experienced maker"
        f" ({allowance_source('knots_per_hour')}); the other rates are common practice. Put your own under"
        " [prices].",
    )
    notes = (*notes, *noted("how", *([BOTH] if plan.pair else [])))
    return Sheet("hours", f"{spec.title}: hours", spec.tape, columns, tuple(rows), notes)


def price_of(spec: NetSpec, plan: Plan, strings: Sequence[float] = ()) -> Price:
    """What the net costs and is sold for, with strings of these lengths [m]."""
    return price(spec, work(spec, plan), shopping(spec, plan, strings))


PRICED = {"sheet_netting": "webbing", "twine": "spool", "hoops": "hoop", "rope": "coil"}  # else as it is


def missing_prices(reckoned: Price) -> str:
    """The keys of [prices] without which the price cannot be reckoned, each with what it is for."""
    hour = ["hour (your own work)"] if reckoned.labour is None else []
    return _listed([*hour, *(f"{PRICED.get(item, item)} ({ITEMS[item]})" for item in reckoned.missing)])


def _listed(words: Sequence[str]) -> str:
    """Words in a row, with and before the last."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def price_facts(spec: NetSpec, reckoned: Price) -> tuple[tuple[str, str], ...]:
    """The reckoning line by line; what cannot be reckoned says which price is missing."""
    missing = "not reckoned: [prices] lacks "
    labour = f"{missing}hour" if reckoned.labour is None else spec.tape.money(reckoned.labour)
    materials = (
        f"{missing}{_listed([PRICED.get(item, item) for item in reckoned.missing])}"
        if reckoned.materials is None
        else spec.tape.money(reckoned.materials)
    )
    total = "not reckoned" if reckoned.price is None else spec.tape.money(reckoned.price)
    added = reckoned.price is not None and spec.prices.price is None
    markup = (("Markup", f"{spec.prices.markup:.0%}"),) if added else ()
    return (
        (f"Labour, {reckoned.hours:.1f} hours", labour),
        ("Materials, as far as they are used", materials),
        *markup,
        ("Price", total),
    )


def _bought(spec: NetSpec, one: Purchase) -> tuple[Cell, ...]:
    return (
        ITEMS[one.item],
        _what(spec, one),
        _measured(spec, one.need, one.measure),
        "the piece" if one.measure == "pieces" else _measured(spec, one.sold_in, one.measure),
        one.count,
        one.price,
        one.cost,
    )


def _what(spec: NetSpec, one: Purchase) -> str:
    if one.thickness is not None:
        return f"{one.made_of}, {spec.tape.thickness(one.thickness)}"
    if one.weight is not None:
        return f"{one.made_of}, {spec.tape.mass(one.weight)}"
    return one.made_of


def _measured(spec: NetSpec, amount: float, measure: str) -> str:
    if measure == "pieces":
        return f"{amount:g}"
    return spec.tape.mass(amount) if measure == "mass" else spec.tape.text(amount, measure)


def _shopping_notes(spec: NetSpec, plan: Plan) -> tuple[Note, ...]:
    by_weight = [f"Sheet netting by the {spec.tape.weight_word}."] if spec.netting.made == "sheet" else []
    return noted(
        "how",
        (
            f"Twine with {allowance('waste_share'):.0%} for ends and what stays on the needle. Rounded up to"
            " how things are sold: put your seller's spools, coils and cans under [stock], and prices under"
            " [prices]."
        ),
        *by_weight,
        *([BOTH] if plan.pair else []),
    )
