"""Oval hoops keep their circumference: an ellipse measured, laid out and tied is that ellipse again.

Its perimeter is 4 a E(m), m = 1 - (b / a)^2, and its arcs are those of scipy's elliptic integrals.
"""

import numpy as np
import pytest
from scipy.special import ellipe, ellipeinc

from net3d.netting import tie
from net3d.netting.carriers import hoop_seat
from net3d.outline.curves import Oval
from net3d.outline.waves import Waves
from net3d.plan import lay_out
from net3d.spec import parse_spec, vary
from net3d.statics import settle
from tests.nets import each_hoop, spec_text

pytestmark = pytest.mark.closed_form

MEAN, AROUND = 0.4572, 44  # m; half of 36 in
OVALITIES = (0.02, 0.05, 0.1)  # widest less narrowest, as a part of their mean


def axes(ovality):
    return MEAN * (1 + ovality / 2), MEAN * (1 - ovality / 2)


def perimeter(a, b):
    return 4 * a * ellipe(1 - (b / a) ** 2)


def measured(ovality, stations=24, **keys):
    """The plan of a hoop of such an ellipse, measured around and across, its longer axis upright."""
    a, b = axes(ovality)
    angles = np.pi * np.arange(stations) / stations
    across = 2 * a * b / np.hypot(b * np.cos(angles), a * np.sin(angles))
    spec = parse_spec(spec_text(around=AROUND, diameters=(2 * MEAN,) * 2, stretched=0.09))
    oval = each_hoop(spec, diameter=float(perimeter(a, b) / np.pi), across=across.tolist(), **keys)
    return lay_out(oval).hoops[0]


@pytest.mark.parametrize("ovality", OVALITIES)
def test_the_tape_around_reads_the_ellipse(ovality):
    assert measured(ovality).circumference == pytest.approx(perimeter(*axes(ovality)), rel=1e-12)


@pytest.mark.parametrize("ovality", OVALITIES)
def test_the_outline_is_the_ellipse(ovality):
    (a, b), hoop = axes(ovality), measured(ovality)
    _, y, z = hoop_seat(hoop, inside=0.0).places(2 * np.pi * np.arange(AROUND) / AROUND).T
    assert np.abs(np.hypot(z / a, y / b) - 1).max() < 2e-6


@pytest.mark.parametrize("ovality", OVALITIES)
def test_marks_lie_at_equal_arcs_of_it(ovality):
    """From the end of the longer axis to the eccentric angle u it is a (E(m) - E(pi / 2 - u, m)) far."""
    (a, b), hoop = axes(ovality), measured(ovality)
    _, y, z = hoop_seat(hoop, inside=0.0).places(2 * np.pi * np.arange(AROUND // 4) / AROUND).T
    m, u = 1 - (b / a) ** 2, np.arctan2(-y / b, z / a)
    arcs = a * (ellipe(m) - ellipeinc(np.pi / 2 - u, m))
    np.testing.assert_allclose(arcs, np.arange(AROUND // 4) * hoop.circumference / AROUND, atol=1e-5 * MEAN)


def test_what_is_taken_off_the_mean_is_of_second_order():
    """To second order in w = a cos mt, the mean of the root of (R + w)^2 + w'^2 is R + a^2 m^2 / (4 R)."""
    for waves in (2, 4):
        oval = Waves((waves,), (0.001,), (0.0005,))
        taken = 0.5 - Oval(1.0, oval).mean_radius
        assert taken == pytest.approx((0.001**2 + 0.0005**2) * waves**2 / (4 * 0.5), rel=1e-3)


def test_a_round_hoop_is_as_large_as_it_was():
    curve = measured(0.0).outline.curve
    assert 2 * curve.mean_radius == pytest.approx(curve.diameter, rel=1e-12)


@pytest.mark.parametrize("axis", [0.4, np.pi / 4, 2.0])
def test_it_does_not_matter_where_on_an_oval_the_reference_mark_is(axis):
    """The netting turns a hoop as far as it must; the mark only says which of its places takes which knot."""

    def pulls(start):
        angles = np.pi * np.arange(12) / 12
        across = (0.762 * (1 + 0.01 * np.cos(2 * (angles - start)))).tolist()
        spec = parse_spec(spec_text(around=40, stretched=0.0889, diameters=(0.762,) * 3, deep=(4, 4)))
        spec = vary(spec, {"hoop.2.across": across})
        plan = lay_out(spec)
        shape = settle(tie(spec, plan), plan)
        return [section.tension_max / section.tension_mean for section in shape.sections]

    # Knots stand at most half a mesh otherwise along the oval, and turns are small to second order.
    assert pulls(axis) == pytest.approx(pulls(0.0), rel=0.02)
