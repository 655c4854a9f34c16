"""How numbers are written: three figures, and lengths to a tape's step, in fractions where it has them."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import lru_cache

from net3d.units.units import unit_factor

NOTHING = 1e-6  # in any unit; less is written as 0


def three_figures(value: float) -> str:
    """A number [its unit] to three figures, without exponent or trailing zeros; less than a millionth is 0.

    >>> three_figures(1234.5), three_figures(0.012345), three_figures(15.0), three_figures(3e-12)
    ('1230', '0.0123', '15', '0')
    """
    if abs(value) < NOTHING:
        return "0"
    decimals = 2 - math.floor(math.log10(abs(value)))
    text = f"{round(value, decimals):.{max(decimals, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def length_text(metres: float, units: str, step: float) -> str:
    """A length to the nearest whole step of a tape, with its unit.

    Parameters
    ----------
    metres : the length [m]
    units : of the tape: in, ft, mm, cm or m
    step : its finest mark [m]

    Examples
    --------
    >>> length_text(1.6891, "ft", 0.0254 / 16), length_text(0.12345, "mm", 0.001)
    ('5 ft 6 1/2 in', '123 mm')
    """
    unit = "in" if units == "ft" else units
    factor = unit_factor(unit)[0]
    unit_step = _unit_step(step, factor)
    rounded = math.floor(abs(Fraction(metres)) / factor / unit_step + Fraction(1, 2)) * unit_step
    sign = "-" if metres < 0 and rounded else ""
    if units == "ft" and rounded >= 12:
        return sign + _feet(rounded, unit_step)
    return f"{sign}{_number(rounded, unit_step, unit)} {unit}"


@lru_cache(64)
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
