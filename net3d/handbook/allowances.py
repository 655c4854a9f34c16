"""What the work takes beyond the net itself: rates, ends, splices, how things are sold."""

from __future__ import annotations

from functools import cache

from net3d.handbook.table import read_table
from net3d.units import unit_factor


@cache
def _rows() -> dict[str, dict[str, str]]:
    return {row["key"]: row for row in read_table("allowances")}


def allowance(key: str) -> float:
    """A figure of ``allowances.csv`` [SI], where it has a unit.

    Raises KeyError for a key that the table does not have.

    >>> allowance("knots_per_hour"), round(allowance("spool_inch"), 4)
    (350.0, 0.4536)
    """
    row = _rows()[key]
    return float(row["value"]) * (float(unit_factor(row["unit"])[0]) if row["unit"] else 1.0)


def allowance_source(key: str) -> str:
    """Where a figure comes from.

    >>> allowance_source("knots_per_hour")
    'Traditional Arts Indiana'
    """
    return _rows()[key]["source"]
