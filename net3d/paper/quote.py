"""The customer's page: what the net is and what it costs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from net3d.chain import Design
from net3d.errors import NetError
from net3d.spec.spec import NetSpec, QuoteSpec
from net3d.tables.cautions import LOCAL_CODE
from net3d.tables.costs import missing_prices, price_facts, price_of
from net3d.tables.sizes import customer_facts


class PriceError(NetError):
    """A quote without a price."""


@dataclass(frozen=True)
class Quote:
    """What stands on the page; ``costs`` is empty unless the maker wants them shown."""

    seller: str
    contact: str
    title: str
    about: tuple[tuple[str, str], ...]
    sizes: tuple[tuple[str, str], ...]
    sums: tuple[tuple[str, str], ...]
    price: str
    costs: tuple[tuple[str, str], ...]
    terms: str
    closing: str


def quote_of(design: Design, day: date, with_costs: bool = False) -> Quote:
    """The quote of a net. Raises PriceError where the spec's prices do not suffice to reckon one."""
    reckoned = price_of(design.spec, design.plan, design.string_lengths)
    if reckoned.price is None:
        raise PriceError(
            f"There is no price to quote: [prices] lacks {missing_prices(reckoned)}. Give what is lacking, or"
            " the price of the net itself: price = 480."
        )
    said, spec = design.spec.quote, design.spec
    return Quote(
        said.seller or "",
        said.contact or "",
        spec.title,
        tuple(_about(said, day)),
        customer_facts(design),
        tuple(_sums(spec, reckoned.price)),
        spec.tape.money(reckoned.price * said.quantity),
        price_facts(spec, reckoned)[:-1] if with_costs else (),
        said.terms or "",
        LOCAL_CODE,
    )


def _about(said: QuoteSpec, day: date) -> Iterator[tuple[str, str]]:
    if said.number is not None:
        yield "Quote", said.number
    yield "Date", day.isoformat()
    if said.valid is not None:
        yield "Valid until", (day + timedelta(days=said.valid)).isoformat()
    yield "Quantity", str(said.quantity)


def _sums(spec: NetSpec, price: float) -> Iterator[tuple[str, str]]:
    """The price of one net where there are more, and what is due with the order."""
    said = spec.quote
    if said.quantity > 1:
        yield "One net", spec.tape.money(price)
        yield "Nets", str(said.quantity)
    if said.deposit is not None:
        share = f"{100 * said.deposit:.3g} %"
        yield f"Deposit with the order, {share}", spec.tape.money(price * said.quantity * said.deposit)
