"""Bars that were picked from a net, told as a maker counts them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

import numpy as np

from net3d.mending.lattice import Lattice, lattice_of
from net3d.mending.torn import parts_of, pieces_of
from net3d.mending.trimming import HoleError
from net3d.netting.netting import Ints, Netting
from net3d.plan.plan import Plan
from net3d.spec.holes import BarEnds, KnotRun, Tear


def picked_tears(plan: Plan, netting: Netting, ends: Ints) -> tuple[Tear, ...]:
    """What is torn where these bars are: of the body and of every throat by itself.

    Knots whose bars are all torn are told as knots.

    Parameters
    ----------
    plan, netting : the net
    ends : (k, 2) knots of the netting at the ends of the bars

    Raises
    ------
    HoleError : some of them are no bars of body or throats
    """
    wanted, left = _codes(ends), set(_codes(ends).tolist())
    tears = []
    for throat in (None, *range(1, len(plan.throats) + 1)):
        own = np.concatenate([netting.bars_of(part) for part in parts_of(plan, throat)])
        codes = _codes(netting.bars[own])
        torn = frozenset(np.flatnonzero(np.isin(codes, wanted)).tolist())
        left -= set(codes.tolist())
        if torn:
            lattice = lattice_of(*pieces_of(plan, throat))
            tears.append(Tear(throat, None, tuple(_runs(lattice, torn)), tuple(_bars(lattice, torn))))
    if left or not tears:
        raise HoleError("Only bars of the body and of throats are torn: mark some of those.")
    return tuple(tears)


def _codes(ends: Ints) -> Ints:
    """A number for the two knots of every bar, whichever comes first."""
    low, high = np.sort(np.asarray(ends, np.int64).reshape(-1, 2), axis=1).T
    return np.asarray((low << 32) + high)


def _torn_out(lattice: Lattice, torn: frozenset[int]) -> list[int]:
    """Knots all of whose bars are torn; those of the first row and the last hold on to others."""
    hits = np.bincount(lattice.ends[sorted(torn)].ravel(), minlength=sum(lattice.counts))
    first, last = lattice.counts[0], sum(lattice.counts[:-1])
    whole = np.flatnonzero((hits > 0) & (hits == lattice.full)).tolist()
    return [knot for knot in whole if first <= knot < last]


def _runs(lattice: Lattice, torn: frozenset[int]) -> Iterator[KnotRun]:
    """Torn knots that follow each other in a row, as one."""
    places = [lattice.row_and_place(knot) for knot in _torn_out(lattice, torn)]
    for (row, _), run in groupby(enumerate(places), lambda one: (one[1][0], one[1][1] - one[0])):
        around = [place for _, (_, place) in run]
        yield KnotRun(row, around[0] + 1, around[-1] + 1)


def _bars(lattice: Lattice, torn: frozenset[int]) -> Iterator[BarEnds]:
    """The bars that no knot tells of; of two between the same knots, both."""
    rest = sorted(torn - lattice.bars_at(set(_torn_out(lattice, torn))))
    for upper, lower in dict.fromkeys(map(tuple, lattice.ends[rest].tolist())):
        (row, knot), (next_row, next_knot) = lattice.row_and_place(upper), lattice.row_and_place(lower)
        yield (row, knot + 1), (next_row, next_knot + 1)
