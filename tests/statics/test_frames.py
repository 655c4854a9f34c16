"""Nets on frames: where they become round hoops, and against another way to find where they rest."""

import numpy as np
import pytest
from scipy.optimize import minimize

from net3d.outline.girth import girth_of
from net3d.parts import Part
from net3d.statics import settle
from tests.nets import framed, make, rigid, stiff

SQUARE = {"shape": "square", "width": 0.3, "corner": 0.03}
WIDE = {"shape": "rectangle", "width": 0.4, "height": 0.2, "corner": 0.02}


@pytest.mark.law
def test_as_round_as_can_be_a_frame_is_a_hoop():
    """Corners of half its side leave a square no side: same marks, same equilibrium."""
    keys = {"diameters": (0.32, 0.3), "deep": (4,), "tail": 5}
    rounded = {"shape": "square", "width": 0.32, "corner": 0.16}
    net, same = make(**keys), framed(rounded, **keys)
    assert same.plan.hoops[0].marks == pytest.approx(net.plan.hoops[0].marks, abs=1e-12)
    assert same.settled().knot_positions == pytest.approx(net.settled().knot_positions, abs=1e-7)


@pytest.mark.law
@pytest.mark.parametrize("frame", [SQUARE, WIDE, {"shape": "d", "width": 0.3, "corner": 0.03}])
def test_as_long_around_its_marks_are_the_hoops(frame):
    """The tape runs along the outside, whatever the shape: marks are where those of a round hoop are."""
    girth = girth_of(0.32)
    sizes = {"width": 0.3} if frame["shape"] != "square" else {}
    told = {"shape": frame["shape"], "corner": frame["corner"], "circumference": girth} | sizes
    own = framed(told, diameters=(0.32, 0.32)).plan.hoops[0]
    hoop = make(diameters=(0.32, 0.32)).plan.hoops[0]
    assert own.marks == pytest.approx(hoop.marks, abs=1e-12)
    assert (own.hanging_ratio, own.knot_girth) == pytest.approx((hoop.hanging_ratio, hoop.knot_girth))


def longest(netting, far):
    """How far apart two frames stand that a pull draws apart: no bar is longer than it is (sequential QP)."""
    free = np.flatnonzero(netting.knot_carriers < 0)
    columns = {knot: 3 * place for place, knot in enumerate(free.tolist())}
    size = 3 * len(free) + 1

    def placed(values):
        points = netting.knot_seats.copy()
        points[free] = values[:-1].reshape(-1, 3)
        points[netting.knot_carriers == 1, 0] += values[-1]
        return points

    def room(values):
        ends = placed(values)[netting.bars]
        return netting.bar_lengths**2 - np.sum((ends[:, 1] - ends[:, 0]) ** 2, axis=1)

    def slopes(values):
        ends = placed(values)[netting.bars]
        ways = -2 * (ends[:, 1] - ends[:, 0])
        rows = np.zeros((len(netting.bars), size))
        for bar, pair in enumerate(netting.bars.tolist()):
            for knot, sign in zip(pair, (-1.0, 1.0), strict=True):
                if knot in columns:
                    rows[bar, columns[knot] : columns[knot] + 3] += sign * ways[bar]
                elif netting.knot_carriers[knot] == 1:
                    rows[bar, -1] += sign * ways[bar, 0]
        return rows

    angles = netting.knot_angles[free]
    share = netting.knot_rows[free] / netting.knot_rows.max()
    start = np.column_stack([share * far, -0.1 * np.sin(angles), 0.1 * np.cos(angles)]).ravel()
    found = minimize(
        lambda values: -values[-1],
        np.append(start, far),
        jac=lambda values: np.eye(size)[-1] * -1.0,
        constraints={"type": "ineq", "fun": room, "jac": slopes},
        method="SLSQP",
        options={"maxiter": 300, "ftol": 1e-10},
    )
    assert found.success
    return found.x[-1]


