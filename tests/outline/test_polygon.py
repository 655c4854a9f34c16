"""Frames with rounded corners, against the circle that they become and sums by hand."""

from math import pi, sqrt, tan

import numpy as np
import pytest

from net3d.outline.curves import Circle
from net3d.outline.outline import Outline
from net3d.outline.polygon import Polygon, rectangle
from tests.outline.test_curves import around, loop, within

pytestmark = pytest.mark.closed_form

ARCS = 2 * np.pi * np.arange(48) / 48


def regular(sides, apothem, radius, turned=0.0):
    """A regular polygon, corners clockwise as seen from the mouth."""
    angles = turned + 2 * np.pi * np.arange(sides) / sides
    out = apothem / np.cos(np.pi / sides)
    return Polygon(tuple((-out * np.sin(angle), out * np.cos(angle)) for angle in angles), (radius,) * sides)


def d_frame(width, height):
    """Flat below with sharp corners, round above."""
    half, low = width / 2, width / 2 - height
    points = ((half, half), (-half, half), (-half, low), (half, low))
    return Polygon(points, (half, half, 0.0, 0.0))


# A corner of a frame of no symmetry at all.
LOPSIDED = Polygon(
    ((0.6, 0.3), (-0.2, 0.5), (-0.7, 0.1), (-0.3, -0.4), (0.4, -0.5)), (0.05, 0.08, 0.02, 0.1, 0.06)
)
FRAMES = [rectangle(0.9, 0.6, 0.05), regular(3, 0.3, 0.1, 0.4), regular(6, 0.5, 0.05), LOPSIDED]


@pytest.mark.parametrize("sides", [3, 4, 5, 8])
@pytest.mark.parametrize("turned", [0.0, 0.3, pi / 4])
def test_as_round_as_can_be_it_is_the_circle(sides, turned):
    frame, circle = regular(sides, 0.45, 0.45, turned), Circle(0.9)
    for inside in (0.0, 0.0127):
        assert frame.places(ARCS, inside) == pytest.approx(circle.places(ARCS, inside), abs=1e-12)
    assert frame.normals(ARCS) == pytest.approx(circle.normals(ARCS), abs=1e-12)
    assert frame.angles(ARCS) == pytest.approx(ARCS, abs=1e-12)
    assert frame.girth == pytest.approx(circle.girth, rel=1e-12)
    assert frame.area == pytest.approx(circle.area, rel=1e-12)


def test_around_and_within_by_hand():
    width, height, corner = 0.9, 0.6, 0.05
    frame = rectangle(width, height, corner)
    assert frame.girth == pytest.approx(2 * (width + height) - 8 * corner + 2 * pi * corner)
    assert frame.area == pytest.approx(width * height - (4 - pi) * corner**2)
    # A regular polygon of apothem a, rounded by r: sides 2 (a - r) tan(pi / n), and one turn of corners.
    assert regular(6, 0.5, 0.1).girth == pytest.approx(12 * 0.4 * tan(pi / 6) + 2 * pi * 0.1)
    # A letter D on its flat side: half a circle, two sides, one straight foot.
    frame = d_frame(0.8, 1.0)
    assert frame.girth == pytest.approx(pi * 0.4 + 2 * 0.6 + 0.8)
    assert frame.area == pytest.approx(pi * 0.4**2 / 2 + 0.6 * 0.8)


def test_places_on_a_rectangle_by_hand():
    """From the top's middle 0.4 m straight to the right, then the corner's arc, then down."""
    frame, length = rectangle(0.9, 0.6, 0.05), 2 * pi / rectangle(0.9, 0.6, 0.05).girth
    half_arc, down = 0.05 * pi / 4, 0.4 + 0.05 * pi / 2 + 0.25
    lengths = np.array([0.0, 0.4, 0.4 + half_arc, down, -0.1])
    wanted = [(0, 0.3), (-0.4, 0.3), (-0.4 - 0.05 / sqrt(2), 0.25 + 0.05 / sqrt(2)), (-0.45, 0), (0.1, 0.3)]
    assert frame.places(lengths * length) == pytest.approx(np.array(wanted, float), abs=1e-12)
    normals = [(0, 1), (0, 1), (-sqrt(0.5), sqrt(0.5)), (-1, 0), (0, 1)]
    assert frame.normals(lengths * length) == pytest.approx(np.array(normals, float), abs=1e-12)
    corners = np.array([0.4 + half_arc, 2 * down - 0.4 - half_arc])
    assert np.array(frame.corners) / length == pytest.approx([*corners, *(frame.girth - corners[::-1])])


