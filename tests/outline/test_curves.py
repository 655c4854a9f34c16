"""Round and oval curves against integrals by scipy, and against their own definitions."""

import numpy as np
import pytest
from scipy.integrate import quad

from net3d.outline.curves import Circle, Oval
from net3d.outline.outline import Outline
from net3d.outline.waves import Waves

pytestmark = pytest.mark.second_route

DIAMETER = 0.914  # m; 36 in
ARCS = 2 * np.pi * np.arange(40) / 40 + 0.123
WAVES = [
    Waves((2,), (0.02,), (0.0,)),
    Waves((2, 3), (0.01, -0.004), (0.006, 0.008)),
    Waves((2, 4, 6), (0.05, 0.01, 0.002), (-0.03, 0.0, 0.003)),
]
CURVES = [Circle(DIAMETER), *(Oval(DIAMETER, waves) for waves in WAVES)]


def radius(oval, angle):
    """R + sum of a cos mt + b sin mt, and how fast it grows with the angle."""
    numbers, cosines, sines = (
        np.array(part) for part in (oval.oval.numbers, oval.oval.cosines, oval.oval.sines)
    )
    value = oval.mean_radius + np.sum(cosines * np.cos(numbers * angle) + sines * np.sin(numbers * angle))
    growth = np.sum(numbers * (sines * np.cos(numbers * angle) - cosines * np.sin(numbers * angle)))
    return value, growth


def way(oval, start, end):
    return quad(lambda angle: np.hypot(*radius(oval, angle)), start, end, epsabs=1e-12, limit=400)[0]


def loop(curve, inside=0.0, count=20000):
    """A polygon of many points on a curve, closed."""
    points = curve.places(2 * np.pi * np.arange(count) / count, inside)
    return points, np.roll(points, -1, axis=0)


def around(points):
    return np.linalg.norm(points[1] - points[0], axis=1).sum()


def within(points):
    (y, z), (after_y, after_z) = points[0].T, points[1].T
    return abs(np.sum(y * after_z - z * after_y)) / 2


@pytest.mark.parametrize("waves", WAVES)
def test_the_rod_of_an_oval_is_as_long_as_that_of_a_round_hoop(waves):
    assert way(Oval(DIAMETER, waves), 0.0, 2 * np.pi) == pytest.approx(np.pi * DIAMETER, rel=1e-10)


@pytest.mark.parametrize("waves", WAVES)
def test_arcs_are_lengths_along_it(waves):
    oval = Oval(DIAMETER, waves)
    ends = oval.angles(ARCS)
    lengths = [way(oval, 0.0, end) for end in ends]
    # Summed by trapezoids in 1440 steps h, an error of h^2 / 12 of what the speed's growth differs by, and
    # read off straight between them, h^2 / 8 of that growth.
    step = 2 * np.pi / 1440
    speeds = np.array([np.hypot(*radius(oval, number * step)) for number in range(1440)])
    growth = np.abs(np.roll(speeds, -1) - speeds).max() / step
    assert np.abs(np.array(lengths) - ARCS / 2 * DIAMETER).max() < step**2 * (2 / 12 + 1 / 8) * growth


@pytest.mark.parametrize("curve", CURVES)
def test_normals_are_square_to_it_and_point_outward(curve):
    step = 1e-5
    tangents = (curve.places(ARCS + step) - curve.places(ARCS - step)) / (2 * step)
    normals = curve.normals(ARCS)
    assert np.linalg.norm(normals, axis=1) == pytest.approx(1.0, abs=1e-12)
    assert np.abs(np.sum(tangents * normals, axis=1)).max() < 1e-4 * DIAMETER
    # Clockwise as seen from the mouth, y to the left: outward is a quarter turn left of where the curve runs.
    left = np.column_stack([tangents[:, 1], -tangents[:, 0]])
    assert np.sum(left * normals, axis=1) == pytest.approx(DIAMETER / 2, rel=1e-3)


@pytest.mark.parametrize("curve", CURVES)
def test_places_are_seen_at_their_angles(curve):
    y, z = curve.places(ARCS).T
    assert np.exp(1j * np.arctan2(-y, z)) == pytest.approx(np.exp(1j * curve.angles(ARCS)), abs=1e-9)
    assert curve.angles(ARCS + 2 * np.pi) - curve.angles(ARCS) == pytest.approx(2 * np.pi, abs=1e-9)


@pytest.mark.parametrize("curve", CURVES)
@pytest.mark.parametrize("inside", [0.0, 0.0127, 0.05])
def test_what_lies_inside_follows_steiners_formulas(curve, inside):
    """Around: C - 2 pi d, within: A - C d + pi d^2; Steiner's formula for parallel curves (from memory)."""
    outline, points = Outline(curve), loop(curve, inside)
    assert around(points) == pytest.approx(outline.inner_girth(inside), rel=1e-6)
    assert within(points) == pytest.approx(outline.inner_area(inside), rel=1e-6)
    outside = loop(curve)
    assert outline.girth == pytest.approx(around(outside), rel=1e-6)
    apart = points[0] - outside[0]
    assert np.linalg.norm(apart, axis=1) == pytest.approx(inside, abs=1e-12)


@pytest.mark.parametrize("curve", CURVES)
def test_seen_from_the_other_side_left_is_right(curve):
    assert curve.turned_over().places(ARCS) == pytest.approx(curve.places(-ARCS) * (-1.0, 1.0), abs=1e-7)
