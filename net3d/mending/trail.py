"""The way that the twine takes through a trimmed hole, row by row as netting is knit."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise

from net3d.mending.lattice import Lattice
from net3d.mending.trimming import Trim


@dataclass(frozen=True)
class Pass:
    """One pass of the twine between a row of knots and the next, to and fro."""

    row: int  # of knots, the upper of the two, from 0 at the row that the piece hangs from
    clockwise: bool
    bars: tuple[int, ...]  # in the order in which they are knit
    stops: tuple[int, ...]  # knots that the twine comes to, the one it comes from first
    tied: tuple[int, ...]  # of these, in their order, those at which it is made fast


@dataclass(frozen=True, eq=False)
class Mend:
    """A hole mended with one piece of twine."""

    trim: Trim
    knots: tuple[int, ...]  # that the twine comes to, from the start to the finish
    passes: tuple[Pass, ...]

    @property
    def bars(self) -> int:
        """Bars that are knit."""
        return len(self.knots) - 1

    @property
    def ties(self) -> int:
        """Knots that are tied, those at the rim with them."""
        return len(set(self.knots))

    def twine(self, bar: float, diameter: float, factor: float) -> float:
        """Twine in the mend [m]: ``bars b + knots K d``, without what is left at its ends.

        Parameters
        ----------
        bar : b [m]
        diameter : d of the twine [m]
        factor : K, twine in a knot over its diameter [-]
        """
        return self.bars * bar + self.ties * factor * diameter


def mend(lattice: Lattice, trimmed: Trim) -> Mend:
    """The order in which one piece of twine knits all that is missing.

    In whole netting the twine runs to and fro: down to a loop, up to the next knot. So the two bars that hang
    from a knot follow each other, and so do the two of a loop; at the sides the twine goes on from one row to
    the next. Where that leaves closed rounds, each is taken in where the trail passes it.
    """
    onward = _onward(lattice, trimmed)
    knots, bars = _walk(lattice, onward, trimmed.start, None)
    while left := trimmed.bars - set(bars):
        place = next(at for at, knot in enumerate(knots) if any(knot in lattice.ends[bar] for bar in left))
        first = min(bar for bar in left if knots[place] in lattice.ends[bar])
        round_knots, round_bars = _walk(lattice, onward, knots[place], first)
        knots[place : place + 1] = round_knots
        bars[place:place] = round_bars
    return Mend(trimmed, tuple(knots), _passes(lattice, knots, bars))


def _onward(lattice: Lattice, trimmed: Trim) -> dict[tuple[int, int | None], int]:
    """From a knot and the bar that came to it, the bar that leaves; None at the start."""
    hanging, above = defaultdict(list), defaultdict(list)
    for bar in sorted(trimmed.bars):
        upper, lower = lattice.ends[bar].tolist()
        hanging[upper].append(bar)
        above[lower].append(bar)
    onward: dict[tuple[int, int | None], int] = {}
    for knot in {*hanging, *above}:
        bars = _side_by_side(hanging[knot]) + above[knot]
        if knot in (trimmed.start, trimmed.finish) and trimmed.start != trimmed.finish:
            (alone, *_) = (hanging if knot == trimmed.start else above)[knot] or bars
            bars.remove(alone)
            onward[knot, None] = alone
        for one, other in zip(bars[::2], bars[1::2], strict=True):
            onward[knot, one], onward[knot, other] = other, one
    return onward


def _side_by_side(bars: list[int]) -> list[int]:
    """Bars that hang from a knot, in the order of their loops around it."""
    wraps = len(bars) > 1 and bars[0] % 2 == 0 and bars[-1] % 2 == 1 and bars[-1] - bars[0] > 1
    return [bars[-1], *bars[:-1]] if wraps and len(bars) % 2 == 0 and len(bars) > 2 else bars


def _walk(
    lattice: Lattice, onward: dict[tuple[int, int | None], int], knot: int, first: int | None
) -> tuple[list[int], list[int]]:
    """Along a trail to where it ends, or around until it closes: its knots and its bars."""
    knots, bars = [knot], list[int]()
    bar = onward.get((knot, None), first) if first is None else first
    if bar is None:
        bar = min(other for at, other in onward.items() if at[0] == knot)
    while bar is not None and bar not in bars:
        bars.append(bar)
        upper, lower = lattice.ends[bar].tolist()
        knot = lower if knot == upper else upper
        knots.append(knot)
        bar = onward.get((knot, bar))
    return knots, bars


def _passes(lattice: Lattice, knots: list[int], bars: list[int]) -> tuple[Pass, ...]:
    last = {knot: at for at, knot in enumerate(knots)}
    found, at = [], 0
    for step, run in groupby(bars, key=lambda bar: int(lattice.steps[bar])):
        own = tuple(run)
        visited = range(at, at + len(own) + (at + len(own) == len(bars)))
        tied = tuple(knots[place] for place in visited if last[knots[place]] == place)
        stops = tuple(knots[at : at + len(own) + 1])
        found.append(Pass(step, _runs_clockwise(lattice, own), own, stops, tied))
        at += len(own)
    return tuple(found)


def _runs_clockwise(lattice: Lattice, bars: tuple[int, ...]) -> bool:
    """Whether a pass goes around clockwise: by the numbers of its bars, which do, but for one step across."""
    count = int((lattice.steps == lattice.steps[bars[0]]).sum())
    turns = [(other - one) % count for one, other in pairwise(bars)]
    return sum(turn <= count // 2 for turn in turns) * 2 >= len(turns)


def numbered(lattice: Lattice, knots: tuple[int, ...]) -> Iterator[str]:
    """Knots as the knitting table numbers them, row and place from 1, such as 7:12."""
    for knot in knots:
        row, place = lattice.row_and_place(knot)
        yield f"{row}:{place + 1}"
