"""Limits that the checks go by unless the spec says otherwise."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from net3d.handbook.table import read_table


@dataclass(frozen=True)
class Limit:
    """From where on a number is a caution, and from where on a fail; all are ratios without a unit."""

    key: str
    sense: str  # "max": too large is bad; "min": too small is bad
    caution: float
    fail: float
    what: str
    source: str


@cache
def default_limits() -> dict[str, Limit]:
    """The default limits by key.

    Examples
    --------
    >>> default_limits()["looseness"].fail
    0.1
    """
    rows = read_table("limits")
    return {
        row["key"]: Limit(
            row["key"], row["sense"], float(row["caution"]), float(row["fail"]), row["what"], row["source"]
        )
        for row in rows
    }
