"""How much a spec may hold: counted first, since reading on takes long where there is far too much."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from net3d.spec.keys import Path

MAX_LETTERS = 1_000_000
MOST_ENTRIES = 5_000  # of a list or a table: five times as many as there may be hoops
MOST_MARKS = 40_000  # a thousand hoops, each measured in gaps, take half of them
_MARKS = "\n=,[{"
_ENTRY = re.compile(r"^[ \t]*\[\[[ \t]*([A-Za-z0-9_-]+)[ \t]*\]\]", re.MULTILINE)


def overfull(text: str) -> str:
    r"""What a text holds too much of to be a spec, from its letters alone; empty where nothing.

    >>> overfull("[[hoop]]\n" * 9000)
    'has 9,000 tables [[hoop]]; no net has more than 5,000 of a kind'
    """
    if len(text) > MAX_LETTERS:
        return f"is longer than {MAX_LETTERS:,} letters; a spec is a short text"
    for name, count in Counter(_ENTRY.findall(text)).most_common(1):
        if count > MOST_ENTRIES:
            return f"has {count:,} tables [[{name}]]; no net has more than {MOST_ENTRIES:,} of a kind"
    marks = sum(map(text.count, _MARKS))
    if marks > MOST_MARKS:
        return f"has {marks:,} lines, keys and entries of lists; a spec needs no more than {MOST_MARKS:,}"
    return ""


def overlong(typed: Mapping[str, Any]) -> dict[Path, str]:
    """Which lists and tables of a text hold too much, and how much.

    >>> overlong({"sections": {"deep": [6] * 9000}})
    {('sections', 'deep'): 'has 9,000 entries; no list or table of a spec needs more than 5,000'}
    """
    return {
        path: f"has {count:,} entries; no list or table of a spec needs more than {MOST_ENTRIES:,}"
        for path, count in _counts(typed, ())
        if count > MOST_ENTRIES
    }


def _counts(held: Any, path: Path) -> Iterator[tuple[Path, int]]:  # noqa: ANN401 - anything that is typed
    if isinstance(held, Mapping | list):
        yield path, len(held)
        for key, inner in held.items() if isinstance(held, Mapping) else enumerate(held):
            yield from _counts(inner, (*path, key))
