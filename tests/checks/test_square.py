"""Square tips: corners that stand evenly, and what is told of those that do not."""

import pytest

from net3d.chain import design
from net3d.checks.checks import Level
from net3d.checks.every_check import check
from net3d.netting.throats import corner_knots
from net3d.tables.steps import steps
from tests.advice.faulty import throats
from tests.nets import make


def judged(tip, fish=(0.2, 0.359)):
    square = {"deep": 4, "tip": tip, "style": "square", "line": 0.4, "strings": {"to_hoop": 2}}
    net = make(**throats(square, fish=fish))
    return net, net.settled()


def level(code, tip, **keys):
    net, shape = judged(tip, **keys)
    (found,) = [one for one in check(net.spec, net.plan, net.netting, shape) if one.code == code]
    return found


@pytest.mark.closed_form
@pytest.mark.parametrize(("tip", "over"), [(8, 0), (12, 0), (10, 2), (9, 1)])
def test_meshes_that_four_strings_do_not_divide_are_told(tip, over):
    found = level("tip-uneven", tip)
    assert found.value == tip % 4 == over
    assert (found.level is Level.OK) is (over == 0)
    assert over == 0 or "Take 8 or 12." in found.message


@pytest.mark.closed_form
def test_a_round_hole_is_narrow_for_a_girth_that_does_not_go_around_it():
    # w is the clear width: pi w around, times the limit of 1.4
    _, shape = judged(8)
    around = 3.14159265 * shape.throats[0].opening_clear
    assert level("opening-narrow", 8, fish=(0.1, 1.39 * around)).level is Level.OK
    assert level("opening-narrow", 8, fish=(0.1, 1.41 * around)).level is Level.CAUTION


@pytest.mark.closed_form
def test_the_sheet_says_which_knots_take_the_strings():
    net, _ = judged(8)
    knots, _ = corner_knots(net.plan.throats[0].piece.rows[-1], net.plan.throats[0].strings)
    assert sorted((b - a) % 8 for a, b in zip(knots, [*knots[1:], knots[0]], strict=True)) == [2] * 4
    (step,) = [step for step in steps(design(net.spec)) if "Tie throat 1" in step.work]
    assert f"knots {', '.join(str(knot + 1) for knot in sorted(knots))} of 8" in step.numbers
