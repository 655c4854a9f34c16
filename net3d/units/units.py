"""Units: what one of each is in SI, exactly, and which a spec's bare numbers are in."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from pint import UnitRegistry

Units = Literal["in", "ft", "mm", "cm", "m"]
INCH_UNITS = ("in", "ft")


class UnitError(ValueError):
    """A quantity that cannot be read; the message says what is allowed."""


@dataclass(frozen=True)
class Kind:
    """A kind of quantity: its name in messages, its SI unit, its unit in inch specs and an example."""

    name: str
    si_unit: str
    inch_unit: str
    example: str


KINDS = {
    "length": Kind("a length", "m", "in", "3 1/2 in, 5 ft 6 in, 90 cm or 0.9 m"),
    "force": Kind("a force", "N", "lbf", "15 lbf or 70 N"),
    "mass": Kind("a weight", "kg", "lb", "2 lb or 900 g"),
    "speed": Kind("a speed", "m/s", "ft/s", "2 ft/s or 0.6 m/s"),
    "stress": Kind("a stress", "MPa", "psi", "500 MPa or 72500 psi"),
    "length per weight": Kind("a length per weight", "m/kg", "ft/lb", "967 ft/lb or 650 m/kg"),
    "weight per length": Kind("a weight per length", "kg/m", "tex", "1540 tex"),
}

_COMMON_UNITS = (
    *("in", "ft", "yd", "mm", "cm", "m", "lb", "oz", "g", "kg", "lbf", "ozf", "N", "kN", "kgf"),
    *("ft/s", "m/s", "mph", "ft/lb", "yd/lb", "m/kg", "tex"),
)


@cache
def _registry() -> UnitRegistry[Fraction]:
    # pint takes a tenth of a second to import, and its own thousand units as much again.
    from pint import UnitRegistry  # noqa: PLC0415

    lines = files("net3d.units").joinpath("units.txt").read_text("utf-8").splitlines()
    return UnitRegistry(lines, non_int_type=Fraction)


@cache
def unit_factor(unit: str) -> tuple[Fraction, str]:
    """How much one of a unit is in SI, exactly, and which kind of quantity it measures.

    Parameters
    ----------
    unit : name or quotient of two names, such as ``"in"`` or ``"ft/lb"``

    Raises
    ------
    UnitError
        When no such unit is known.

    Examples
    --------
    >>> unit_factor("in")
    (Fraction(127, 5000), 'length')
    """
    registry = _registry()
    for name in (unit, unit.lower()):
        if all(part in registry for part in name.split("/")):
            quantity = registry.Quantity(Fraction(1), name)
            return Fraction(quantity.to_base_units().magnitude), _kind_of(quantity.dimensionality)
    near = difflib.get_close_matches(unit, _COMMON_UNITS, n=1, cutoff=0.5)
    hint = f"; did you mean {near[0]}?" if near else ""
    raise UnitError(f"is in {unit}, and no such unit is known here{hint}")


def _kind_of(dimensionality: object) -> str:
    for name, kind in KINDS.items():
        if _registry().get_dimensionality(kind.si_unit) == dimensionality:
            return name
    return ""


def default_unit(kind: str, units: str) -> str:
    """The unit of a bare number of some kind in a spec with these units.

    Examples
    --------
    >>> default_unit("length", "ft"), default_unit("force", "ft"), default_unit("force", "mm")
    ('ft', 'lbf', 'N')
    """
    if kind == "length":
        return units
    return KINDS[kind].inch_unit if units in INCH_UNITS else KINDS[kind].si_unit


def in_units(value: float, kind: str, units: str) -> float:
    """A value [SI] in the spec's units.

    Examples
    --------
    >>> in_units(0.0254, "length", "in")
    1.0
    """
    return value / float(unit_factor(default_unit(kind, units))[0])
