"""What sun and use leave of twine's strength, and how little is known of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import exp

from net3d.handbook.table import read_table


@dataclass(frozen=True)
class Left:
    """Strength that is left, as parts of the new twine's."""

    low: float
    likely: float
    high: float
    source: str


@cache
def _rows() -> dict[str, dict[str, str]]:
    return {row["key"]: row for row in read_table("ageing")}


def ageing(key: str) -> float:
    """A figure of ``ageing.csv`` [-]. Raises KeyError for a key that the table does not have.

    >>> ageing("steady_load")
    0.4
    """
    return float(_rows()[key]["value"])


def weathered(fibre: str, months: float, kept: str, dipped: bool) -> Left:
    """What is left of twine that was out for some time: ``exp(-r k d t)``, from twice to half so fast.

    Source: loss about linear in time at first, and a third as fast under coal tar (``ageing.csv``).

    Parameters
    ----------
    fibre : its letters, such as PA
    months : t, how many it was out [-]
    kept : sun, shade or dark
    dipped : whether it was dipped

    >>> round(weathered("PA", 6, "sun", False).likely, 2), round(weathered("PA", 6, "sun", True).likely, 2)
    (0.7, 0.89)
    """
    keys = [f"loss_{fibre}", f"kept_{kept}", *(["dipped"] if dipped else [])]
    loss = months
    for key in keys:
        loss *= ageing(key)
    times = ageing("times")
    source = "; ".join(dict.fromkeys(_rows()[key]["source"] for key in keys))
    return Left(exp(-loss * times), exp(-loss), exp(-loss / times), source)


def broken(breaks: Sequence[float], new: float) -> Left:
    """What is left by bars that were broken: from the weakest to the strongest, and their mean.

    Parameters
    ----------
    breaks : what each broke at [N]
    new : what a new one would [N]

    >>> broken([60, 80, 100], 100)
    Left(low=0.6, likely=0.8, high=1.0, source="the maker's own spring scale")
    """
    shares = [one / new for one in breaks]
    return Left(min(shares), sum(breaks) / len(breaks) / new, max(shares), "the maker's own spring scale")
