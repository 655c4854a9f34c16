"""Throats that lie on a body of frames: where those are round, and by the hull of the body's own netting."""

import numpy as np
import pytest
from scipy.spatial import ConvexHull

from net3d.statics.corners import rim_of
from tests.nets import framed, make

SIZES = (0.3, 0.28, 0.26, 0.25)
KEYS = {
    "around": 12,
    "diameters": SIZES,
    "deep": (4.5, 5, 5),
    "tail": 6,
    "weight": True,
    "throats": [{"hoop": 1, "deep": 4, "tip": 11, "strings": {"to_hoop": 3}}],
}


def rounded(size):
    """A square whose corners leave its sides nothing."""
    return {"shape": "square", "width": size, "corner": size / 2}


def square(size):
    """About as long around as a round hoop."""
    return {"shape": "square", "width": np.pi / 4 * size + 0.0065, "corner": 0.03}


@pytest.mark.law
def test_on_frames_that_are_round_a_throat_lies_as_on_hoops():
    one, other = make(**KEYS).settled(), framed(*map(rounded, SIZES), **KEYS).settled()
    assert one.throats[0].lying_share > 0
    assert other.throats[0].lying_share == pytest.approx(one.throats[0].lying_share)
    assert other.knot_positions == pytest.approx(one.knot_positions, abs=1e-3)


@pytest.mark.second_route
@pytest.mark.parametrize("pull", [60.0, 5.0])
def test_on_squares_it_stays_within_the_hull_of_the_body_around_it(pull):
    """The body is cut across at each of the throat's knots, bar by bar, and its hull holds them."""
    net = framed(*map(square, SIZES), **{**KEYS, "pull": pull})
    shape, netting = net.settled(), net.netting
    assert shape.throats[0].lying_share > 0
    knots = netting.knots_of(net.plan.throats[0].part)
    ends = shape.knot_positions[netting.bars[netting.bars_that(lambda kind: kind.body)]]
    for place in shape.knot_positions[knots[netting.knot_carriers[knots] < 0]]:
        upper, lower = ends[:, 0], ends[:, 1]
        cut = (upper[:, 0] - place[0]) * (lower[:, 0] - place[0]) < 0
        share = (place[0] - upper[cut, 0]) / (lower[cut, 0] - upper[cut, 0])
        across = upper[cut, 1:] + share[:, None] * (lower[cut, 1:] - upper[cut, 1:])
        outside = ConvexHull(across).equations @ [*place[1:], 1.0]
        assert outside.max() < 2e-3  # m: about the thickness of a twine


@pytest.mark.closed_form
def test_a_rim_is_flat_on_its_sides_and_as_curved_as_a_hoop_in_its_corners():
    outline = framed(square(0.3), None, diameters=(0.3, 0.3)).plan.hoops[0].outline
    (top, right, corner) = rim_of(outline, 0.01).at(np.array([0.0, np.pi / 2, np.pi / 4]))
    half = (np.pi / 4 * 0.3 + 0.0065) / 2 - 0.01
    assert top == pytest.approx([0, half, 0, 1, 2 / outline.diameter / 5], abs=1e-6)
    assert right[:4] == pytest.approx([-half, 0, -1, 0], abs=1e-6)
    assert corner[2:] == pytest.approx([-np.sqrt(0.5), np.sqrt(0.5), 2 / outline.diameter], abs=1e-6)
