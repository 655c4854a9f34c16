"""Pieces laid out on a sheet: none lies on another or off the sheet, and what is left over is waste."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from net3d.shop.nesting import Cutting, nest

pytestmark = pytest.mark.law

SIZE = 40.0
PIECES = st.lists(st.tuples(*[st.integers(2, 36)] * 3), min_size=1, max_size=9)


@given(PIECES)
def test_pieces_lie_side_by_side_on_the_sheet(sizes):
    cuttings = [Cutting(str(n), across, last, deep) for n, (across, last, deep) in enumerate(sizes)]
    found = nest(cuttings, SIZE, False)
    assert sorted(name for one in found.laid for name in one.names) == sorted(c.name for c in cuttings)
    for one in found.laid:
        assert one.start >= 0
        assert one.start + one.fixed <= SIZE
    for one, other in combinations(found.laid, 2):
        beside = one.start + one.fixed <= other.start or other.start + other.fixed <= one.start
        behind = one.along + one.run <= other.along or other.along + other.run <= one.along
        assert beside or behind
    assert found.run == pytest.approx(max(one.along + one.run for one in found.laid))
    assert (1 - found.waste) * found.run * SIZE == pytest.approx(
        sum((first + last) / 2 * deep for first, last, deep in sizes)
    )


def test_by_hand():
    # Half a mesh is lost along a cut: 10.5 by 10.5 each. Three stand across 40, the fourth in a new strip.
    found = nest([Cutting(name, 10, 10, 10) for name in "abcd"], SIZE, False)
    assert [(one.start, one.along) for one in found.laid] == [(0, 0), (10.5, 0), (21, 0), (0, 10.5)]
    assert found.run == 21
    assert found.waste == pytest.approx(1 - 400 / (21 * 40))
