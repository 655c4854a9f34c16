"""Amounts as a maker types them: lengths the tape shows, whole and half meshes, what is sold."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Literal

from net3d.handbook.twine import Twine, known_twines
from net3d.spec.spec import NetSpec
from net3d.units import Tape

Toward = Literal["near", "up", "down"]
_ROUNDINGS: dict[Toward, Callable[[float], float]] = {
    "near": round,
    "up": lambda steps: math.ceil(steps - 1e-6),
    "down": lambda steps: math.floor(steps + 1e-6),
}


def typed_length(tape: Tape, metres: float, toward: Toward = "near") -> float | str:
    """A length [m] to a mark of the tape, as it is typed in the tape's unit.

    >>> typed_length(Tape("in"), 0.0873), typed_length(Tape("in"), 0.0889, "up"), typed_length(Tape("m"), 1.5)
    ('3 7/16', '3 1/2', 1.5)
    """
    text = tape.reading(_ROUNDINGS[toward](metres / tape.step) * tape.step)
    try:
        return typed_number(float(text))
    except ValueError:
        return text


def typed_number(value: float) -> float:
    """A pure number [-], whole where it is whole.

    >>> typed_number(8.0), typed_number(8.5)
    (8, 8.5)
    """
    return int(value) if value == int(value) else value


def half_meshes(start: float, step: float, count: int) -> Iterator[float]:
    """Depths in wholes and halves, as long as they are more than nothing.

    Parameters
    ----------
    start : depth to begin from, which is left out [meshes]
    step : from one to the next, below nothing for less deep ones [meshes]
    count : how many at most

    >>> list(half_meshes(1.5, -0.5, 3))
    [1, 0.5]
    """
    depths = (round(2 * (start + step * number)) / 2 for number in range(1, count + 1))
    return (typed_number(depth) for depth in depths if depth > 0)


def rod(spec: NetSpec, metres: float) -> str:
    """The thickness of a rod that is sold and no thinner [m], as it is typed."""
    tape = Tape(spec.tape.unit("thickness"))
    return tape.length(math.ceil(metres / tape.step - 1e-6) * tape.step)


def less_force(tape: Tape, newtons: float) -> str:
    """A force [N], to two figures and no more than it, as it is typed.

    >>> less_force(Tape("in"), 68.5)
    '15 lbf'
    """
    unit = tape.number(1.0, "force")
    value = newtons * unit
    step = 10.0 ** (math.floor(math.log10(value)) - 1)
    return tape.force(math.floor(value / step + 1e-9) * step / unit)


def sold_twines(twine: Twine, times: float) -> list[Twine]:
    """The twines of the table, lightest first, of the same fibre and so many times as strong [-] or more.

    >>> from net3d.handbook.twine import find_twine
    >>> sold_twines(find_twine("#15"), 1.5)[0].name
    '#24'
    """
    by_yarns = "/" in twine.name
    least = times * twine.wet_knotted_strength
    enough = [
        one
        for one in known_twines()
        if one.material == twine.material
        and one.wet_knotted_strength >= least
        and ("/" in one.name) == by_yarns
    ]
    return sorted(enough, key=lambda one: one.tex)