@pytest.mark.second_route
@pytest.mark.parametrize("frames", [(SQUARE, SQUARE), (WIDE, None)], ids=["squares", "rectangle and hoop"])
def test_two_frames_stand_where_another_minimiser_puts_them(frames):
    """Twine that does not stretch, one pull: the program is the same, the method (SLSQP) unrelated."""
    net = stiff(framed(*frames, around=12, diameters=(0.32, 0.32), deep=(2.5,)))
    netting = rigid(net.netting)
    shape = settle(netting, net.plan)
    assert shape.sections[0].length == pytest.approx(longest(netting, 0.15), rel=2e-4)


@pytest.mark.law
def test_two_squares_pull_along_their_flats_and_hang_slack_at_their_corners():
    """A line of bars that crosses a corner has the shorter way between the two frames."""
    net = stiff(framed(SQUARE, SQUARE, around=16, diameters=(0.32, 0.32), deep=(4,)))
    shape, netting = settle(net.netting, net.plan), net.netting
    middles = np.angle(np.exp(1j * netting.knot_angles[netting.bars]).sum(axis=1))
    away = np.abs(middles % (np.pi / 2) - np.pi / 4)  # from the nearest corner, on the tape
    waist = np.isin(netting.bar_rows, (3, 4))  # half way between the two frames
    corners = shape.bar_tensions[waist & (away < np.pi / 8)]
    flats = shape.bar_tensions[waist & (away > np.pi / 8)]
    assert corners.mean() < 0.02 * flats.mean()
    assert shape.sections[0].slack_share > 1 / 4


def ribbed(hanging, **keys):
    """Netting between two equal squares, hung on four lines at their corners."""
    lines = [{"from_hoop": 1, "to_hoop": 2, "hanging": hanging}]
    return framed(SQUARE, SQUARE, around=16, diameters=(0.32, 0.32), deep=(4,), lines=lines, **keys)


@pytest.mark.closed_form
def test_lines_at_four_corners_carry_a_quarter_of_the_pull_each():
    """They run straight from frame to frame, so they carry all, and the frames stand as far apart."""
    net = ribbed(0.6)
    netting = rigid(net.netting)
    shape = settle(netting, net.plan)
    bars = netting.bars_of(Part.rib(1, 2))
    assert shape.bar_tensions[bars] == pytest.approx(netting.pull / 4, rel=1e-6)
    stretch = 1 + netting.pull / 4 / netting.bar_stiffnesses[bars[0]]
    assert shape.sections[0].length == pytest.approx(0.6 * 4 * 0.1 * stretch, rel=1e-6)
    assert shape.sections[0].body_share == pytest.approx(0, abs=1e-6)


@pytest.mark.law
def test_lines_run_through_knots_at_the_corners_alike_left_and_right():
    """Sixteen marks and four corners: one stands on every fourth mark, two pitches off the reference mark."""
    netting = ribbed(0.6).netting
    knots = np.unique(netting.bars[netting.bars_of(Part.rib(1, 2))])
    assert np.unique(np.round(netting.knot_angles[knots] / (np.pi / 4), 9)).tolist() == [1, 3, 5, 7]
    assert set(netting.knot_rows[knots]) == {0, 2, 4, 6, 8}


@pytest.mark.law
def test_lines_longer_than_the_netting_carry_nothing():
    plain = framed(SQUARE, SQUARE, around=16, diameters=(0.32, 0.32), deep=(4,)).settled()
    net = ribbed(1.0)
    shape = net.settled()
    assert shape.sections[0].length == pytest.approx(plain.sections[0].length, rel=1e-6)
    assert shape.bar_tensions[net.netting.bars_of(Part.rib(1, 2))].max() < 1e-5 * net.netting.pull


@pytest.mark.closed_form
def test_how_sure_a_hung_section_is_goes_by_its_lines():
    """Where lines carry all, a mesh that is off by a part takes no length along: d length / d mesh = 0."""
    follows = ribbed(0.6).settled().sections[0].follows
    assert follows.meshes == pytest.approx(0, abs=1e-6)
