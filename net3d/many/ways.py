"""What is varied: values of a key on a grid, or drawn from a range, as they are typed."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import prod

import numpy as np

from net3d.errors import Problem, SpecError
from net3d.spec.keys import key_path
from net3d.spec.steps import step_of
from net3d.units import UnitError
from net3d.units.reading import read_number

Typed = object  # a value as it is typed into a spec
Points = list[dict[str, Typed]]

ON_A_GRID = 5  # values of a range on a grid, its ends among them
MOST = 1_000_000  # nets of a sweep
SHAPES = 'write values such as "36, 40, 44", from:to:step such as "36:60:2", or a range such as "5..40 lbf"'
_UNIT = re.compile(r"(.*?)\s*([A-Za-z]+(?:/[A-Za-z]+)?)?\s*", re.DOTALL)


@dataclass(frozen=True)
class Draw:
    """So many nets, drawn as a Latin hypercube; the same seed draws the same nets."""

    count: int
    seed: int = 0


@dataclass(frozen=True)
class Way:
    """One key that is varied: its values on a grid, and where it is a range the ends to draw between."""

    key: str
    values: tuple[Typed, ...]
    unit: str = ""
    ends: tuple[float, float] | None = None

    @property
    def heading(self) -> str:
        """What stands above its values, with the unit they are typed in.

        >>> read_way("rigging.pull", "5..40 lbf").heading, read_way("water.currents.1", "1:2:1 ft/s").heading
        ('rigging.pull_lbf', 'water.currents.1_ftps')
        """
        return f"{self.key}_{self.unit.replace('/', 'p')}" if self.unit else self.key

    def drawn(self, share: float) -> Typed:
        """The value that stands at a share of the way [-]: one of the values, or anywhere in a range."""
        if self.ends is None:
            return self.values[min(int(share * len(self.values)), len(self.values) - 1)]
        low, high = self.ends
        step, value = step_of(key_path(self.key) or ()), low + share * (high - low)
        return _typed(Fraction(round(value / step) * step if step else f"{value:.6g}"), self.unit)


def read_way(key: str, text: str | Sequence[Typed]) -> Way:
    """What is varied of a key, as typed; a sequence is taken as it is.

    Raises ``SpecError`` where it cannot be read.

    Examples
    --------
    >>> read_way("netting.around", "36:40:2").values, read_way("throat.1.style", "finger, square").values
    ((36, 38, 40), ('finger', 'square'))
    >>> read_way("hoop.1.diameter", "3 1/2 : 4 : 1/4 ft").values
    ('3.5 ft', '3.75 ft', '4 ft')
    """
    if not isinstance(text, str):
        if not text:
            raise _refused(key, "no value is given")
        return Way(key, tuple(text))
    if not text.strip():
        raise _refused(key, f"no value is given: {SHAPES}")
    try:
        return _read(key, text)
    except UnitError as error:
        raise _refused(key, f'"{text}" {error}: {SHAPES}') from None


def _read(key: str, text: str) -> Way:
    numbers, unit = _split_unit(text)
    if ".." in numbers:
        low, high = map(_number, numbers.split("..", 1))
        if low >= high:
            raise _refused(key, f'"{text}" is empty: write the smaller end first')
        ends = (float(low), float(high))
        step = Fraction(step_of(key_path(key) or ())).limit_denominator(2)
        between = [low + (high - low) * Fraction(n, ON_A_GRID - 1) for n in range(ON_A_GRID)]
        values = [_typed(round(one / step) * step if step else one, unit) for one in between]
        return Way(key, tuple(dict.fromkeys(values)), unit, ends)
    if ":" in numbers:
        low, high, step = map(_number, _three(numbers))
        if step <= 0 or low > high:
            raise _refused(key, f'"{text}" is empty: write the smaller end first and a step above 0')
        if (high - low) / step >= MOST:
            raise _refused(key, f'"{text}" has more than {MOST:,} values')
        return Way(
            key, tuple(_typed(low + n * step, unit) for n in range(int((high - low) / step) + 1)), unit
        )
    return _listed(key, text)


def _three(text: str) -> list[str]:
    parts = text.split(":")
    if len(parts) != 3:
        raise UnitError("cannot be read")
    return parts


def _listed(key: str, text: str) -> Way:
    """Values one by one; the unit behind the last holds for all numbers that have none."""
    parts = [part.strip() for part in text.split(",")]
    unit = _split_unit(parts[-1])[1] if _is_number(_split_unit(parts[-1])[0]) else ""
    values: list[Typed] = []
    for part in parts:
        number, own = _split_unit(part)
        if not _is_number(number):
            values.append({"true": True, "false": False}.get(part, part))
        elif own not in ("", unit):
            raise _refused(key, f'"{text}" has two units: write all values in one')
        else:
            values.append(_typed(_number(number), unit))
    return Way(key, tuple(dict.fromkeys(values)), unit)


def _split_unit(text: str) -> tuple[str, str]:
    match = _UNIT.fullmatch(text)
    return (match[1].strip(), match[2] or "") if match else (text, "")


def _is_number(text: str) -> bool:
    try:
        _number(text if any(map(str.isdigit, text)) else "no number")
    except UnitError:
        return False
    return True


def _number(text: str) -> Fraction:
    bare = text.strip()
    return -read_number(bare[1:]) if bare.startswith("-") else read_number(bare)


def _typed(number: Fraction, unit: str) -> Typed:
    """A number as it is typed: whole where it is whole, with its unit where it has one."""
    if unit:
        return f"{float(number):.10g} {unit}"
    return int(number) if number.denominator == 1 else float(number)


def ways_of(vary: Mapping[str, str | Sequence[Typed]]) -> tuple[Way, ...]:
    """What is varied, key by key. Raises ``SpecError`` with every key that cannot be read."""
    ways, problems = list[Way](), list[Problem]()
    for key, text in vary.items():
        try:
            ways.append(read_way(key, text))
        except SpecError as error:
            problems += error.problems
    if problems:
        raise SpecError("--vary", tuple(problems))
    return tuple(ways)


def points_of(ways: Sequence[Way], draw: Draw | None) -> Points:
    """The changes of every net, in order: the whole grid, the last key fastest, or a Latin hypercube.

    Equal ones are left out. Raises ``SpecError`` for more nets than anyone waits for.
    """
    count = draw.count if draw else prod(len(way.values) for way in ways)
    if count > MOST:
        raise SpecError(
            "--vary", (Problem("", f"these are {count:,} nets; at most {MOST:,} are worked out"),)
        )
    shares = _shares(ways, draw) if draw else product(*(way.values for way in ways))
    points = [dict(zip((way.key for way in ways), values, strict=True)) for values in shares]
    return list({repr(point): point for point in points}.values())


def _shares(ways: Sequence[Way], draw: Draw) -> Iterator[tuple[Typed, ...]]:
    from scipy.stats import qmc  # noqa: PLC0415 - takes a second to load, and only a draw needs it

    drawn = qmc.LatinHypercube(len(ways), seed=np.random.default_rng(draw.seed)).random(draw.count)
    for line in drawn:
        yield tuple(way.drawn(float(share)) for way, share in zip(ways, line, strict=True))


def _refused(key: str, message: str) -> SpecError:
    return SpecError("--vary", (Problem(key, message),))
