"""Rods in the wake of others: measured wakes, the momentum that they lack, hoops in a row."""

from math import sqrt

import numpy as np
import pytest
from scipy.integrate import quad

from net3d.handbook.drag import cylinder_drag
from net3d.outline.curves import Circle
from net3d.outline.outline import Outline
from net3d.outline.pose import Pose
from net3d.water.cylinders import HOOP_PIECES, Cylinders, ring_pieces
from net3d.water.wakes import Ring, sheltered_shares, wake

WAKE = "Browne, Antonia and Shah 1987, as filed in the ERCOFTAC database, case 3"
ALONG = np.array([1.0, 0.0, 0.0])
ROD, SPEED = 0.0127, 0.6


def dent(drag_length, distance, offset=0.0):
    return wake(*(np.array([value]) for value in (drag_length, distance, offset)))[0]


@pytest.mark.published(source=WAKE)
def test_half_the_dent_is_left_where_it_was_measured():
    # Behind 2.67 mm at 420 diameters and Re 1190 the dent is half as deep 12.3 mm to the side; Cd 0.98 at
    # that Re off the cylinder table.
    length = 0.98 * 0.00267
    middle = dent(length, 420 * 0.00267)
    assert dent(length, 420 * 0.00267, 0.0123) / middle == pytest.approx(0.5, abs=0.01)


@pytest.mark.closed_form
@pytest.mark.parametrize("distance", [0.3, 1.0, 5.0])
def test_the_momentum_that_a_wake_lacks_is_the_drag(distance):
    # D = rho U integral u dy where the dent u is small, so Cd d = 2 integral (u / U) dy.
    lacks = quad(lambda offset: dent(0.01, distance, offset), -2.0, 2.0, points=[0.0])[0]
    assert 2 * lacks == pytest.approx(0.01, rel=1e-3)


def test_a_wake_as_the_handbook_has_it():
    # Schlichting, Boundary-Layer Theory, two-dimensional wakes, from memory, hence 10 %: u / U = 0.976
    # sqrt(Cd d / x), half-width sqrt(Cd d x) / 4. At 44 diameters and Cd 1 it is 15 % of the speed.
    for diameters in (44.0, 100.0, 400.0):
        assert dent(1.0, diameters) == pytest.approx(0.976 / sqrt(diameters), rel=0.10)
    assert dent(1.0, 44.0) == pytest.approx(0.15, abs=0.01)


def ring(place, radius=0.4, speed=SPEED):
    spans, middles = ring_pieces(Outline(Circle(2 * radius + ROD)), Pose(place), ROD / 2)
    rods = np.full(HOOP_PIECES, ROD)
    return Ring(Cylinders(spans, rods, np.full(HOOP_PIECES, speed)), middles)


def share(places, rings, direction=ALONG):
    return sheltered_shares(places.middles, rings, (direction, SPEED))


def test_a_hoop_behind_another_stands_in_its_wake():
    coefficient = cylinder_drag(np.array([SPEED * ROD / 1.139e-6]))[0]
    behind = share(ring(0.56), [ring(0.0)])
    assert behind == pytest.approx(1 - dent(coefficient * ROD, 0.56), abs=1e-3)
    assert share(ring(0.0), [ring(0.56)]) == pytest.approx(1.0)  # ahead of it nothing is slowed
    assert share(ring(0.56, radius=0.33), [ring(0.0)]) == pytest.approx(1.0, abs=1e-3)  # nor inside the wake


def test_dents_of_hoops_in_a_row_add_as_their_squares():
    first, second = ring(0.0), ring(0.5)
    last = ring(1.0)
    alone = [1 - share(last, [one]) for one in (first, second)]
    assert 1 - share(last, [first, second]) == pytest.approx(np.hypot(*alone))
    assert np.all(1 - share(last, [first, second]) < sum(alone))


def test_a_hoop_that_is_sheltered_itself_shelters_less():
    weak = 1 - share(ring(0.5), [ring(0.0, speed=0.8 * SPEED)])
    strong = 1 - share(ring(0.5), [ring(0.0)])
    # Depth goes with the root of the drag, which goes with the square of speed and little with Re.
    assert weak / strong == pytest.approx(0.8, abs=0.03)


def test_hoops_side_by_side_in_a_flow_across_do_not_shelter_each_other():
    assert share(ring(0.5), [ring(0.0)], np.array([0.0, 1.0, 0.0])) == pytest.approx(1.0)


def test_nearer_than_ten_diameters_a_wake_is_as_it_is_there():
    assert share(ring(2 * ROD), [ring(0.0)]) == pytest.approx(share(ring(10 * ROD), [ring(0.0)]), abs=1e-6)
    coefficient = cylinder_drag(np.array([SPEED * ROD / 1.139e-6]))[0]
    there = 1 - dent(coefficient * ROD, 10 * ROD)
    assert share(ring(2 * ROD), [ring(0.0)]) == pytest.approx(there, abs=5e-3)  # hoops are cut into chords
