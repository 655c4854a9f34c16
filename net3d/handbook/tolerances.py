"""How far what is measured and tied may be off, unless the spec says otherwise."""

from __future__ import annotations

from functools import cache

from net3d.handbook.table import read_table
from net3d.units import unit_factor


@cache
def _rows() -> dict[str, dict[str, str]]:
    return {row["key"]: row for row in read_table("tolerances")}


def tolerance(key: str) -> float:
    """A row of ``tolerances.csv``, either way: a part of the whole [-], or a length [m].

    Raises KeyError for a key that the table does not have.

    >>> tolerance("gauge"), tolerance("tape_metric")
    (0.01, 0.003)
    """
    row = _rows()[key]
    return float(row["value"]) * (float(unit_factor(row["unit"])[0]) if row["unit"] else 1.0)
