"""Texts that would not do, by the boxes they stand in: kept until they are set right, or gone."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from typing import Any

from net3d.errors import SpecError
from net3d.spec.boxes import typed_in
from net3d.spec.edit import each_standing

ROWS = ("hoop", "pile", "throat", "hole")  # tables whose boxes are numbered
MOST, LONGEST = 200, 1000  # texts, and letters of one
Texts = dict[str, str]


def boxes_in(given: object) -> Texts:
    """Those of some texts, by key, that may stand in boxes of a spec."""
    texts = given.items() if isinstance(given, Mapping) else ()
    fit = [
        (key, text) for key, text in texts if isinstance(text, str) and len(text) <= LONGEST and _is_box(key)
    ]
    return dict(fit[-MOST:])


def _is_box(key: object) -> bool:
    with suppress(SpecError):
        typed_in(str(key), "")
        return isinstance(key, str)
    return False


def row_counts(typed: Mapping[str, Any]) -> dict[str, int]:
    """How many tables a spec has of each that is numbered."""
    return {key: len(list(each_standing(key, typed[key]))) for key in ROWS if key in typed}


def unmoved(texts: Mapping[str, str], before: Mapping[str, int], now: Mapping[str, int]) -> Texts:
    """The texts whose boxes are where they were, as far as numbers of tables tell.

    >>> unmoved({"hoop.3.rod": "thick", "tail.deep": "far"}, {"hoop": 4}, {"hoop": 3})
    {'tail.deep': 'far'}
    """
    moved = {key for key in ROWS if before.get(key, 0) != now.get(key, 0)}
    moved |= {"sections"} if "hoop" in moved else set()
    return {key: text for key, text in texts.items() if key.partition(".")[0] not in moved}
