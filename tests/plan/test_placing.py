"""Where a row's meshes are lost: left mirrors right about the reference mark, by the knots' angles alone."""

from math import pi

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from net3d.plan.joins import Row
from net3d.plan.placing import mirrored_places

pytestmark = pytest.mark.law


def row_of(knots, halves):
    """A row whose first knot is at the mark, or half a pitch behind it."""
    return Row(knots, halves * pi / knots)


@given(st.integers(8, 60), st.sampled_from([0, 1]), st.integers(1, 12), st.integers(0, 7))
def test_the_left_side_mirrors_the_right(knots, halves, count, number):
    row = row_of(knots, halves)
    places = mirrored_places(row, count, number)
    if places is None:
        return
    assert len(set(places.tolist())) == count
    # Knot k stands k + halves / 2 pitches from the mark, so knot -k - halves as far on the other side.
    assert set(places.tolist()) == set(((-places - halves) % knots).tolist())


@pytest.mark.parametrize(
    ("knots", "halves", "where"),
    # By hand: knots at the mark are the top; 12 of them have one at the bottom too, 11 have not. Half a pitch
    # behind it 11 have one at the bottom alone, and 12 neither.
    [(12, 0, ["top", "bottom"]), (11, 0, ["top", "top"]), (11, 1, ["bottom", "bottom"]), (12, 1, [])],
)
def test_an_odd_one_stands_at_the_top_or_the_bottom_in_turn(knots, halves, where):
    row = row_of(knots, halves)
    found = [mirrored_places(row, 1, number) for number in (0, 1)]
    if not where:
        assert found == [None, None]
        return
    angles = [float(row.angles()[places[0]]) for places in found]
    assert np.cos(angles) == pytest.approx([{"top": 1.0, "bottom": -1.0}[place] for place in where])


@given(st.integers(8, 60), st.sampled_from([0, 1]), st.integers(1, 15), st.integers(0, 7))
def test_there_is_room_where_two_knots_are_left_for_each(knots, halves, pairs, number):
    """Every other knot on one side, and neither the first at the top nor the last at the bottom."""
    assume(4 * pairs <= knots - halves)
    assert mirrored_places(row_of(knots, halves), 2 * pairs, number) is not None


def test_more_than_every_other_knot_is_too_many():
    assert mirrored_places(row_of(12, 0), 7, 0) is None
