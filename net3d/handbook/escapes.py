"""What published trials found of ways out, the bad with the good."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from net3d.handbook.table import read_table


@dataclass(frozen=True)
class Trial:
    """What was found, and what was found against it."""

    found: str
    but: str
    source: str


@cache
def trials() -> dict[str, Trial]:
    """By the kind of way out.

    >>> trials()["chimney"].found[:25]
    '10 of 10 painted turtles '
    """
    return {row["kind"]: Trial(row["found"], row["but"], row["source"]) for row in read_table("escapes")}
