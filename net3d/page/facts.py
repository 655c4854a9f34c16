"""The net at a glance: its sizes, its price, and the parts that can be shown and hidden."""

from __future__ import annotations

from net3d.chain import Design
from net3d.parts import Part
from net3d.tables.costs import price_of
from net3d.tables.sizes import customer_facts


def facts_of(design: Design) -> list[tuple[str, str]]:
    """What a customer wants to know; the price where the spec's prices suffice to reckon one."""
    spec, tape = design.spec, design.spec.tape
    facts = [*customer_facts(design)]
    if spec.fish is not None:
        sizes = dict.fromkeys(tape.length(girth) for girth in (spec.fish.girth_min, spec.fish.girth_max))
        facts.append(("Fish it takes", f"{' to '.join(sizes)} around"))
    price = price_of(spec, design.plan, design.string_lengths).price
    return [*facts, ("Price", tape.money(price))] if price is not None else facts


def switches_of(design: Design) -> list[tuple[str, str, str]]:
    """Parts that the page switches on and off together: key, paint, and what the maker calls them."""
    hoops = [Part.hoop(hoop.number) for hoop in design.plan.hoops]
    first: dict[str, Part] = {}
    for part in (*hoops, *design.whole.netting.parts):
        first.setdefault(part.switch, part)
    return [
        (key, part.kind.paint.name, part.kind.together or part.title.capitalize())
        for key, part in first.items()
    ]
