"""What holds wings and leader: a second net, anchors, stakes at bends; and what of it is drawn."""

import json
from math import asin, tan

import numpy as np
import pytest

import net3d
from net3d.drawings.side import side_view
from net3d.drawings.strokes import strokes_of
from net3d.page.pulls import scale_top
from net3d.page.scene import scene_of
from net3d.parts import KINDS
from net3d.plan import lay_out
from net3d.solids import solids_of
from net3d.spec import parse_spec
from net3d.tables.steps import steps
from net3d.water.guides import standing_guides
from net3d.writers.report import report_text
from tests.nets import spec_text

WATER = "[water]\ncurrents = [0.2]\n"
HEART = (
    "[[wing]]\nlong = 40\ndeep = 4\nfloats = 8\nleads = 10\n"
    "angle = 80\nbends = [{ after = 24, angle = -60 }]\n"
    'anchor = { type = "concrete block", weight = "2 kg", line = 0.3 }\n'
)


@pytest.fixture(scope="module")
def paired():
    return net3d.design(
        parse_spec(spec_text(tail=5, extra=f"[leader]\nlong = 60\ndeep = 3\npair = true\n{WATER}"))
    )


@pytest.fixture(scope="module")
def hearted():
    return net3d.design(parse_spec(spec_text(tail=5, extra=HEART + WATER)))


@pytest.mark.published(
    source="Trujillo et al. 2020, quoting Ogg 1969: a concrete block holds half its weight"
)
def test_an_anchor_holds_as_published_less_what_its_line_lifts(hearted):
    """Half of what a block of 2,350 kg/m^3 weighs in water, less what the line lifts; by the worst pole."""
    found = next(one for one in hearted.findings if one.code == "guide-anchor")
    (row,) = hearted.loads
    standing = row.guides[0]
    pulls = [
        np.linalg.norm(standing.lying.pulls[standing.wall.netting.knot_carriers == pole].sum(axis=0)[:2])
        for pole in (1, 2)
    ]
    places = standing.wall.held[-1].places
    rise = asin((places[-1, 2] - places[0, 2]) / 2 / 0.3)
    in_water = 2 * 9.80665 * (1 - 999.1 / 2350)
    assert found.value == pytest.approx(0.5 * (in_water - max(pulls) * tan(rise)) / max(pulls), rel=1e-3)
    assert "pulls a pole with" in found.message
    assert "on sand holds" in found.message


@pytest.mark.law
def test_mouth_and_poles_of_a_heart_bear_what_the_river_pulls(hearted):
    (row,) = hearted.loads
    for one in row.guides:
        assert one.still
        held = one.lying.pulls.sum(axis=0)
        assert held[:2] == pytest.approx(one.drag[:2], rel=0.05, abs=0.02)
    left, right = row.guides
    assert right.mouth_pull == pytest.approx(left.mouth_pull * (1, -1, 1))


@pytest.mark.law
def test_the_anchor_up_the_stream_bears_both_nets_and_the_leader(paired):
    (row,), pull = paired.loads, 60.0
    along = np.array([-1.0, 0.0, 0.0])
    (leader,) = row.guides
    assert row.set_drag == pytest.approx(np.linalg.norm(2 * row.standing.drag.total + leader.drag))
    both = 2 * row.standing.drag.total[0] * np.array([1, 0, 0])
    least = np.linalg.norm((pull * along + both)[:2])
    with_leader = np.linalg.norm((pull * along + both + leader.mouth_pull)[:2])
    assert row.anchor_pull == pytest.approx(max(least, with_leader), rel=1e-3)
    assert leader.handed == pytest.approx(pull + abs(row.standing.drag.total[0]))
    assert leader.line_tension == pytest.approx(leader.handed / 2)
    told = next(one for one in paired.findings if one.code == "guide-pair")
    assert "the mouth of the second net" in told.message
    assert "guide-stake" not in {one.code for one in paired.findings}


