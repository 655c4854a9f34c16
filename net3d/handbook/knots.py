"""Knots: how much twine one takes, and how large it is."""

from __future__ import annotations

from net3d.handbook.table import read_table

ACROSS = 3.0  # twine diameters that a sheet bend measures: common practice, no source


def knot_factor(knot: str = "single sheet bend") -> float:
    """Twine in one knot over the twine's diameter [-].

    >>> knot_factor()
    16.0
    """
    return next(float(row["factor"]) for row in read_table("knot") if row["knot"] == knot)
