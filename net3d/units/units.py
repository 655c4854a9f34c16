"""Units: what one of each is in SI, exactly, and which a spec's bare numbers are in."""

from __future__ import annotations

import csv
import difflib
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from math import prod
from typing import Literal

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

TOLD = {  # kinds that are only written, never read: unit in SI, in inch specs, in others
    "reading": ("m", "", ""),  # a length as the tape shows it, in the spec's own unit
    "cut": ("m", "", ""),  # a length of twine or rope to cut: like a reading, long ones in feet and inches
    "run": ("m", "ft", "m"),
    "share": ("", "", ""),  # a part of one, told in percent
    "thickness": ("m", "in", "mm"),
    "area": ("m^2", "ft^2", "m^2"),
    "hours": ("h", "", ""),
}

_COMMON_UNITS = (
    *("in", "ft", "yd", "mm", "cm", "m", "lb", "oz", "g", "kg", "lbf", "ozf", "N", "kN", "kgf"),
    *("ft/s", "m/s", "mph", "ft/lb", "yd/lb", "m/kg", "tex"),
)


Powers = tuple[int, int, int]  # of metre, kilogram and second


@cache
def _table() -> dict[str, tuple[Fraction, Powers]]:
    """How much each unit of ``units.csv`` is in SI, exactly, and of what, by all its names."""
    text = files("net3d.units").joinpath("units.csv").read_text("utf-8")
    return {
        name: (prod(map(Fraction, row["si"].split(" * ")), start=Fraction(1)), _powers(row))
        for row in csv.DictReader(text.splitlines())
        for name in row["names"].split()
    }


def _powers(row: dict[str, str]) -> Powers:
    return int(row["metres"]), int(row["kilograms"]), int(row["seconds"])


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
    for name in (unit, unit.lower()):
        if all(part in _table() for part in name.split("/")):
            factor, powers = _quotient(name)
            return factor, _kind_of(powers)
    near = difflib.get_close_matches(unit, _COMMON_UNITS, n=1, cutoff=0.5)
    hint = f"; did you mean {near[0]}?" if near else ""
    raise UnitError(f"is in {unit}, and no such unit is known here{hint}")


def _quotient(name: str) -> tuple[Fraction, Powers]:
    (factor, (metres, kilograms, seconds)), *divisors = (_table()[part] for part in name.split("/"))
    for by, powers in divisors:
        factor /= by
        metres, kilograms, seconds = metres - powers[0], kilograms - powers[1], seconds - powers[2]
    return factor, (metres, kilograms, seconds)


@cache
def _kind_of(powers: Powers) -> str:
    return next((name for name, kind in KINDS.items() if _quotient(kind.si_unit)[1] == powers), "")


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


def si_unit(kind: str) -> str:
    """The SI unit of a kind, as scripts get it; empty for numbers of no kind, and for money.

    >>> si_unit("reading"), si_unit("force"), si_unit("money")
    ('m', 'N', '')
    """
    if kind in TOLD:
        return TOLD[kind][0]
    return KINDS[kind].si_unit if kind in KINDS else ""
