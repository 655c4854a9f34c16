"""Which rope at hand a net takes: the first that is long enough for its bridle and lines."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from net3d.plan import lay_out
from net3d.plan.plan import Plan
from net3d.propose.limits import Miss
from net3d.shop.amounts import amounts
from net3d.spec.spec import NetSpec
from net3d.spec.wanted import Wanted


def roped(wanted: Wanted, typed: Mapping[str, Any]) -> tuple[Mapping[str, Any], Miss | None]:
    """The tables of a net with its rope, and by how much the longest at hand is too short, if all are.

    Raises SpecError where the net breaks a rule.
    """
    for rope, told in zip(wanted.form.rope, wanted.source.typed.get("rope", ()), strict=True):
        tied = {**typed, **_tables(wanted, told)}
        spec = wanted.net(tied)
        needed = rope_length(spec, lay_out(spec))
        if needed <= rope.length:
            return tied, None
    if not wanted.form.rope:
        return typed, None
    longest, tape = max(rope.length for rope in wanted.form.rope), wanted.tape
    message = f"It takes {tape.length(needed)} of rope; the longest at hand is {tape.length(longest)}."
    return tied, Miss("rope", message, needed / longest - 1)


def rope_length(spec: NetSpec, plan: Plan) -> float:
    """Rope in bridle, lines and drawstring, with what goes into their ends [m]."""
    return sum(one.total or 0.0 for one in amounts(spec, plan) if one.rope)


def _tables(wanted: Wanted, rope: Mapping[str, Any]) -> dict[str, Any]:
    stock = wanted.source.typed.get("stock", {})
    rigging = {"rope": rope["size"]} | ({"rope_material": rope["material"]} if "material" in rope else {})
    return {
        "rigging": rigging,
        "stock": {**stock, "have": {**stock.get("have", {}), "rope": rope["length"]}},
    }
