"""Tapers: how the edge of a piece of netting is cut so that it loses meshes as it should.

Cuts are named as in ISO 1532. N runs straight down the points: no mesh lost, one mesh deep. T runs straight
across: one mesh lost, no depth. B follows one bar: half a mesh lost, half a mesh deep.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby, pairwise
from math import gcd

WIDE = {"N": 0.0, "T": 1.0, "B": 0.5}
DEEP = {"N": 1.0, "T": 0.0, "B": 0.5}
LONGEST_PATTERN = 6  # runs that repeat together; a longer pattern is not remembered at the bench


@dataclass(frozen=True)
class Run:
    """So many cuts of one kind in a row. Only N comes in halves: from a side knot to the next row."""

    cut: str  # N, T or B
    count: float
    outward: bool = False  # the piece gets wider there

    def __str__(self) -> str:
        return f"{_mixed(self.count)}{self.cut}{' out' if self.outward else ''}"

    @property
    def lost(self) -> float:
        """Meshes lost over the run, below zero where it runs outward."""
        return (-1.0 if self.outward else 1.0) * self.count * WIDE[self.cut]


@dataclass(frozen=True)
class Taper:
    """An edge as it is cut, run by run."""

    runs: tuple[Run, ...]

    @property
    def lost(self) -> float:
        """Meshes lost over the edge."""
        return sum(run.lost for run in self.runs)

    @property
    def deep(self) -> float:
        """Depth of the edge in meshes."""
        return sum(run.count * DEEP[run.cut] for run in self.runs)

    def count(self, cut: str) -> float:
        """How many cuts of a kind."""
        return sum(run.count for run in self.runs if run.cut == cut)

    def __str__(self) -> str:
        return runs_text(self.runs)


def taper_counts(lost: float, deep: float) -> dict[str, float]:
    """Cuts of an edge that loses n meshes over m deep, whatever their order.

    ``n < m: B = 2n, N = m - n;  n = m: B = 2n;  n > m: B = 2m, T = n - m``, so that
    ``n = T + B/2`` and ``m = N + B/2``.

    ``lost`` n and ``deep`` m in meshes, wholes or halves. Raises ValueError for others.
    Source: arithmetic of ISO 1532 cuts; the same as Fridman, Calculations for Fishing Gear Designs, FAO 1986.

    >>> taper_counts(20, 30), taper_counts(3, 2)
    ({'N': 10.0, 'T': 0.0, 'B': 40.0}, {'N': 0.0, 'T': 1.0, 'B': 4.0})
    """
    if lost < 0 or deep < 0 or (2 * lost) % 1 or (2 * deep) % 1:
        raise ValueError(f"an edge loses and is deep whole or half meshes, not {lost} and {deep}")
    return {"N": max(float(deep - lost), 0.0), "T": max(float(lost - deep), 0.0), "B": 2.0 * min(lost, deep)}


def taper(lost: float, deep: float) -> Taper:
    """The cuts of an edge, spread evenly over it; they add up exactly.

    What does not divide is spread: the longer runs stand evenly among the shorter ones.
    Parameters and errors as for ``taper_counts``.

    >>> str(taper(20, 30)), str(taper(10, 25)), str(taper(0, 4.5))
    ('1N4B x 10', '1N1B 1N1B 1N2B x 5', '4 1/2N')
    """
    counts = taper_counts(lost, deep)
    straight = "T" if counts["T"] else "N"
    whole, half = divmod(counts[straight], 1)
    tail = [Run(straight, half)] if half else []
    spread = _spread(straight, int(whole), int(counts["B"]))
    return Taper(joined([*spread, *tail]))


def taper_name(lost: float, deep: float) -> str:
    """The shortest pattern that gives the slope, such as 1N4B.

    >>> taper_name(20, 30), taper_name(10, 25), taper_name(25, 25), taper_name(4, 2)
    ('1N4B', '3N4B', 'all B', '1T2B')
    """
    counts = {cut: Fraction(count) for cut, count in taper_counts(lost, deep).items() if count}
    if len(counts) < 2:
        return f"all {next(iter(counts), 'N')}"
    (one, first), (other, second) = counts.items()
    ratio = first / second
    return f"{ratio.numerator}{one}{ratio.denominator}{other}"


def joined(runs: Sequence[Run]) -> tuple[Run, ...]:
    """Runs with neighbours of one kind counted together.

    >>> [str(run) for run in joined([Run("N", 0.5), Run("N", 1), Run("B", 2)])]
    ['1 1/2N', '2B']
    """
    some = (run for run in runs if run.count)
    grouped = groupby(some, lambda run: (run.cut, run.outward))
    return tuple(Run(cut, sum(run.count for run in group), outward) for (cut, outward), group in grouped)


def runs_text(runs: Sequence[Run]) -> str:
    """Runs as they are written on a sheet, repeats counted.

    >>> runs_text([Run("N", 1), Run("B", 2)] * 3 + [Run("N", 4)])
    '1N2B x 3, 4N'
    """
    words: list[str] = []
    rest = tuple(runs)
    while rest:
        length, times = _best_repeat(rest)
        words.append(_pattern(rest[:length]) + (f" x {times}" if times > 1 else ""))
        rest = rest[length * times :]
    return _commas(words)


def _spread(straight: str, count: int, bars: int) -> list[Run]:
    """Straight cuts with the bars spread among them; each straight cut comes before its bars."""
    if not count or not bars:
        return [Run(straight, count), Run("B", bars)]
    whole = gcd(count, bars)
    if count <= bars:
        return _interleaved(straight, "B", count // whole, bars // whole) * whole
    return _interleaved("B", straight, bars // whole, count // whole) * whole


def _interleaved(single: str, many: str, singles: int, total: int) -> list[Run]:
    shares = [after - before for before, after in pairwise(k * total // singles for k in range(singles + 1))]
    if many == "B":
        return [run for share in shares for run in (Run(single, 1), Run(many, share))]
    return [run for share in shares for run in (Run(many, share), Run(single, 1))]


def _best_repeat(runs: tuple[Run, ...]) -> tuple[int, int]:
    """How many runs at the start repeat together, and how often, covering the most."""
    options = [(length, _times(runs, length)) for length in range(1, min(LONGEST_PATTERN, len(runs)) + 1)]
    repeated = [(length, times) for length, times in options if times > 1 and length > 1]
    return max(repeated, key=lambda option: (option[0] * option[1], -option[0]), default=(1, 1))


def _times(runs: tuple[Run, ...], length: int) -> int:
    pattern, times = runs[:length], 1
    while runs[times * length : (times + 1) * length] == pattern:
        times += 1
    return times


def _pattern(runs: tuple[Run, ...]) -> str:
    pairs = [runs[start : start + 2] for start in range(0, len(runs), 2)]
    return " ".join("".join(map(str, pair)) for pair in pairs)


def _commas(words: list[str]) -> str:
    """Words that are repeated or stand after a repeat are set off; single runs follow each other plainly."""
    text = ""
    for before, word in pairwise(["", *words]):
        comma = ", " if " x " in before or " x " in word else " "
        text += (comma if before else "") + word
    return text


def _mixed(count: float) -> str:
    whole, half = divmod(count, 1)
    return " ".join(
        part for part in (f"{whole:g}" if whole or not half else "", "1/2" if half else "") if part
    )
