"""Reading a quantity as a maker writes it: whole, decimal or fraction, with or without its unit."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

from net3d.units.units import KINDS, UnitError, default_unit, unit_factor

_NUMBER = r"[0-9]+(?: +|-)[0-9]+/[0-9]+|[0-9]+/[0-9]+|(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,2})?"
_TERM = re.compile(rf"\s*({_NUMBER})\s*([A-Za-z]+(?:/[A-Za-z]+)?)?\s*")
_MAX_LETTERS = 60
_MARKS = {'"': " in ", "\N{DOUBLE PRIME}": " in ", "'": " ft ", "\N{PRIME}": " ft ", "\N{MINUS SIGN}": "-"}
_EIGHTHS = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
_SPELLINGS = str.maketrans(_MARKS | _EIGHTHS | {"\N{FRACTION SLASH}": "/"})


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


def read_quantity(given: object, kind: str, units: str = "m") -> float:
    """A quantity [SI] from a bare number in the spec's units or a string with its own unit.

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
    return _read(given, kind, units)


@lru_cache(maxsize=2048)  # a search over specs reads the same sizes again and again
def _read(given: float | str, kind: str, units: str) -> float:
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
    for number, _ in terms:
        _refuse_run_together(number)
    default = default_unit(kind, units)
    return sign * sum(
        (read_number(number) * _factor(unit or default, kind) for number, unit in terms), Fraction(0)
    )


def _terms(text: str) -> list[tuple[str, str]]:
    """The numbers and units of a text such as 5 ft 6 1/2 in; empty when something else stands between."""
    matches = list(_TERM.finditer(text))
    whole = "".join(match[0] for match in matches) == text
    return [(match[1], match[2] or "") for match in matches] if whole else []


def _refuse_run_together(number: str) -> None:
    """Refuse 881/8, which is 110 1/8 if a blank is not missing in 88 1/8."""
    top, slash, bottom = number.partition("/")
    if not (slash and top.isdigit()) or int(bottom) == 0 or int(top) < int(bottom):
        return
    cuts = (cut for cut in range(1, len(top)) if 0 < int(top[cut:]) < int(bottom))
    if cut := next(cuts, 0):
        meant = f"{top[:cut]} {top[cut:]}/{bottom}"
        whole, rest = divmod(int(top), int(bottom))
        exact = f"{whole} {rest}/{bottom}" if rest else f"{whole}"
        raise UnitError(f"may mean {meant} or {exact}: write the one that is meant, with a blank")


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
