"""How to trim a hole so that one piece of twine mends it.

Twine comes to every knot and leaves it: the missing bars must form one unbroken trail. That holds where at
every knot an even number of bars is missing, but for two that keep three or more, at which the twine starts
and ends (Euler 1736). The other knots that miss an odd number are joined in pairs along the fewest bars,
which are cut. Source: arithmetic on the lattice; menders' three-leggers, common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations
from math import inf

import numpy as np

from net3d.errors import NetError
from net3d.mending.lattice import Lattice
from net3d.netting.netting import Ints

MOST_ODD = 14  # knots with an odd number of bars missing that are paired in all ways


class HoleError(NetError):
    """A hole that is none, or that one piece of twine does not mend."""


@dataclass(frozen=True, eq=False)
class Trim:
    """A hole that one piece of twine mends."""

    torn: frozenset[int]  # bars
    cut: frozenset[int]  # bars, beyond those that are torn
    start: int  # knot, the higher of the two
    finish: int

    @property
    def bars(self) -> frozenset[int]:
        """All that is to be knit."""
        return self.torn | self.cut


def trim(lattice: Lattice, torn: Iterable[int]) -> Trim:
    """The fewest bars to cut, so that one trail takes all that is missing.

    Of ways that cut as few the one whose ends are most rows apart is taken. Raises HoleError where nothing is
    torn, where it lies in several holes, or where more than 14 knots are left with an odd number of bars.
    """
    missing = frozenset(torn)
    if not missing:
        raise HoleError("No bar is torn, so there is nothing to mend.")
    if len(holes(lattice, missing)) > 1:
        raise HoleError("These are several holes that share no knot: mend them one by one.")
    missing |= _hanging_on(lattice, missing)
    gone = _degrees(lattice, missing)
    odd = [int(knot) for knot in np.flatnonzero(gone % 2)]
    if len(odd) > MOST_ODD:
        raise HoleError(
            f"{len(odd)} knots at the rim miss an odd number of bars: cut out whole knots until at most "
            f"{MOST_ODD} do."
        )
    if not odd:
        (top, *_) = sorted(np.flatnonzero(gone).tolist())
        return Trim(frozenset(torn), missing - frozenset(torn), top, top)
    found = [one for ends in combinations(odd, 2) if (one := _trimmed(lattice, missing, odd, ends))]
    if not found:
        raise HoleError("No way to trim this hole was found: cut out whole knots around it.")
    best = min(found, key=lambda one: (len(one.cut), -_apart(lattice, one), one.start, one.finish))
    return replace(best, torn=frozenset(torn), cut=best.bars - frozenset(torn))


def _hanging_on(lattice: Lattice, torn: frozenset[int]) -> frozenset[int]:
    """Bars by which a knot hangs on alone, too little to begin or end at; and those that then do."""
    cut = frozenset[int]()
    while True:
        kept = np.where(lattice.full > 2, lattice.full - _degrees(lattice, torn | cut), 0)  # not at an edge
        last = lattice.bars_at(set(np.flatnonzero(kept == 1).tolist())) - torn - cut
        if not last:
            return cut
        cut |= last


def holes(lattice: Lattice, torn: frozenset[int]) -> list[frozenset[int]]:
    """The torn bars, sorted into holes that share no knot."""
    from scipy.sparse import coo_matrix, csgraph  # noqa: PLC0415 - loads slowly, and only holes need it

    bars = np.array(sorted(torn))
    ends, count = lattice.ends[bars], sum(lattice.counts)
    graph = coo_matrix((np.ones(len(bars)), (ends[:, 0], ends[:, 1])), shape=(count, count))
    _, labels = csgraph.connected_components(graph, directed=False)
    own = labels[ends[:, 0]]
    return [frozenset(bars[own == label].tolist()) for label in dict.fromkeys(own.tolist())]


def _degrees(lattice: Lattice, bars: Iterable[int]) -> Ints:
    """How many of some bars end in every knot (knots,)."""
    return np.bincount(lattice.ends[list(bars)].ravel(), minlength=sum(lattice.counts))


def _apart(lattice: Lattice, trimmed: Trim) -> int:
    return lattice.row_and_place(trimmed.finish)[0] - lattice.row_and_place(trimmed.start)[0]


def _trimmed(lattice: Lattice, torn: frozenset[int], odd: list[int], ends: tuple[int, int]) -> Trim | None:
    """The fewest cuts that leave these two knots as the ends; None where they cannot be."""
    others = [knot for knot in odd if knot not in ends]
    ways = _ways(lattice, torn, others, ends)
    cut: set[int] = set()
    for pair in _paired(tuple(others), ways):
        cut ^= ways[pair]
    if others and not cut:
        return None
    return Trim(torn, frozenset(cut), *sorted(ends))


def _ways(
    lattice: Lattice, torn: frozenset[int], knots: list[int], ends: tuple[int, int]
) -> dict[tuple[int, int], frozenset[int]]:
    """The fewest bars from each of some knots to each other, past the ends, along bars that are whole."""
    from scipy.sparse import csgraph, csr_matrix  # noqa: PLC0415 - loads slowly, and only holes need it

    whole = np.setdiff1d(np.arange(len(lattice.ends)), list(torn))
    whole = whole[~np.isin(lattice.ends[whole], ends).any(axis=1)]
    upper, lower = lattice.ends[whole].T
    count = sum(lattice.counts)
    graph = csr_matrix((np.ones(len(whole)), (upper, lower)), shape=(count, count))
    steps, before = csgraph.dijkstra(graph, False, knots, return_predecessors=True, unweighted=True)
    bar_between = {(min(a, b), max(a, b)): int(bar) for bar, a, b in zip(whole, upper, lower, strict=True)}
    found = {}
    for at, knot in enumerate(knots):
        for other in knots[at + 1 :]:
            if np.isfinite(steps[at, other]):
                way = _back(before[at], other, knot)
                found[knot, other] = frozenset(bar_between[min(a, b), max(a, b)] for a, b in way)
    return found


def _back(before: Ints, knot: int, to: int) -> Iterator[tuple[int, int]]:
    while knot != to:
        last = int(before[knot])
        yield last, knot
        knot = last


def _paired(knots: tuple[int, ...], ways: dict[tuple[int, int], frozenset[int]]) -> list[tuple[int, int]]:
    """Every knot with another, along the fewest bars in all; nothing where that cannot be."""

    @cache
    def best(left: tuple[int, ...]) -> tuple[float, tuple[tuple[int, int], ...]]:
        if not left:
            return 0, ()
        first, *rest = left
        choices: list[tuple[float, tuple[tuple[int, int], ...]]] = [(inf, ())]
        for other in (knot for knot in rest if (first, knot) in ways):
            cost, pairs = best(tuple(knot for knot in rest if knot != other))
            choices.append((cost + len(ways[first, other]), ((first, other), *pairs)))
        return min(choices)

    cost, pairs = best(knots)
    return list(pairs) if cost < inf else []
