"""Whole counts and twine of the body."""

import pytest

from net3d.plan.twine import twine_length
from tests.nets import make

pytestmark = pytest.mark.closed_form


def test_rows_and_knots():
    # Derived: a net n meshes deep has 2n rows; 2 M N knots in a tube M meshes around and N deep.
    plan = make(around=20, diameters=(0.4,) * 4, deep=(5.5, 6, 2.5), tail=4.5).plan
    assert [section.bar_rows for section in plan.sections] == [11, 12, 5]
    assert plan.tail_rows == 9
    assert plan.knots == 2 * 20 * (5.5 + 6 + 2.5 + 4.5)


def test_twine_of_a_panel():
    # Form: lecture notes after Fridman, (m + K d)(M1 + M2) N for edges of M1 and M2 meshes; K = 16 for the
    # single knot is from memory. A tube has M1 = M2 = M.
    mesh, diameter, around, deep = 0.0889, 0.00139, 44, 23
    assert twine_length(around, deep, mesh, diameter) == pytest.approx(
        (mesh + 16 * diameter) * (around + around) * deep
    )


def test_twine_without_knots_is_the_bars_end_to_end():
    # Derived: 4 M N bars of half a mesh each.
    assert twine_length(44, 23, 0.09, 0.0) == pytest.approx(4 * 44 * 23 * 0.045)


def test_twine_weighs_by_its_tex():
    # ISO 858: tex is grams a kilometre. #15 has 1540 tex in the handbook table.
    plan = make().plan
    assert plan.twine_mass == pytest.approx(plan.twine_length / 1000 * 1540 / 1000)
