"""Knots: how much twine one takes."""

from __future__ import annotations

from net3d.handbook.table import read_table


def knot_factor(knot: str = "single sheet bend") -> float:
    """Twine in one knot over the twine's diameter [-].

    >>> knot_factor()
    16.0
    """
    return next(float(row["factor"]) for row in read_table("knot") if row["knot"] == knot)
