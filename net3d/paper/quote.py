"""The customer's page: what the net is and what it costs."""

from __future__ import annotations

from dataclasses import dataclass

from net3d.chain import Design
from net3d.errors import NetError
from net3d.tables.cautions import LOCAL_CODE
from net3d.tables.costs import price_facts, price_of
from net3d.tables.sizes import customer_facts


class PriceError(NetError):
    """A quote without a price."""


@dataclass(frozen=True)
class Quote:
    """What stands on the page; ``costs`` is empty unless the maker wants them shown."""

    title: str
    sizes: tuple[tuple[str, str], ...]
    price: str
    costs: tuple[tuple[str, str], ...]
    closing: str


def quote_of(design: Design, with_costs: bool = False) -> Quote:
    """The quote of a net. Raises PriceError where the spec's prices do not suffice to reckon one."""
    reckoned = price_of(design.spec, design.plan, design.string_lengths)
    if reckoned.price is None:
        raise PriceError(
            "There is no price to quote: under [prices], give hour and a price for everything on the shopping"
            " list, or the price itself."
        )
    costs = price_facts(design.spec, reckoned)[:-1] if with_costs else ()
    return Quote(
        design.spec.title,
        customer_facts(design),
        design.spec.tape.money(reckoned.price),
        costs,
        LOCAL_CODE,
    )
