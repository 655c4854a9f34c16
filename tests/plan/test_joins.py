"""How rows of knots are joined where meshes are lost or gained: facts of any knotted netting (derived)."""

from collections import Counter
from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from net3d.parts import TAIL
from net3d.plan.joins import Row, RowChange, join_rows
from tests.nets import make

pytestmark = pytest.mark.law


@st.composite
def rows_and_changes(draw):
    """A row of knots and batings that take no loop twice, or creasings, anywhere around."""
    around = draw(st.integers(5, 40))
    row = Row(around, draw(st.sampled_from([0.0, 0.5, 0.123])) * 2 * pi / around)
    if draw(st.booleans()):
        knots = draw(st.sets(st.integers(0, around - 1), max_size=around))
        return row, RowChange(creasings=tuple(sorted(knots)))
    # A bating takes its own loop and the next one: two batings are at least two loops apart.
    loops = draw(st.sets(st.integers(0, around - 1), max_size=around // 2))
    kept = sorted(loop for loop in loops if (loop + 1) % around not in loops)
    return row, RowChange(batings=tuple(kept))


def tries(test):
    return settings(deadline=None, max_examples=200, derandomize=True)(given(drawn=rows_and_changes())(test))


@tries
def test_a_row_has_as_many_knots_as_loops_are_left(drawn):
    row, change = drawn
    join = join_rows(row, change)
    assert join.below.count == row.count - len(change.batings) + len(change.creasings)
    assert set(join.owner.tolist()) == set(range(join.below.count))
    assert -1e-9 <= join.below.phase / join.below.pitch < 1.0  # rounding apart


@tries
def test_every_knot_has_two_bars_up_and_a_bating_four_from_three_knots(drawn):
    row, change = drawn
    join = join_rows(row, change)
    upper, lower = join.bars()
    expected = Counter({2: join.below.count - len(change.batings), 4: len(change.batings)})
    assert Counter(Counter(lower.tolist()).values()) == +expected
    single = 0
    for knot in range(join.below.count):
        above = upper[lower == knot]
        neighbours = sorted(set(above.tolist()))
        if len(above) == 4:
            middle = [k for k, bars in Counter(above.tolist()).items() if bars == 2]
            assert len(neighbours) == 3
            assert set(neighbours) == {(middle[0] + step) % row.count for step in (-1, 0, 1)}
        elif len(neighbours) == 1:
            single += 1  # an extra loop, hung on one knot
        else:
            assert (neighbours[1] - neighbours[0]) % row.count in {1, row.count - 1}
    assert single == len(change.creasings)


@tries
def test_every_knot_has_two_bars_down_and_two_more_where_a_loop_was_hung_on(drawn):
    row, change = drawn
    down = Counter(join_rows(row, change).bars()[0].tolist())
    assert down == {knot: 4 if knot in change.creasings else 2 for knot in range(row.count)}


@tries
def test_the_netting_neither_crosses_itself_nor_creeps_around(drawn):
    # Neighbouring loops are taken by the same or by neighbouring knots; and over the whole row the knots
    # stand as much left of their loops as right.
    row, change = drawn
    join = join_rows(row, change)
    steps = (np.roll(join.owner, -1) - join.owner) % join.below.count
    assert set(steps.tolist()) <= {0, 1}
    assert steps.sum() == join.below.count
    angles = row.angles()
    width = (angles[join.right] - angles[join.left]) % (2 * pi)
    middles = angles[join.left] + width / 2
    first = join.owner == np.roll(join.owner, 1)
    sums, counts = np.zeros(join.below.count, complex), np.bincount(join.owner)
    np.add.at(sums, join.owner, np.exp(1j * middles))
    offsets = np.angle(np.exp(1j * join.below.angles()) / (sums / counts))
    assert first.sum() == len(change.batings)
    assert offsets.mean() == pytest.approx(0.0, abs=1e-6)
    assert np.abs(offsets).max() < (1 + max(len(change.batings), len(change.creasings))) * row.pitch


NETS = {
    "fewer": {"around": 16, "diameters": (0.32, 0.3, 0.28), "deep": (4, 4), "arounds": (14, 11), "tail": 5},
    "more": {"around": 12, "diameters": (0.24, 0.26, 0.3), "deep": (3, 3.5), "arounds": (14, 16)},
    "fewer, then more": {
        "around": 16,
        "diameters": (0.32,) * 3,
        "deep": (4, 3),
        "arounds": (13, 16),
        "weight": True,
    },
}


@pytest.mark.parametrize("keys", NETS.values(), ids=NETS)
def test_a_body_whose_meshes_change_has_those_asked_at_every_hoop(keys):
    net = make(**keys)
    counts = (keys["around"], *keys["arounds"])
    assert tuple(hoop.meshes_around for hoop in net.plan.hoops) == counts
    for number, (hoop, count) in enumerate(zip(net.plan.hoops, counts, strict=True)):
        assert len(hoop.marks) == count
        assert (net.netting.knot_carriers == number).sum() == count
        # Derived: the pitch is the outside circumference over the meshes there.
        assert hoop.pitch == pytest.approx(pi * keys["diameters"][number] / count)
    for section, above, deep in zip(net.plan.sections, counts, keys["deep"], strict=False):
        rows = [row.count for row in section.piece.rows]
        assert (rows[0], rows[-1], len(rows)) == (above, counts[section.to_hoop - 1], 2 * deep + 1)
        # Two bars to every loop: as many loops as knots above, and one more for every mesh gained.
        gained = sum(len(change.creasings) for change in section.piece.changes)
        assert len(net.netting.bars_of(section.part)) == 2 * (sum(rows[:-1]) + gained) == section.piece.bars
    assert net.settled().state.value == "settled"


def test_the_tail_goes_on_with_the_meshes_of_the_last_hoop():
    net = make(**NETS["fewer"])
    assert {row.count for row in net.plan.tail.rows} == {11}
    gathered = net.netting.knot_parts == net.netting.parts.index(TAIL)
    assert gathered.sum() == 11 * net.plan.tail_rows
