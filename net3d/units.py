"""The only place where inches, pounds or feet a second become SI, and where SI is printed for the maker."""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from pint import UnitRegistry

Units = Literal["in", "ft", "mm", "cm", "m"]
INCH_UNITS = ("in", "ft")
NOTHING = 1e-6  # in any unit; less is written as 0


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
    "length per weight": Kind("a length per weight", "m/kg", "ft/lb", "967 ft/lb or 650 m/kg"),
    "weight per length": Kind("a weight per length", "kg/m", "tex", "1540 tex"),
}

_NUMBER = r"[0-9]+(?: +|-)[0-9]+/[0-9]+|[0-9]+/[0-9]+|(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,2})?"
_TERM = re.compile(rf"\s*({_NUMBER})\s*([A-Za-z]+(?:/[A-Za-z]+)?)?\s*")
_MAX_LETTERS = 60
_COMMON_UNITS = (
    *("in", "ft", "yd", "mm", "cm", "m", "lb", "oz", "g", "kg", "lbf", "ozf", "N", "kN", "kgf"),
    *("ft/s", "m/s", "mph", "ft/lb", "yd/lb", "m/kg", "tex"),
)
_MARKS = {'"': " in ", "\N{DOUBLE PRIME}": " in ", "'": " ft ", "\N{PRIME}": " ft ", "\N{MINUS SIGN}": "-"}
_EIGHTHS = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
_SPELLINGS = str.maketrans(_MARKS | _EIGHTHS | {"\N{FRACTION SLASH}": "/"})


@cache
def _registry() -> UnitRegistry[Fraction]:
    # pint takes a tenth of a second to import, and its own thousand units as much again.
    from pint import UnitRegistry  # noqa: PLC0415

    lines = files("net3d").joinpath("units.txt").read_text("utf-8").splitlines()
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


def read_number(text: str) -> Fraction:
    """A number as a maker writes it, exactly: whole, decimal, fraction or mixed fraction.

    Parameters
    ----------
    text : such as ``"3 1/2"``, ``"3-1/2"``, ``"7/8"`` or ``"0.9"``

    Raises
    ------
    UnitError
        When it is not such a number, or divides by zero.

    Examples
    --------
    >>> read_number("113 1/8")
    Fraction(905, 8)
    """
    whole, _, fraction = text.strip().replace("-", " ").rpartition(" ") if "/" in text else (text, "", "0")
    try:
        return Fraction(whole.strip() or 0) + Fraction(fraction)
    except ZeroDivisionError:
        raise UnitError("divides by zero") from None
    except ValueError:
        raise UnitError("is not a number") from None


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


def read_quantity(given: object, kind: str, units: str = "m") -> float:
    """A quantity in SI from a bare number in the spec's units or a string with its own unit.

    Parameters
    ----------
    given : number, or text such as ``"3 1/2"``, ``"0.9 m"``, ``"5 ft 6 in"``, ``"2 ft/s"``
    kind : a key of ``KINDS``
    units : the spec's units: in, ft, mm, cm or m

    Raises
    ------
    UnitError
        When it cannot be read, is not finite, or is of another kind.

    Examples
    --------
    >>> read_quantity("3 1/2", "length", "in")
    0.0889
    """
    if isinstance(given, bool) or not isinstance(given, int | float | str):
        raise UnitError(f"is not {KINDS[kind].name}; write a number, or text such as {KINDS[kind].example}")
    try:
        if isinstance(given, str):
            return float(_read_text(given, kind, units))
        return float(Fraction(given) * _factor(default_unit(kind, units), kind))
    except (OverflowError, ValueError) as error:
        if isinstance(error, UnitError):
            raise
        raise UnitError("is not a finite number") from None


def _read_text(text: str, kind: str, units: str) -> Fraction:
    plain = text.translate(_SPELLINGS).strip() if len(text) <= _MAX_LETTERS else ""
    sign = -1 if plain.startswith("-") else 1
    terms = _terms(plain[1:] if plain.startswith(("+", "-")) else plain)
    if not terms or (len(terms) > 1 and not all(unit for _, unit in terms)):
        raise UnitError(f"cannot be read as {KINDS[kind].name}; write for example {KINDS[kind].example}")
    default = default_unit(kind, units)
    return sign * sum(
        (read_number(number) * _factor(unit or default, kind) for number, unit in terms), Fraction(0)
    )


def _terms(text: str) -> list[tuple[str, str]]:
    """The numbers and units of a text such as 5 ft 6 1/2 in; empty when something else stands between."""
    matches = list(_TERM.finditer(text))
    whole = "".join(match[0] for match in matches) == text
    return [(match[1], match[2] or "") for match in matches] if whole else []


