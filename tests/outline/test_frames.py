"""Frames by their sizes: sums of sides and arcs by hand, and the curve's own pieces."""

from math import hypot, pi

import pytest

from net3d.outline.frames import Frame, other_size
from net3d.outline.outline import Outline

pytestmark = pytest.mark.closed_form

SQUARE, WIDE, LETTER = (
    Frame("square", 0.6, 0.6, 0.05),
    Frame("rectangle", 0.9, 0.6, 0.04),
    Frame("d", 0.8, 0.7, 0.1),
)


def test_around_is_what_sides_and_arcs_add_up_to():
    assert SQUARE.girth == pytest.approx(4 * 0.5 + 2 * pi * 0.05)
    assert WIDE.girth == pytest.approx(2 * 0.82 + 2 * 0.52 + 2 * pi * 0.04)
    # Half a circle of 0.4, sides of 0.7 - 0.4 - 0.1, two quarter bends of 0.1, a foot of 0.8 - 0.2.
    assert LETTER.girth == pytest.approx(pi * 0.4 + 2 * 0.2 + pi * 0.1 + 0.6)


@pytest.mark.parametrize("frame", [SQUARE, WIDE, LETTER])
def test_the_curve_is_as_long_as_wide_and_as_high(frame):
    outline = Outline(frame.curve)
    assert outline.girth == pytest.approx(frame.girth, rel=1e-12)
    points = outline.points(outline.stations(96))
    low, high = outline.reach
    assert high - low == pytest.approx(frame.height)
    assert high == pytest.approx(frame.height / 2)
    assert points[:, 1].max() - points[:, 1].min() == pytest.approx(frame.width)
    assert max(hypot(y, z) for _, y, z in points.tolist()) <= frame.reach
    assert outline.mirrored


def test_the_girth_and_one_size_give_the_other():
    assert other_size("square", SQUARE.girth, 0.05, None, wide=True) == pytest.approx(0.6)
    for frame in (WIDE, LETTER):
        sizes = (frame.shape, frame.girth, frame.corner)
        assert other_size(*sizes, frame.width, wide=True) == pytest.approx(frame.height)
        assert other_size(*sizes, frame.height, wide=False) == pytest.approx(frame.width)


def test_a_measured_girth_keeps_the_corners():
    larger = WIDE.measured(1.02 * WIDE.girth)
    assert (larger.corner, larger.width / larger.height) == pytest.approx((0.04, 1.5))
    assert Outline(larger.curve).girth == pytest.approx(1.02 * WIDE.girth)
