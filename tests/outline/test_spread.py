"""Meshes a side of a frame: marks by hand, what is refused, and that even ones change nothing."""

from itertools import pairwise

import numpy as np
import pytest

from net3d.errors import SpecError
from net3d.netting import tie
from net3d.outline.frames import Frame
from net3d.plan import lay_out
from net3d.shop.hoop_marks import markings
from net3d.spec import parse_spec
from net3d.statics import settle_quickly
from net3d.tables.marks import marks_sheet

NET = """title = "Frames"
units = "mm"
[netting]
around = {around}
stretched = 100
twine = "#15"
[[hoop]]
{frame}
corner = 20
rod = 10
material = "steel"
repeat = 2
[sections]
deep = [5.5]
[rigging]
pull = 60
"""
RECTANGLE = 'shape = "rectangle"\nwidth = 600\nheight = 400'
D_FRAME = 'shape = "d"\nwidth = 500\nheight = 450'


def plan_of(frame, around=30):
    spec = parse_spec(NET.format(frame=frame, around=around))
    return spec, lay_out(spec)


@pytest.mark.closed_form
def test_marks_of_a_rectangle_by_hand():
    # From corner to corner across 600 - 2 x 20 + pi / 2 x 20 = 591.4 mm, up 391.4: 10 and 5 meshes of
    # 59.1 and 78.3 mm. The first mark is above in the middle, the fifth half a mesh short of the corner.
    _, plan = plan_of(f"{RECTANGLE}\nsides = [10, 5, 10, 5]")
    across, up = 591.416, 391.416
    corners = np.cumsum([across / 2, up, across, up])
    expected = [*np.arange(5) * across / 10, *(corners[0] + np.arange(5) * up / 5),
                *(corners[1] + np.arange(10) * across / 10), *(corners[2] + np.arange(5) * up / 5),
                *(corners[3] + np.arange(5) * across / 10)]  # fmt: skip
    assert 1000 * plan.hoops[0].marks == pytest.approx(np.array(expected), abs=0.51)
    # The second frame's row is half a mesh on: no mark of it stands at a corner.
    later = 1000 * plan.hoops[1].marks
    assert np.abs(later[:, None] - corners).min() > 25


@pytest.mark.law
@pytest.mark.parametrize("frame", [RECTANGLE, D_FRAME])
def test_sides_as_long_as_they_are_by_even_spacing_change_nothing(frame):
    _, even = plan_of(frame)
    girth = even.hoops[0].circumference
    shape = even.hoops[0].frame
    lengths = shape.side_lengths(0.0)
    assert sum(lengths) == pytest.approx(girth)
    # A frame whose sides go into its meshes without a rest: the map is the identity.
    square, told = (Frame("square", 0.5, 0.5, 0.02, sides) for sides in ((), (8, 8, 8, 8)))
    arcs = np.linspace(0, 2 * np.pi, 50)
    assert told.curve.places(arcs) == pytest.approx(square.curve.places(arcs), abs=1e-9)
    assert told.curve.corners == pytest.approx(square.curve.corners)


@pytest.mark.law
@pytest.mark.parametrize(
    ("frame", "sides"), [(RECTANGLE, (9, 6, 9, 6)), (RECTANGLE, (11, 7, 7, 5)), (D_FRAME, (20, 10))]
)
def test_so_many_marks_stand_on_every_side(frame, sides):
    spec, plan = plan_of(f"{frame}\nsides = {list(sides)}")
    for hoop, marking in zip(plan.hoops, markings(spec, plan), strict=True):
        corners = [hoop.outline.length(arc) for arc in hoop.corners]
        assert len(corners) == len(sides)
        marks = np.array(marking.readings)
        between = [int(((marks > a + 6e-4) & (marks < b - 6e-4)).sum()) for a, b in pairwise(corners)]
        assert all(meshes - 1 <= found <= meshes for found, meshes in zip(between, sides[1:], strict=True))
        seats = hoop.outline.points(hoop.row.angles())
        steps = np.linalg.norm(np.roll(seats, -1, axis=0) - seats, axis=1)
        assert steps.max() <= 1.001 * max(np.array(hoop.frame.side_lengths(0.0)) / sides)
    assert all(row["stepped_pitch"] is None for row in marks_sheet(spec, plan).records)


@pytest.mark.second_route
def test_knots_stand_where_the_marks_are(tmp_path):
    spec, plan = plan_of(f"{RECTANGLE}\nsides = [10, 5, 10, 5]")
    netting = tie(spec, plan)
    places = settle_quickly(netting, plan).knot_positions
    knots = np.flatnonzero(netting.knot_carriers == 0)
    width, height = np.abs(places[knots, 1:]).max(axis=0)
    assert (width, height) == pytest.approx((0.29, 0.19), rel=1e-4)  # inside the rod, which bends a little
    above = knots[places[knots, 2] > 0.19 * (1 - 1e-4)]
    assert len(above) == 9  # the one in the middle, and 4 each way before the corners


@pytest.mark.parametrize(
    ("frame", "words"),
    [
        (f"{RECTANGLE}\nsides = [10, 5, 10]", ["has 4 sides", "3 are given"]),
        (f"{D_FRAME}\nsides = [10, 5, 10, 5]", ["has 2 sides"]),
        (f"{RECTANGLE}\nsides = [10, 5, 10, 6]", ["31 meshes", "takes 30"]),
        (f"{RECTANGLE}\nsides = [12, 3, 12, 3]", ["3 meshes", "do not reach", "or more"]),
        ("diameter = 500\nsides = [15, 15]", ["round hoop has no sides"]),
    ],
)
def test_sides_that_will_not_do(frame, words):
    with pytest.raises(SpecError) as caught:
        plan_of(frame)
    told = " ".join(f"{one.key} {one.message}" for one in caught.value.problems)
    assert "hoop[1].sides" in told
    assert all(word in told for word in words)
