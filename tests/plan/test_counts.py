"""Whole counts and twine of the body."""

import pytest

from net3d.handbook.knots import knot_factor
from net3d.plan.twine import twine_length
from tests.nets import make

pytestmark = pytest.mark.closed_form


def test_rows_and_knots():
    # Derived: a net n meshes deep has 2n rows; 2 M N knots in a tube M meshes around and N deep.
    plan = make(around=20, diameters=(0.4,) * 4, deep=(5.5, 6, 2.5), tail=4.5).plan
    assert [section.bar_rows for section in plan.sections] == [11, 12, 5]
    assert plan.tail_rows == 9
    assert plan.knots == 2 * 20 * (5.5 + 6 + 2.5 + 4.5)


@pytest.mark.second_route
def test_twine_is_every_bar_of_the_model_and_a_knot_wherever_one_is_tied():
    # Form: lecture notes after Fridman, (m + K d)(M1 + M2) N for a piece of M1 and M2 meshes at its edges, N
    # deep; here bar by bar and knot by knot from the tied net. What a knot takes, K d, is from memory, and
    # nothing outside was found to hold it against.
    net = make(around=20, stretched=0.09, diameters=(0.4,) * 3, deep=(5.5, 6), tail=4.5)
    plan, netting = net.plan, net.netting
    bars = [bar for part in netting.parts if part.kind.netting for bar in netting.bars_of(part)]
    tied = set(netting.bars[bars, 1].tolist())  # those of the first row are the lacing's
    length = netting.bar_lengths[bars].sum() + len(tied) * knot_factor() * plan.twine.diameter
    assert plan.twine_length == pytest.approx(length, rel=1e-9)
    assert twine_length(20, 16, 0.09, plan.twine.diameter) == pytest.approx(length, rel=1e-9)


def test_twine_without_knots_is_the_bars_end_to_end():
    # Derived: 4 M N bars of half a mesh each.
    assert twine_length(44, 23, 0.09, 0.0) == pytest.approx(4 * 44 * 23 * 0.045)


def test_twine_weighs_by_its_tex():
    # ISO 858: tex is grams a kilometre. #15 has 1540 tex in the handbook table.
    plan = make().plan
    assert plan.twine_mass == pytest.approx(plan.twine_length / 1000 * 1540 / 1000)
