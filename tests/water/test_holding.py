"""Anchor and line: by hand."""

from math import pi, tan

import pytest

from net3d.handbook.anchors import find_holding, holdings
from net3d.handbook.rope import Rope
from net3d.water.holding import AnchorLine, anchor_needs, holding_factor, needed_weight

GRAVITY = 9.80665


def test_a_concrete_block_by_hand():
    # 100 N along the bottom, twice that to be held by friction of 0.5 on the weight in water: 400 N in water;
    # concrete of 2350 in water of 999.1 keeps 0.57485 of its weight: 695.8 N in air, 70.95 kg.
    block = find_holding("concrete block", "sand")
    assert needed_weight(100.0, 0.0, block, 0.5) == pytest.approx(70.95, abs=0.02)


def test_a_line_that_rises_lifts_a_deadweight():
    block = find_holding("concrete block", "sand")
    flat, steep = (needed_weight(100.0, rise, block, 0.5) for rise in (0.0, 0.3))
    assert (steep - flat) * GRAVITY * (1 - 999.1 / 2350) == pytest.approx(2 * 100.0 * tan(0.3), rel=1e-9)


def test_a_dug_in_anchor_by_hand():
    # A grapnel that holds twice its weight: 200 N asks for 100 N of weight, 10.2 kg.
    assert needed_weight(100.0, 0.2, find_holding("grapnel", "sand"), 2.0) == pytest.approx(10.197, abs=1e-3)


@pytest.mark.parametrize("rise", [0.0, 0.2])
def test_what_is_needed_holds_with_the_factor_that_was_asked(rise):
    for need in anchor_needs(250.0, rise):
        anchor = (need.holding.type, need.holding.bottom, need.weight)
        assert holding_factor(250.0, rise, anchor) == pytest.approx(
            2.0 + (tan(rise) * need.holding.least if need.holding.deadweight else 0.0), rel=1e-9
        )


def test_every_type_on_every_bottom_of_the_table_is_offered():
    assert len(anchor_needs(10.0, 0.0)) == len(holdings())
    assert holding_factor(10.0, 0.0, ("fluke", "rock", 10.0)) is None


def test_a_line_by_its_right_angled_triangle():
    # 5 m of line up to 3 m: 4 along the bottom, so the line pulls 5/4 of what the bottom bears.
    line = AnchorLine(100.0, 5.0, 3.0, Rope(0.006))
    assert line.tension == pytest.approx(125.0)
    assert line.scope == pytest.approx(5 / 3)
    # 6 mm polypropylene: 5.00 kN at the least (The Engineering ToolBox, table of polypropylene rope), half of
    # it at a knot: 2500 N over 125.
    assert line.factor == pytest.approx(20.0)


def test_a_line_too_short_for_its_height_stands_upright():
    line = AnchorLine(1.0, 0.3, 0.4, Rope(0.006))
    assert line.rise == pytest.approx(pi / 2)
    assert line.factor < 1e-3


def test_more_rope_has_more_drag():
    # Twice as thick and half as long again: three times the face to the flow. 4 of 100 N become 12.
    line = AnchorLine(100.0, 6.0, 1.0, Rope(0.006), rope_drag=4.0)
    made = line.as_made(length=9.0, rope=Rope(0.012))
    assert made.pull == pytest.approx(108.0)
    assert line.as_made(rope=Rope(0.003)).pull == pytest.approx(100.0)
