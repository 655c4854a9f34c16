"""Largest whole pieces against all rectangles there are, and pieces that are counted by hand."""

import random
from itertools import product

import numpy as np
import pytest

from net3d.mending import lattice_of
from net3d.mending.pieces import largest, whole_cells, whole_pieces
from net3d.plan.decreases import Edge, share_out, tie_down
from net3d.plan.joins import Row

PLAIN = lattice_of(tie_down(Edge(Row(20), 0.3, 0.05), (0,) * 14))


def by_all(cells, least):
    """The most cells in a rectangle of such sides, every one on the cylinder tried."""
    rows, around = cells.shape
    best = 0
    for top, left, across in product(range(rows), range(around), range(least, around + 1)):
        for deep in range(least, rows - top + 1):
            if across * deep > best:
                block = cells[top : top + deep, np.arange(left, left + across) % around]
                best = across * deep if block.all() else best
    return best


@pytest.mark.second_route
def test_none_is_larger():
    chance = random.Random(2)
    for _ in range(250):
        rows, around = chance.randrange(1, 7), chance.randrange(1, 9)
        share = chance.choice((0.05, 0.2, 0.5))
        cells = np.array([[chance.random() > share for _ in range(around)] for _ in range(rows)])
        least = chance.choice((1, 1, 2, 3))
        found = largest(cells, least)
        if found is None:
            assert by_all(cells, least) == 0
            continue
        top, left, across, deep = found
        assert cells[top : top + deep, np.arange(left, left + across) % around].all()
        assert across * deep == by_all(cells, least)
        assert min(across, deep) >= least


@pytest.mark.law
def test_every_cell_of_plain_netting_holds_one_bar():
    """As many cells as bars, and each bar torn empties one."""
    cells = whole_cells(PLAIN, frozenset(), 0, 14)
    assert cells.shape == (14, 40)
    assert cells.all()
    assert cells.size == len(PLAIN.ends)
    for bar in range(0, len(PLAIN.ends), 17):
        assert (~whole_cells(PLAIN, frozenset({bar}), 0, 14)).sum() == 1
    at = PLAIN.knot(6, 3)  # its bars: two half pitches in each of two rows
    rows, places = np.nonzero(~whole_cells(PLAIN, PLAIN.bars_at({at}), 0, 14))
    assert sorted(set(rows.tolist())) == [5, 6]
    assert (places.max() - places.min()) % 39 in (0, 1)


@pytest.mark.closed_form
def test_a_whole_tube_is_one_piece_and_a_hole_leaves_a_sheet_and_two_tubes():
    """A knot of row 6 out of 14 rows: beside it 38 of 40 half pitches are left in all 14."""
    (whole,) = whole_pieces(PLAIN, frozenset())
    assert (whole.across, whole.deep, whole.ring, whole.meshes) == (40, 14, True, 140)
    first, *_ = whole_pieces(PLAIN, PLAIN.bars_at({PLAIN.knot(6, 3)}))
    assert (first.across, first.deep, first.ring) == (38, 14, False)  # 532 cells, and a tube of 7 rows 280


def test_pieces_do_not_share_a_bar():
    chance = random.Random(4)
    for _ in range(20):
        torn = PLAIN.bars_at({PLAIN.knot(chance.randrange(1, 14), chance.randrange(20)) for _ in range(4)})
        left = np.zeros((14, 40), dtype=int)
        for one in whole_pieces(PLAIN, torn):
            left[one.row : one.row + one.deep, np.arange(one.left, one.left + one.across) % 40] += 1
        assert left.max() == 1
        assert not left[~whole_cells(PLAIN, torn, 0, 14)].any()


def test_rows_that_lose_meshes_part_the_tube():
    lattice = lattice_of(
        tie_down(Edge(Row(20), 0.3, 0.05), (0,) * 8 + share_out(4, 2, 0.0) + (0,) * 8),
    )
    found = whole_pieces(lattice, frozenset())
    assert {(one.across, one.ring) for one in found} == {(40, True), (32, True)}
    assert all(one.row + one.deep <= 8 or one.row >= 10 for one in found)
