"""A shop's own file: what is typed once for all nets, and filled in where a spec does not say it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from net3d.spec.keys import Path
from net3d.spec.spec import Source

SHOP, NO_SHOP = "shop.toml", "none"
TABLES = ("stock", "prices", "quote", "lacing", "limits", "tolerances", "marking", "twine")
_EITHER = {"stock": ("webbing_across", "webbing_deep")}  # one of these takes the place of the other


def with_shop(typed: Mapping[str, Any], shop: Mapping[str, Any]) -> dict[str, Any]:
    """What was typed, filled up from the shop's tables key by key; the spec's own keys win.

    >>> with_shop({"prices": {"hour": 25}}, {"prices": {"hour": 20, "coil": 15}})
    {'prices': {'hour': 25, 'coil': 15}}
    """
    filled = dict(typed)
    for table in TABLES:
        own, there = typed.get(table, {}), shop.get(table, {})
        if isinstance(own, Mapping) and isinstance(there, Mapping) and there:
            one_of = _EITHER.get(table, ())
            taken = one_of if any(key in own for key in one_of) else ()
            filled[table] = {**{key: value for key, value in there.items() if key not in taken}, **own}
    return filled


def checked_shop(source: Source, typed: Mapping[str, Any]) -> Mapping[str, Any]:
    """The shop's tables. Raises SpecError for what is not the shop's, or in other units than the spec's."""
    shop = source.typed
    units, own = shop.get("units"), typed.get("units")
    problems: list[tuple[Path, str]] = [
        ((key,), f"is not a shop's: {', '.join(TABLES)} are") for key in shop if key not in (*TABLES, "units")
    ]
    if units != own:
        message = (
            f"the shop's file must be in the units of the spec, {own}: name another in the spec, shop = "
            f'"FILE", or shop = "{NO_SHOP}"'
        )
        problems.append((("units",), message))
    if problems:
        raise source.refusal(problems)
    return {key: shop[key] for key in TABLES if key in shop}
