"""Legs of a bridle on a frame: by hand, along the tape and where they stand."""

from math import pi

import numpy as np
import pytest

from net3d.netting import tie
from net3d.parts import BRIDLE
from net3d.plan import lay_out
from net3d.shop.hoop_marks import ties_on
from net3d.spec import parse_spec
from net3d.statics import settle_quickly

ROD, CORNER = 0.01, 0.03
NET = """title = "Frames"
units = "m"
[netting]
around = 24
stretched = 0.12
twine = "#15"
[[hoop]]
{0}
corner = 0.03
rod = "0.01 m"
material = "steel"
[[hoop]]
diameter = 0.5
rod = "0.01 m"
material = "steel"
[sections]
deep = [4]
[tail]
deep = 3
[rigging]
pull = 60
bridle = {{ legs = {1}, length = 1.0 }}
"""
SQUARE, RECTANGLE = 'shape = "square"\nwidth = 0.5', 'shape = "rectangle"\nwidth = 0.6\nheight = 0.4'
D_FRAME = 'shape = "d"\nwidth = 0.5\nheight = 0.5'


def tied(frame, legs):
    spec = parse_spec(NET.format(frame, legs))
    plan = lay_out(spec)
    return spec, plan, next(one for one in ties_on(spec, plan, plan.hoops[0]) if one.part == BRIDLE)


@pytest.mark.closed_form
@pytest.mark.parametrize(("frame", "width", "height"), [(SQUARE, 0.5, 0.5), (RECTANGLE, 0.6, 0.4)])
def test_four_legs_are_tied_at_the_corners(frame, width, height):
    *_, ties = tied(frame, 4)
    first = width / 2 - CORNER + pi * CORNER / 4  # from the middle above to the middle of a corner
    down = height - 2 * CORNER + pi * CORNER / 2
    across = width - 2 * CORNER + pi * CORNER / 2
    by_hand = np.cumsum([first, down, across, down])
    assert ties.readings == pytest.approx(by_hand, abs=0.0006)  # to the millimetre


@pytest.mark.closed_form
@pytest.mark.parametrize(("frame", "legs"), [(SQUARE, 3), (RECTANGLE, 6), (D_FRAME, 2), (D_FRAME, 4)])
def test_other_legs_are_spread_evenly_from_the_reference_mark(frame, legs):
    _, plan, ties = tied(frame, legs)
    even = plan.hoops[0].circumference * np.arange(legs) / legs
    assert ties.readings == pytest.approx(even, abs=0.0006)


@pytest.mark.law
def test_legs_at_the_corners_of_a_square_pull_alike_and_stand_there():
    spec, plan, _ = tied(SQUARE, 4)
    netting = tie(spec, plan)
    shape = settle_quickly(netting, plan)
    pulls = shape.bar_tensions[netting.bars_of(BRIDLE)]
    assert pulls == pytest.approx(pulls.mean(), rel=1e-3)
    feet = netting.knots_of(BRIDLE)[1:]
    # The middle of a corner of radius r, seen from the middle of its arc: (a / 2 - r) + r / sqrt 2 each way
    inner, radius = 0.5 - ROD, CORNER - ROD / 2
    reach = inner / 2 - radius + radius / np.sqrt(2)
    assert np.abs(netting.knot_seats[feet][:, 1:]) == pytest.approx(np.full((4, 2), reach), abs=1e-6)