@pytest.mark.parametrize("frame", FRAMES)
def test_it_begins_above_the_middle_and_runs_evenly_clockwise(frame):
    assert frame.places(np.zeros(1))[0, 0] == pytest.approx(0.0, abs=1e-12)
    assert frame.places(np.zeros(1))[0, 1] > 0
    step = 1e-7
    fine = 2 * np.pi * (np.arange(1000) + 0.3) / 1000
    tangents = (frame.places(fine + step) - frame.places(fine - step)) / (2 * step)
    assert np.linalg.norm(tangents, axis=1) == pytest.approx(frame.girth / (2 * np.pi), rel=1e-5)
    outward = np.column_stack([tangents[:, 1], -tangents[:, 0]]) / (frame.girth / (2 * np.pi))
    assert frame.normals(fine) == pytest.approx(outward, abs=1e-4)
    angles = frame.angles(fine)
    assert np.all(np.diff(angles) > 0)
    y, z = frame.places(fine).T
    assert np.exp(1j * np.arctan2(-y, z)) == pytest.approx(np.exp(1j * angles), abs=1e-12)
    assert frame.angles(fine + 2 * np.pi) - angles == pytest.approx(2 * np.pi, abs=1e-9)


@pytest.mark.parametrize("frame", FRAMES)
def test_what_lies_inside_follows_steiners_formulas(frame):
    """As for round curves, as far inside as the corners' radii."""
    outline = Outline(frame)
    for inside in (0.0, min(frame.radii) / 2, min(frame.radii)):
        points = loop(frame, inside, 200000)
        assert around(points) == pytest.approx(outline.inner_girth(inside), rel=1e-6)
        assert within(points) == pytest.approx(outline.inner_area(inside), rel=1e-6)


@pytest.mark.parametrize("frame", FRAMES)
def test_seen_from_the_other_side_left_is_right(frame):
    assert frame.turned_over().places(ARCS) == pytest.approx(frame.places(-ARCS) * (-1.0, 1.0), abs=1e-12)


@pytest.mark.parametrize("frame", [*FRAMES, d_frame(0.8, 1.0), regular(4, 0.4, 0.4)])
def test_what_is_drawn_departs_from_it_by_no_more_than_a_circles_facets(frame):
    """A chord of a corner's arc lies r (1 - cos(pi / n)) inside it; the ends of the sides are drawn."""
    count = 96
    arcs = frame.stations(count)
    assert np.all(np.diff(arcs) > 0)
    assert arcs[0] >= 0
    assert arcs[-1] < 2 * np.pi
    drawn = frame.places(arcs)
    missed = frame.area - within((drawn, np.roll(drawn, -1, axis=0)))
    facets = sum(radius**2 for radius in frame.radii) / len(frame.radii) * pi  # of a circle of every corner
    assert 0 <= missed <= facets * (1 - np.sin(2 * pi / count) / (2 * pi / count)) * 4
    assert len(arcs) <= count + 2 * len(frame.radii)


@pytest.mark.parametrize(
    ("points", "radii"),
    [
        (((0.5, 0.5), (0.5, -0.5), (-0.5, -0.5), (-0.5, 0.5)), (0.1,) * 4),  # counter-clockwise
        (((0.5, 0.5), (0.0, 0.1), (-0.5, 0.5), (-0.5, -0.5), (0.5, -0.5)), (0.0,) * 5),  # one points inward
        (((0.5, 0.5), (-0.5, 0.5), (-0.5, -0.5), (0.5, -0.5)), (0.6, 0.5, 0.1, 0.1)),  # no room
        (((1.5, 0.5), (0.5, 0.5), (0.5, -0.5), (1.5, -0.5)), (0.1,) * 4),  # the middle lies outside
        (((0.5, -0.1), (-0.5, -0.1), (-0.5, -0.5), (0.5, -0.5)), (0.1,) * 4),  # likewise
    ],
)
def test_what_is_no_frame_is_refused(points, radii):
    with pytest.raises(ValueError, match=r"corner|middle"):
        Polygon(points, radii)
