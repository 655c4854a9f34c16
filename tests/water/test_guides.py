"""Wings and leader in a current: drag by hand and by another model, mirror images, what they hand on."""

import json
import re

import numpy as np
import pytest

import net3d
from net3d.chain import loads_of
from net3d.checks.checks import Level
from net3d.checks.guides import check_guides
from net3d.drawings.side import side_view
from net3d.handbook.drag import cylinder_drag, drag_models
from net3d.netting.guides import tie_wall
from net3d.outline.curves import Circle
from net3d.outline.outline import Outline
from net3d.page.pulls import scale_top
from net3d.page.scene import scene_of
from net3d.plan import lay_out
from net3d.solids import solids_of
from net3d.spec import parse_spec
from net3d.water.guides import standing_guides, wall_drag
from net3d.water.models import outline_drag
from net3d.water.water import Stream
from net3d.writers.report import report_text
from tests.nets import spec_text

WING = "[[wing]]\nlong = 40\ndeep = 6\n"
ACROSS = Stream(0.3, -1.0, np.pi / 2)


def flat(bar=0.013, twine="#6"):
    """A wall of 15 m by about 0.9 m across the flow, as it is tied."""
    deep = round(0.9 / (2 * bar * 0.714))
    long = round(15 / (2 * bar * 0.7))
    text = f'[leader]\nlong = {long}\ndeep = {deep}\nbar = {bar}\nhanging = 0.7\ntwine = "{twine}"\n'
    spec = parse_spec(spec_text(extra=text))
    return tie_wall(lay_out(spec).guides[0], "middle", Outline(Circle(1.2)), spec.rigging.cordage)


@pytest.mark.closed_form
def test_across_the_flow_it_is_dragged_as_all_its_twine_is():
    """Twine of all true meshes as cylinders across, a tenth more for knots; the two lines beside."""
    wall = flat()
    spec, thick = wall.plan.spec, wall.netting.bar_diameters[-1]
    pressure = 999.1 / 2 * 0.3**2

    def across(diameter, length):
        return pressure * cylinder_drag(np.array([0.3 * diameter / 1.139e-6]))[0] * diameter * length

    netting = 1.10 * across(spec.twine.diameter, 4 * spec.long * spec.deep * spec.stretched / 2)
    span = np.linalg.norm(wall.start[wall.lead_knots[-1]] - wall.start[0] * (1, 1, 0))
    drag = wall_drag(wall, wall.start, ACROSS).sum(axis=0)
    assert drag[1] == pytest.approx(netting + 2 * across(thick, span), rel=0.02)
    assert abs(drag[0]) < 0.02 * drag[1]


@pytest.mark.second_route
def test_its_drag_is_near_that_of_a_towed_panel():
    """Loland's towed panels (coefficients as an excerpt prints them), at solidity 2 d / (m E1 E2)."""
    wall = flat(bar=0.02, twine="#15")
    twine, mesh = wall.plan.spec.twine.diameter, wall.plan.spec.stretched
    solidity = 2 * twine / (mesh * 0.7 * 0.714)
    towed = 999.1 / 2 * 0.3**2 * outline_drag(drag_models()["Loland"], np.array([solidity]))[0] * 15 * 0.9
    drag = wall_drag(wall, wall.start, ACROSS).sum(axis=0)[1]
    assert drag == pytest.approx(towed, rel=0.35)


@pytest.fixture(scope="module")
def winged():
    text = spec_text(
        tail=5, extra=WING + "[leader]\nlong = 60\ndeep = 6\n[water]\ncurrents = [0.2]\nangle = 90\n"
    )
    return net3d.design(parse_spec(text))


@pytest.mark.law
def test_ends_bear_what_the_river_pulls(winged):
    (row,) = winged.loads
    for one in row.guides:
        assert one.still
        ends = one.mouth_pull + one.stake_pull
        assert ends[:2] == pytest.approx(one.drag[:2], rel=0.05, abs=0.02)
        assert 0 < one.height < 1.1 * one.wall.plan.height


@pytest.mark.law
def test_along_the_flow_both_wings_are_mirror_images():
    spec = parse_spec(spec_text(extra=WING))
    left, right = standing_guides(spec, lay_out(spec), 0.3)
    alone = parse_spec(spec_text(extra=WING + 'side = "right"\n'))
    (other,) = standing_guides(alone, lay_out(alone), 0.3)
    assert right.height == pytest.approx(left.height)
    assert right.drag == pytest.approx(other.drag, rel=1e-3, abs=1e-3)
    assert right.mouth_pull == pytest.approx(other.mouth_pull, rel=0.01, abs=0.01)


