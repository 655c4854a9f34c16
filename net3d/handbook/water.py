"""Water and gravity."""

from __future__ import annotations

from net3d.handbook.table import read_table


def water_constant(key: str) -> float:
    """A constant of the water table, in SI.

    Parameters
    ----------
    key : ``"fresh_water_density"`` [kg/m^3] or ``"gravity"`` [m/s^2]

    Examples
    --------
    >>> water_constant("gravity")
    9.80665
    """
    return next(float(row["value"]) for row in read_table("water") if row["key"] == key)
