"""Fish: how large around they are for their length, by published measurements or a maker's own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import exp, log

import numpy as np
from numpy.typing import NDArray

from net3d.handbook.table import read_table

Floats = NDArray[np.float64]
CENTIMETRES = 100.0
FITTED = 3  # fish, that a power can be fitted to
WIDE = 1.25  # times the shortest: fish that differ less tell nothing of a power
MANY = 10  # fish, whose scatter is believed where it is less than usual
USUAL = "round"  # whose head and spread fish have of which nothing is known


@dataclass(frozen=True)
class Body:
    """How girth goes with length: ``ln G = a + b ln L + N(0, s)``, in m.

    Source: the form is that of open studies of escape rings.
    """

    intercept: float  # a
    power: float  # b
    spread: float  # s: 0 where fish are given by their girth
    head: float  # girth at the gill cover over the largest
    flat: float  # width of the body over its height
    source: str

    def girth(self, lengths: Floats | float) -> Floats:
        """Median girth at lengths [m]."""
        return np.asarray(np.exp(self.intercept) * np.power(lengths, self.power))

    def length(self, girth: float) -> float:
        """Length at which half of the fish are larger around [m].

        >>> round(body_of("perch").length(0.15), 2)
        0.23
        """
        return exp((log(girth) - self.intercept) / self.power)


@cache
def _rows() -> dict[str, dict[str, str]]:
    return {row["species"]: row for row in read_table("fish")}


def species() -> tuple[str, ...]:
    """Fish that the table knows, and the two shapes that stand for others."""
    return tuple(_rows())


@cache
def body_of(name: str) -> Body:
    """The body of a species. Raises KeyError for one that the table does not have.

    >>> round(float(body_of("pike").girth(0.5)), 3)
    0.208
    """
    row = _rows()[name]
    power = float(row["power"])
    intercept = float(row["intercept"]) + (power - 1.0) * log(CENTIMETRES)  # the table is in cm
    spread, head, flat = (float(row[key]) for key in ("spread", "head", "flat"))
    return Body(intercept, power, spread, head, flat, row["source"])


def body_by_ratio(ratio: float, spread: float | None = None, source: str = "your spec") -> Body:
    """A body whose girth is a part of its length.

    Parameters
    ----------
    ratio : girth over length [-]
    spread : of the girth's logarithm; as usual unless given [-]
    source : where the ratio is from
    """
    usual = body_of(USUAL)
    return Body(log(ratio), 1.0, usual.spread if spread is None else spread, usual.head, 1.0, source)


def body_by_girth() -> Body:
    """Fish that are told by their girth alone, which takes the place of their length."""
    return body_by_ratio(1.0, 0.0)


def body_fitted(pairs: Sequence[tuple[float, float]]) -> Body:
    """A body by a maker's own fish, as pairs of length and girth [m].

    Girth goes with length where fish are few or alike. Scatter of few fish is not believed where it is less
    than usual. Source: least squares.

    >>> round(body_fitted([(0.3, 0.15), (0.4, 0.2)]).power, 2)
    1.0
    """
    lengths, girths = np.log(np.array(pairs)).T
    usual = body_of(USUAL)
    power = 1.0
    if len(pairs) >= FITTED and np.ptp(lengths) > log(WIDE):
        power = float(np.polyfit(lengths, girths, 1)[0])
    if power <= 0.0:
        power = 1.0
    left = girths - power * lengths
    freed = len(pairs) - (1 if power == 1.0 else 2)
    spread = float(np.sqrt(np.sum((left - left.mean()) ** 2) / freed)) if freed else 0.0
    if len(pairs) < MANY:
        spread = max(spread, usual.spread)
    return Body(float(left.mean()), power, spread, usual.head, 1.0, "your own fish")