@pytest.mark.law
def test_more_floats_stand_higher_and_more_current_presses_down():
    heights = {}
    for lift in ("0.05 N", "1 N"):
        for current in (0.1, 0.3):
            keys = f'long = 60\ndeep = 8\nfloats = 12\nfloat_lift = "{lift}"\n[water]\nangle = 90\n'
            spec = parse_spec(spec_text(extra=f"[leader]\n{keys}"))
            (one,) = standing_guides(spec, lay_out(spec), current)
            heights[lift, current] = one.height
    assert heights["1 N", 0.1] > heights["1 N", 0.3] > heights["0.05 N", 0.3]
    assert heights["1 N", 0.1] > heights["0.05 N", 0.1] > heights["0.05 N", 0.3]


def test_the_anchor_bears_them_too(winged):
    (row,) = winged.loads
    plain = net3d.design(parse_spec(spec_text(tail=5, extra="[water]\ncurrents = [0.2]\nangle = 90\n")))
    assert row.drag == pytest.approx(plain.loads[0].drag)  # the net itself is solved without them
    mouth = sum(one.mouth_pull for one in row.guides)
    pull = np.array([-60.0, 0.0, 0.0]) + row.standing.drag.total
    assert row.anchor_pull == pytest.approx(max(np.linalg.norm(pull[:2]), np.linalg.norm((pull + mouth)[:2])))
    assert loads_of(winged, (0.2,))[0].anchor_pull == pytest.approx(row.anchor_pull)


def test_a_whole_net_has_them_in_its_shape(winged):
    whole = winged.whole
    words = [part.name for part in whole.netting.parts]
    assert {"wing-1", "wing-lines-1", "leader", "leader-lines"} <= set(words)
    own = len(winged.netting.bars)
    assert (whole.netting.bars[:own] == winged.netting.bars).all()
    assert whole.netting.bars.max() == len(whole.shape.knot_positions) - 1
    assert whole.whole is whole


def test_it_is_in_every_output(winged):
    report = json.loads(report_text(winged))
    assert [guide["part"] for guide in report["guides"]] == ["wing-1", "leader"]
    assert [one["side"] for one in report["guides"][0]["standing"]] == ["left", "right"] * 2
    assert {"wing-1", "leader-lines"} <= {solid.part for solid in solids_of(winged)}
    groups = {group["part"] for group in scene_of(winged, scale_top(winged))["groups"]}
    assert {"wing-1", "wing-lines-1", "leader", "leader-lines"} <= groups
    assert "leader 3.000 m long, 0.520 m high" in side_view(winged)


def test_what_is_wrong_is_told_with_what_would_do():
    keys = 'long = 120\ndeep = 8\nfloats = 6\nfloat_lift = "0.5 N"\nstake_holds = "60 N"\n'
    spec = parse_spec(spec_text(extra=f"[leader]\n{keys}[water]\nangle = 60\n"))
    plan = lay_out(spec)
    found = {one.code: one for one in check_guides(spec, standing_guides(spec, plan, 0.5), ())}
    stands, stake = found["guide-stands"], found["guide-stake"]
    assert stands.level is stake.level is Level.CAUTION
    assert stands.part == plan.guides[0].part
    assert re.search(r"6 floats lift 3 N together, and the river pulls with \d", stands.message)
    assert re.search(r"60 N, 1\.\d times that", stake.message)


@pytest.mark.parametrize(
    "state", ["long = 120\ndeep = 1\nhanging = 0.95\nslack = 0.001", "long = 20\ndeep = 40"]
)
def test_odd_ones_come_to_rest_too(state):
    spec = parse_spec(spec_text(extra=f"[leader]\n{state}\n[water]\nangle = 45\n"))
    for current in (0.0, 0.5):
        (one,) = standing_guides(spec, lay_out(spec), current)
        assert one.still


def test_in_still_water_no_stake_is_judged(winged):
    """What it bears there is nothing to try a stake by."""
    still = {one.code for one in check_guides(winged.spec, winged.guides, ())}
    assert still == {"guide-stands", "guide-gap"}
    flowing = {one.code for one in winged.findings if one.code.startswith("guide")}
    assert flowing == {"guide-stands", "guide-gap", "guide-twine", "guide-line", "guide-stake"}
    told = next(one for one in check_guides(winged.spec, winged.guides, ()) if one.code == "guide-stands")
    assert "Name a current" in told.message
