"""Tapers: how the edge of a piece of netting is cut so that it loses meshes as it should.

Cuts are named as in ISO 1532. N runs straight down the points: no mesh lost, one mesh deep. B follows one
bar: half a mesh lost, half a mesh deep. T runs straight across, as the first and the last edge of every piece
do; no side edge does, since a seam takes one mesh a row at most.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from math import gcd

WIDE = {"N": 0.0, "B": 0.5}  # meshes lost by one cut
DEEP = {"N": 1.0, "B": 0.5}  # meshes
LONGEST_PATTERN = 6  # runs that repeat together; a longer pattern is not remembered at the bench
NEAR = 1.0  # meshes off the straight line; 26 over 100 by three N to two B, as Aegir has it, comes to 0.96


@dataclass(frozen=True)
class Run:
    """So many cuts of one kind in a row. Only N comes in halves: from a side knot to the next row."""

    cut: str  # N or B
    count: float
    outward: bool = False  # the piece gets wider there

    def __str__(self) -> str:
        return f"{_mixed(self.count)}{self.cut}{' out' if self.outward else ''}"

    @property
    def lost(self) -> float:
        """What is lost over the run, below zero where it runs outward [meshes]."""
        return (-1.0 if self.outward else 1.0) * self.count * WIDE[self.cut]

    @property
    def rows(self) -> int:
        """Rows of bars that the run is deep, two to a mesh."""
        return round(2 * self.count * DEEP[self.cut])


@dataclass(frozen=True)
class Taper:
    """An edge as it is cut, run by run."""

    runs: tuple[Run, ...]

    @property
    def deep(self) -> float:
        """Depth of the edge [meshes]."""
        return sum(run.rows for run in self.runs) / 2

    def __str__(self) -> str:
        return runs_text(self.runs)


def taper(lost: float, deep: float) -> Taper:
    """The cuts of an edge that loses n meshes over m deep, spread evenly over it.

    ``B = 2 n, N = m - n``, so that ``n = B / 2`` and ``m = N + B / 2``. N and B make as many equal cycles as
    divide both, or a few less and a rest where that cycle is too long to remember; within a cycle the longer
    runs stand evenly among the shorter ones.

    Parameters
    ----------
    lost : meshes lost, whole or half, no more than it is deep [meshes]
    deep : depth, whole or half [meshes]

    Raises
    ------
    ValueError
        For other numbers.

    Source: sums of ISO 1532 cuts, as in Fridman, Calculations for Fishing Gear Designs, FAO 1986. A cycle
    that comes near: Aegir, Reykjavik, 15 September 1970, p. 274.

    >>> str(taper(20, 30)), str(taper(10, 25)), str(taper(18.5, 26.5)), str(taper(0, 4.5))
    ('1N4B x 10', '1N1B 1N1B 1N2B x 5', '1N5B x 7, 1N 2B', '4 1/2N')
    """
    if not 0 <= lost <= deep or (2 * lost) % 1 or (2 * deep) % 1:
        raise ValueError(
            f"an edge loses whole or half meshes, none to as many as it is deep, not {lost} of {deep}"
        )
    whole, half = divmod(deep - lost, 1)
    return Taper(joined([*_spread(int(whole), round(2 * lost)), Run("N", half)]))


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
    >>> runs_text([Run("N", 3), *[Run("B", 4), Run("N", 1)] * 4, Run("B", 4)])
    '2N, 1N4B x 5'
    """
    words: list[str] = []
    rest = _led_in(tuple(runs))
    while rest:
        length, times = _best_repeat(rest)
        words.append(_pattern(rest[:length]) + (f" x {times}" if times > 1 else ""))
        rest = rest[length * times :]
    return _commas(words)


def _spread(points: int, bars: int) -> list[Run]:
    """So many N with so many B spread among them, in equal cycles; what no cycle takes up comes last."""
    if not points or not bars:
        return [Run("N", points), Run("B", bars)]
    n, b = _cycle_of(points, bars)
    times = min(points // n, bars // b)
    fewer, more = sorted((n, b))
    shares = [after - before for before, after in pairwise(k * more // fewer for k in range(fewer + 1))]
    each = [(1, share) if n <= b else (share, 1) for share in shares]
    cycle = [run for ns, bs in each for run in (Run("N", ns), Run("B", bs))]
    return [*cycle * times, Run("N", points - times * n), Run("B", bars - times * b)]


def _cycle_of(points: int, bars: int) -> tuple[int, int]:
    """N and B of the cycle: the one that divides both, if it can be remembered, or a shorter that comes near.

    Near is within a mesh of the straight line where the last cycle ends; where none is, the one that divides.
    """
    divides = gcd(points, bars)
    exact = (points // divides, bars // divides)
    if 2 * min(exact) <= LONGEST_PATTERN:
        return exact
    ratio = max(points, bars) / min(points, bars)
    counts = [(few, round(few * ratio)) for few in range(1, LONGEST_PATTERN // 2 + 1)]
    cycles = counts if points < bars else [(more, few) for few, more in counts]
    return next((cycle for cycle in cycles if _off_line(points, bars, cycle) <= NEAR), exact)


def _off_line(points: int, bars: int, cycle: tuple[int, int]) -> float:
    """Meshes between an edge cut in cycles and the straight line, where the last cycle ends."""
    n, b = cycle
    times = min(points // n, bars // b)
    lost = times * b / 2
    return abs(lost - (times * n + lost) * bars / (2 * points + bars))


def _led_in(runs: tuple[Run, ...]) -> tuple[Run, ...]:
    """An edge with its first N divided, where what they have over those of the cycle only leads up to it."""
    if len(runs) < 3 or runs[0].cut != "N":
        return runs
    first, second, third, *_ = runs
    if second.cut == "N":  # half an N of its own, where the edge starts between two knots
        return (first, *_led_in(runs[1:]))
    led = (replace(first, count=first.count - third.count), replace(first, count=third.count), *runs[1:])
    return led if first.count > third.count and _best_repeat(led[1:])[1] > 1 else runs


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
