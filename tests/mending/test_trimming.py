"""Holes that one piece of twine mends: counts by arithmetic, fewest cuts by trying all, trails walked."""

import random
from itertools import combinations

import numpy as np
import pytest

from net3d.mending import HoleError, lattice_of, mend, trim
from net3d.mending.trimming import holes
from net3d.plan.decreases import Edge, share_out, tie_down
from net3d.plan.joins import Row

PLAIN = tie_down(Edge(Row(20), 0.3, 0.05), (0,) * 14)
TAPERED = tie_down(Edge(Row(24), 0.3, 0.05), share_out(12, 14, 0.0))


def block(lattice, across, deep, row=1, place=3):
    """The knots of so many rows, so many in each."""
    return {lattice.knot(row + down, place + over) for down in range(deep) for over in range(across)}


def left_at(lattice, bars):
    """How many bars every knot keeps and misses."""
    missing = np.bincount(lattice.ends[sorted(bars)].ravel(), minlength=sum(lattice.counts))
    return lattice.full - missing, missing


def is_one_trail(lattice, bars):
    """By Euler: connected, and odd at no knot but two, which then keep all but one."""
    _, missing = left_at(lattice, bars)
    odd = np.flatnonzero(missing % 2)
    return len(holes(lattice, frozenset(bars))) == 1 and len(odd) in (0, 2) and (missing[odd] == 1).all()


@pytest.mark.closed_form
@pytest.mark.parametrize(
    ("across", "deep", "out"), [(1, 1, 4), (2, 2, 13), (3, 3, 26), (5, 5, 64), (8, 11, 202)]
)
def test_a_block_of_knots(across, deep, out):
    """4 bars a knot, less (2 c - 1) (r - 1) shared ones; 6 odd knots are left, 4 by a knot alone."""
    lattice = lattice_of(PLAIN)
    torn = lattice.bars_at(block(lattice, across, deep, row=2))
    assert len(torn) == out == 4 * across * deep - (2 * across - 1) * (deep - 1)
    _, missing = left_at(lattice, torn)
    odd = int((missing % 2).sum())
    assert odd == (4 if across == deep == 1 else 6)
    found = trim(lattice, torn)
    assert len(found.cut) == 2  # four odd knots in pairs of neighbours, or two around a corner
    kept, missing = left_at(lattice, found.bars)
    rim = (missing > 0) & (kept > 0)
    assert sorted(kept[rim])[-2:] == [3, 3]
    assert set(sorted(kept[rim])[:-2]) == {2}


def torn_by_chance(lattice, chance, most):
    """A few bars that hang together, torn one after the other where the last left off."""
    bars = {chance.randrange(2 * 20 * 3, 2 * 20 * 8)}
    for _ in range(chance.randrange(most)):
        beside = lattice.bars_at(set(lattice.ends[sorted(bars)].ravel().tolist()))
        bars.add(chance.choice(sorted(beside)))
    return bars


def odd_at(ends, bars):
    """Knots with an odd number of some bars."""
    odd = set()
    for bar in bars:
        odd ^= set(ends[bar])
    return odd


def has_one_trail(lattice, ends, torn, more):
    """By Euler, the cheap half of it first: it is asked of every set of cuts."""
    return len(odd_at(ends, torn) ^ odd_at(ends, more)) <= 2 and is_one_trail(lattice, {*torn, *more})


def torn_in_block(chance, lattice, inside):
    """Bars of a block of 5 x 5 knots, torn one after the other where the last left off."""
    bars = {chance.choice(inside)}
    for _ in range(chance.randrange(14)):
        beside = lattice.bars_at(set(lattice.ends[sorted(bars)].ravel().tolist())) & set(inside)
        bars.add(chance.choice(sorted(beside)))
    return frozenset(bars)


def held_to_all_ways(count, seed):
    """Random sets of torn bars in a block of 5 x 5 knots against every set of fewer cuts near them."""
    lattice, chance = lattice_of(PLAIN), random.Random(seed)
    ends, inside = lattice.ends.tolist(), sorted(lattice.bars_at(block(lattice, 5, 5, row=4)))
    seen, tried = set(), 0
    for _ in range(count):
        torn = torn_in_block(chance, lattice, inside)
        if torn in seen:
            continue
        seen.add(torn)
        found = trim(lattice, torn)
        assert is_one_trail(lattice, found.bars)
        near = sorted(lattice.bars_at(set(lattice.ends[sorted(found.bars)].ravel().tolist())) - torn)
        for fewer in range(min(len(found.cut), 3)):
            tried += 1
            assert not any(has_one_trail(lattice, ends, torn, more) for more in combinations(near, fewer))
    return tried


@pytest.mark.second_route
def test_no_fewer_cuts_do_in_a_block():
    assert held_to_all_ways(200, seed=11) > 100


@pytest.mark.slow
@pytest.mark.second_route
def test_no_fewer_cuts_do_in_a_hundred_thousand_blocks():
    assert held_to_all_ways(100_000, seed=12) > 10_000


@pytest.mark.law
@pytest.mark.parametrize("piece", [PLAIN, TAPERED], ids=["plain", "losing meshes"])
def test_the_twine_knits_every_bar_once_and_no_other(piece):
    lattice, chance = lattice_of(piece), random.Random(5)
    for number in range(150):
        if number % 3:
            torn = torn_by_chance(lattice, chance, 25)
        else:
            size = chance.randrange(1, 5), chance.randrange(1, 5)
            torn = lattice.bars_at(block(lattice, *size, row=chance.randrange(2, 8)))
        made = mend(lattice, trim(lattice, torn))
        knit = [tuple(sorted(pair)) for pair in zip(made.knots, made.knots[1:], strict=False)]
        wanted = [tuple(sorted(lattice.ends[bar].tolist())) for bar in made.trim.bars]
        assert sorted(knit) == sorted(wanted)
        assert (made.knots[0], made.knots[-1]) == (made.trim.start, made.trim.finish)
        tied = [knot for one in made.passes for knot in one.tied]
        assert sorted(tied) == sorted(set(made.knots))
        assert sum(len(one.bars) for one in made.passes) == made.bars


def test_a_block_is_knit_to_and_fro_row_after_row():
    """As netting is made, common practice, no source: a pass a row, each the other way from the last."""
    lattice = lattice_of(PLAIN)
    made = mend(lattice, trim(lattice, lattice.bars_at(block(lattice, 4, 3))))
    assert [one.row for one in made.passes] == sorted(one.row for one in made.passes)
    assert len(made.passes) == 4
    turns = [one.clockwise for one in made.passes]
    assert turns[::2] == [turns[0]] * 2
    assert turns[1::2] == [not turns[0]] * 2


def test_what_is_no_hole_is_refused():
    lattice = lattice_of(PLAIN)
    with pytest.raises(HoleError, match="nothing to mend"):
        trim(lattice, ())
    with pytest.raises(HoleError, match="one by one"):
        trim(lattice, {60, 200})
