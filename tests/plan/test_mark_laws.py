"""What holds for the marks of any hoop (arithmetic)."""

from math import pi

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from net3d.parts import ANCHOR_LINE
from net3d.plan.marking import mark_readings, step_around
from tests.nets import hoop_diameter, make

pytestmark = pytest.mark.law

SIZES = {
    "diameter": st.floats(0.2, 3.0),
    "count": st.integers(3, 300),
    "step": st.sampled_from([0.0254 / 16, 0.0254 / 8, 0.001, 0.0005, 0.005]),
    "half": st.booleans(),
}


@given(**SIZES)
@settings(deadline=None)
def test_marks_are_rounded_once_and_close(diameter, count, step, half):
    circumference = pi * diameter
    pitch = circumference / count
    offset = pitch / 2 if half else 0.0
    marks = mark_readings(circumference, count, offset, step)
    exact = offset + pitch * np.arange(count)
    assert len(marks) == count
    assert np.abs(marks - exact).max() <= step / 2 * (1 + 1e-9)
    assert np.abs(marks / step - np.round(marks / step)).max() < 1e-6
    assert abs(marks[-1] + pitch - (circumference + marks[0])) <= step * (1 + 1e-9)


@given(**SIZES)
@settings(deadline=None)
def test_stepping_a_rounded_pitch_adds_its_error_up(diameter, count, step, half):
    circumference = pi * diameter
    pitch, error = step_around(circumference, count, step)
    assert abs(pitch - circumference / count) <= step / 2 * (1 + 1e-9)
    assert np.isclose(error, count * (pitch - circumference / count), atol=1e-12)


@given(
    around=st.integers(6, 60),
    rows=st.lists(st.integers(2, 14), min_size=1, max_size=5),
    tail_rows=st.integers(0, 60),
    ratio=st.floats(0.15, 0.9),
)
@settings(deadline=None, max_examples=40)
def test_whole_counts(around, rows, tail_rows, ratio):
    # 2 n rows in n meshes; 2 M N knots in the whole tube; 4 M N bars.
    diameter = hoop_diameter(around, 0.06, ratio)
    assume(tail_rows == 0 or tail_rows / 2 * 0.06 > diameter / 2)  # a shorter tail cannot be gathered
    net = make(
        around=around,
        stretched=0.06,
        diameters=(diameter,) * (len(rows) + 1),
        deep=[count / 2 for count in rows],
        tail=tail_rows / 2,
    )
    deep = (sum(rows) + tail_rows) / 2
    assert [section.bar_rows for section in net.plan.sections] == rows
    assert net.plan.knots == 2 * around * deep
    lines = sum(len(net.netting.bars_of(part)) for part in (ANCHOR_LINE,) if part in net.netting.parts)
    assert len(net.netting.bars) - lines == 4 * around * deep
    turned = np.cumsum([0, *rows]) % 2 == 1
    assert [hoop.half_pitch_off for hoop in net.plan.hoops] == turned.tolist()
    for hoop in net.plan.hoops:
        assert np.isclose(hoop.hanging_ratio, ratio)
        assert np.isclose(hoop.hanging_ratio**2 + hoop.depth_ratio**2, 1.0)