@pytest.mark.closed_form
def test_the_second_net_is_the_first_ones_mirror_image(paired):
    """Mouth to mouth the lines' length less their slack, 60 x 0.1 x 0.5 x 0.98 m; as long, and as wide."""
    whole, shape = paired.whole, paired.shape
    bars = whole.netting.bars[whole.netting.bars_of(net3d.parts.Part("second-net"))]
    places = whole.shape.knot_positions[np.unique(bars)]
    assert places[:, 0].max() == pytest.approx(-60 * 0.1 * 0.5 * 0.98, abs=0.01)
    assert np.ptp(places[:, 0]) == pytest.approx(shape.tail_end, abs=0.01)
    middle_of_rod = 0.16 - 0.005
    assert np.abs(places[:, 2]).max() == pytest.approx(middle_of_rod, rel=0.01)
    assert (whole.netting.bar_diameters[whole.netting.bars_of(net3d.parts.Part("second-net"))] > 0).all()


@pytest.mark.closed_form
def test_floats_and_leads_stand_as_many_and_as_far_apart_as_reckoned(hearted):
    plan, whole = hearted.plan.guides[0], hearted.whole
    for part, line in ((plan.floats_part, plan.float_line), (plan.leads_part, plan.lead_line)):
        bars = whole.netting.bars_of(part)
        assert len(bars) == 2 * line.pieces
        ends = whole.shape.knot_positions[whole.netting.bars[bars]]
        middles = ends.mean(axis=1)[: line.pieces]
        apart = np.linalg.norm(np.diff(middles, axis=0), axis=1)
        assert np.median(apart) == pytest.approx(line.apart, rel=0.06)  # drawn straight, and slack by 2 %
        assert np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) == pytest.approx(line.long, rel=0.1)
        assert whole.netting.bar_diameters[bars] == pytest.approx(line.thick)


def test_it_is_in_every_output(paired, hearted):
    both, heart = (json.loads(report_text(made)) for made in (paired, hearted))
    assert both["guides"][0]["held_by"] == {"what": "second net"}
    assert heart["guides"][0]["held_by"]["on_a_side"] == 2
    assert "a second net alike at its far end" in side_view(paired)
    assert any(step.work.startswith("Make the second net as this one") for step in steps(paired))
    for made, parts in (
        (paired, {"leader-floats", "leader-leads", "second-net"}),
        (hearted, {"wing-floats-1", "wing-leads-1", "wing-ends-1", "wing-lines-1"}),
    ):
        assert parts <= {solid.part for solid in solids_of(made)}
        words = list(KINDS)
        drawn = {words[kind] for kind in strokes_of(made).kinds}
        assert {part.rstrip("-1") for part in parts} <= drawn
        assert parts <= {group["part"] for group in scene_of(made, scale_top(made))["groups"]}
    assert "leader-ends" not in {part.name for part in paired.whole.netting.parts}


def test_where_the_first_leg_is_short_stakes_are_as_high_as_its_netting_reaches():
    text = '[[wing]]\nlong = 100\ndeep = 30\nangle = 90\nside = "left"\nbends = [{ after = 20, angle = 0 }]\n'
    spec = parse_spec(spec_text(diameters=(3.0, 3.0), around=150, extra=text))
    (wing,) = standing_guides(spec, lay_out(spec), 0.0)
    pole = wing.wall.held[1].places
    assert wing.still
    assert 0.8 * wing.wall.plan.height < pole[-1, 2] - pole[0, 2] < wing.wall.plan.height


def test_a_wing_far_higher_than_the_mouth_is_held_as_high_as_its_first_leg_reaches():
    text = '[[wing]]\nlong = 60\ndeep = 30\nangle = 90\nside = "left"\nbends = [{ after = 20, angle = 0 }]\n'
    spec = parse_spec(spec_text(extra=text))
    (wing,) = standing_guides(spec, lay_out(spec), 0.0)
    assert wing.still
    pole = wing.wall.held[1].places
    assert pole[-1, 2] - pole[0, 2] < 0.32 + 20 * 0.1 * 0.5
