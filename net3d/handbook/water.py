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


def submerged_weight(mass: float, density: float) -> float:
    """Weight in fresh water, ``g m (1 - rho_water / rho)``; negative for what floats.

    Parameters
    ----------
    mass : of the body [kg], or of a metre of it [kg/m]
    density : of what it is made of [kg/m^3]

    Examples
    --------
    >>> round(submerged_weight(1.0, 2000.0), 2)
    4.91
    """
    return water_constant("gravity") * mass * (1.0 - water_constant("fresh_water_density") / density)