_WEIGHT_AS_FORCE = {"lb": "lbf", "lbs": "lbf", "pound": "lbf", "pounds": "lbf", "kg": "kgf", "oz": "ozf"}


def _factor(unit: str, kind: str) -> Fraction:
    factor, found = unit_factor(unit)
    if found == kind:
        return factor
    if kind == "force" and unit in _WEIGHT_AS_FORCE:
        raise UnitError(
            f"is a weight, and this is a force: write {_WEIGHT_AS_FORCE[unit]} in place of {unit}"
        )
    what = KINDS[found].name if found else "something else"
    raise UnitError(
        f"is in {unit}, which measures {what}; this is {KINDS[kind].name}, such as {KINDS[kind].example}"
    )


def in_units(value: float, kind: str, units: str) -> float:
    """An SI value in the spec's units.

    Examples
    --------
    >>> in_units(0.0254, "length", "in")
    1.0
    """
    return value / float(unit_factor(default_unit(kind, units))[0])


def default_step(units: str) -> float:
    """The finest mark on the maker's tape: 1/16 in, or 1 mm [m].

    Examples
    --------
    >>> default_step("mm")
    0.001
    """
    return 0.0254 / 16 if units in INCH_UNITS else 0.001


def format_length(metres: float, units: str, step: float | None = None) -> str:
    """A length as the maker reads it off the tape, rounded to the nearest step.

    Parameters
    ----------
    metres : length [m]
    units : the spec's units; ``"ft"`` prints feet and inches
    step : the tape's finest mark [m]; 1/16 in or 1 mm when not given

    Examples
    --------
    >>> format_length(0.0873, "in"), format_length(1.412, "mm"), format_length(1.6764, "ft")
    ('3 7/16 in', '1412 mm', '5 ft 6 in')
    """
    unit = "in" if units == "ft" else units
    factor = unit_factor(unit)[0]
    unit_step = _unit_step(default_step(units) if step is None else step, factor)
    rounded = math.floor(abs(Fraction(metres)) / factor / unit_step + Fraction(1, 2)) * unit_step
    sign = "-" if metres < 0 and rounded else ""
    if units == "ft" and rounded >= 12:
        return sign + _feet(rounded, unit_step)
    return f"{sign}{_number(rounded, unit_step, unit)} {unit}"


def _unit_step(step: float, factor: Fraction) -> Fraction:
    """The step in the printed unit: 1/16 again, and not the nearest float to it."""
    return (Fraction(step) / factor).limit_denominator(10**6) or Fraction(step) / factor


def _feet(inches: Fraction, step: Fraction) -> str:
    feet, rest = divmod(inches, 12)
    return f"{feet} ft {_number(rest, step, 'in')} in" if rest else f"{feet} ft"


def _number(value: Fraction, step: Fraction, unit: str) -> str:
    """Whole and fraction where the tape is marked in halves, quarters, ... of an inch; decimals elsewhere."""
    if unit == "in" and step.denominator & (step.denominator - 1) == 0:
        whole, rest = divmod(value, 1)
        return " ".join(str(part) for part in (whole, rest) if part) or "0"
    decimals = next((places for places in range(6) if (step * 10**places).denominator == 1), 6)
    return f"{float(value):.{decimals}f}"


def format_force(newtons: float, units: str) -> str:
    """A force to three figures, in lbf for inch specs and N otherwise.

    Examples
    --------
    >>> format_force(66.72, "in"), format_force(66.72, "mm")
    ('15 lbf', '66.7 N')
    """
    return _format(newtons, "force", units)


def format_mass(kilograms: float, units: str) -> str:
    """A weight to three figures, in lb for inch specs and kg otherwise.

    Examples
    --------
    >>> format_mass(1.0, "ft"), format_mass(1.0, "cm")
    ('2.2 lb', '1 kg')
    """
    return _format(kilograms, "mass", units)


def format_speed(metres_per_second: float, units: str) -> str:
    """A speed to three figures, in ft/s for inch specs and m/s otherwise.

    Examples
    --------
    >>> format_speed(0.6096, "in"), format_speed(0.6096, "m")
    ('2 ft/s', '0.61 m/s')
    """
    return _format(metres_per_second, "speed", units)


def _format(value: float, kind: str, units: str) -> str:
    return f"{three_figures(in_units(value, kind, units))} {default_unit(kind, units)}"


def three_figures(value: float) -> str:
    """A number rounded to three figures, without an exponent or trailing zeros; less than a millionth is 0.

    Examples
    --------
    >>> three_figures(1234.5), three_figures(0.012345), three_figures(15.0), three_figures(3e-12)
    ('1230', '0.0123', '15', '0')
    """
    if abs(value) < NOTHING:
        return "0"
    decimals = 2 - math.floor(math.log10(abs(value)))
    text = f"{round(value, decimals):.{max(decimals, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
