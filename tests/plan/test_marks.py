"""Marks on the hoops. Sources beside each check; lengths typed in inches, checked in inches."""

from math import pi

import numpy as np
import pytest

from tests.nets import make

INCH = 0.0254


def inch_net(diameters, deep, around=38, **keys):
    return make(
        units="in", around=around, stretched=7.0, diameters=diameters, rod=0.5 * INCH, deep=deep, **keys
    )


def test_a_42_in_hoop_with_38_meshes():
    # Common practice, no source: just under 132 in around, just under 3 1/2 in a pitch, and stepping 3 1/2 in
    # all the way round overshoots by about an inch. Arithmetic: 131.95, 3.4723, 133 - 131.95 = 1.05.
    hoop = inch_net((42, 42), (6,)).plan.hoops[0]
    assert 131.9 < hoop.circumference / INCH < 132
    assert 3.45 < hoop.pitch / INCH < 3.5
    assert hoop.stepped_pitch / INCH == pytest.approx(3.5, abs=1e-12)
    assert hoop.stepping_error / INCH == pytest.approx(38 * 3.5 - 42 * pi, abs=1e-9)
    assert hoop.stepping_error / INCH == pytest.approx(1.0, abs=0.1)


def test_marks_close_where_steps_do_not():
    hoop = inch_net((42, 42), (6,)).plan.hoops[0]
    assert hoop.marks[0] == 0
    assert hoop.marks[-1] / INCH == pytest.approx(37 * 42 * pi / 38, abs=1 / 32)


def test_a_straight_edge_carries_the_marks_inward():
    # Common practice, no source: hoops nested about one centre, reference marks in line. A straight edge from
    # the centre through mark j of the outer hoop meets every inner hoop at the same angle, so at that hoop's
    # own mark j, in proportion closer.
    outer, *inner = inch_net((42, 40.5, 39, 36), (5, 6, 7)).plan.hoops
    for hoop in inner:
        angles = outer.marks / (outer.outside_diameter / 2)
        carried = angles * hoop.outside_diameter / 2
        assert np.abs(carried - hoop.marks).max() <= (1 / 32 + 1 / 32) * INCH + 1e-12
        assert hoop.pitch / outer.pitch == pytest.approx(hoop.outside_diameter / outer.outside_diameter)


def test_half_a_mesh_turns_the_row_half_a_pitch():
    # Derived: 5 1/2 meshes are 11 rows of bars, and each row turns the knots half a pitch.
    hoops = inch_net((42, 42, 42, 42), (5.5, 5.5, 6)).plan.hoops
    assert [hoop.knot_row for hoop in hoops] == [0, 11, 22, 34]
    assert [hoop.half_pitch_off for hoop in hoops] == [False, True, False, False]
    assert hoops[1].mark_offset / INCH == pytest.approx(42 * pi / 38 / 2)
    assert hoops[1].marks[0] / INCH == pytest.approx(42 * pi / 76, abs=1 / 32)
    assert hoops[1].marks[-1] < hoops[1].circumference


def test_marks_are_measured_outside_and_knots_sit_inside():
    hoop = inch_net((42, 42), (6,)).plan.hoops[0]
    assert hoop.circumference / INCH == pytest.approx(pi * 42)
    assert hoop.knot_circle_diameter / INCH == pytest.approx(41)
    assert hoop.hanging_ratio == pytest.approx(pi * 41 / (38 * 7.0))


def test_a_metric_tape_reads_millimetres():
    net = make(diameters=(0.5, 0.5), deep=(4,), around=24)
    marks = net.plan.hoops[0].marks * 1000
    assert marks == pytest.approx(np.round(marks), abs=1e-9)
    assert marks == pytest.approx(np.arange(24) * pi * 500 / 24, abs=0.5 + 1e-9)


def test_another_tape_by_the_spec():
    net = make(extra='[marking]\nround = "5 mm"')
    marks = net.plan.hoops[0].marks * 200
    assert marks == pytest.approx(np.round(marks), abs=1e-9)
