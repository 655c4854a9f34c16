"""Wings and leaders: hanging-ratio arithmetic, twine, lines, and the balance of floats and leads."""

from math import pi

import numpy as np
import pytest

from net3d.errors import SpecError
from net3d.outline.curves import Circle
from net3d.outline.outline import Outline
from net3d.plan import lay_out
from net3d.plan.guide_places import near_edge, stations
from net3d.plan.guides import cylinder, hung_height
from net3d.spec import parse_spec
from net3d.tables.costs import hours_sheet, shopping_sheet
from net3d.tables.cuts import cuts_sheet
from net3d.tables.materials import materials_sheet
from tests.nets import spec_text

LEADER = "[leader]\nlong = 800\ndeep = 48\nbar = 0.013\nhanging = 0.72\n"


def plan_of(extra):
    spec = parse_spec(spec_text(extra=extra))
    return spec, lay_out(spec)


@pytest.mark.published(source="MSC 132/134 Fishing Gear Technology, slides after FAO's Catalogue of 1975")
@pytest.mark.parametrize("hanging", [0.5, 0.6, 0.71, 0.9])
def test_the_two_hanging_ratios_are_those_of_the_handbook(hanging):
    """E2 = sqrt(1 - E1^2), as the slides print it."""
    assert hung_height(2.0, hanging) == pytest.approx(2.0 * (1 - hanging**2) ** 0.5)


@pytest.mark.parametrize(("hanging", "shares"), [(0.5, 0.87), (0.6, 0.80), (0.71, 0.70), (0.9, 0.44)])
def test_height_by_the_workbooks_table(hanging, shares):
    """Hung height over stretched height, FAO Fisherman's Workbook, 1990: from memory."""
    assert hung_height(1.0, hanging) == pytest.approx(shares, abs=0.006)


@pytest.mark.closed_form
def test_lines_netting_and_twine_by_hand():
    _, plan = plan_of(LEADER + "lead_hanging = 0.75\n")
    (leader,) = plan.guides
    assert leader.float_line.length == pytest.approx(800 * 0.026 * 0.72)
    assert leader.lead_line.length == pytest.approx(800 * 0.026 * 0.75)
    assert leader.knots == 2 * 800 * 48
    assert leader.twine_length > 4 * 800 * 48 * 0.013  # bars alone


@pytest.mark.closed_form
def test_floats_lift_so_many_times_the_netting_and_leads_draw_down_more():
    """Nylon of 1140 kg/m^3 keeps 0.12 of its weight in fresh water: FAO Technical Paper 593, table 18."""
    _, plan = plan_of(LEADER + "reserve = 3\n")
    (leader,) = plan.guides
    assert leader.weight == pytest.approx(0.12 * 9.81 * leader.twine_mass, rel=0.05)
    assert leader.float_line.force == pytest.approx(3 * leader.weight)
    assert leader.lead_line.force == pytest.approx(2 * leader.float_line.force)
    by_hand = leader.lead_line.each / (9.80665 * (1 - 999.1 / 11340))
    assert leader.lead_line.mass == pytest.approx(by_hand)


def test_what_is_typed_of_floats_and_leads_goes_before_the_rule():
    _, plan = plan_of(LEADER + 'floats = 30\nfloat_lift = "0.5 N"\nleads = 60\nlead_weight = "50 g"\n')
    (leader,) = plan.guides
    assert leader.float_line.force == pytest.approx(15.0)
    assert (leader.lead_line.pieces, leader.lead_line.mass) == (60, 0.05)
    _, plan = plan_of(LEADER + 'float_lift = "0.5 N"\n')
    (leader,) = plan.guides
    assert 0.5 * (leader.float_line.pieces - 1) < 2.5 * leader.weight <= 0.5 * leader.float_line.pieces


@pytest.mark.closed_form
def test_its_edge_follows_the_mouth_and_its_stake_leaves_the_lines_slack():
    mouth = Outline(Circle(1.0))
    _, plan = plan_of("[[wing]]\nlong = 80\ndeep = 8\nangle = 60\nslack = 0.05\n")
    (wing,) = plan.guides
    edge = near_edge(mouth, "left", 2.0, 21)
    assert np.hypot(edge[:, 1], edge[:, 2]) == pytest.approx(np.full(21, 0.5), abs=1e-4)
    assert (edge[:, 1] >= 0).all()  # left as seen from before the mouth
    assert near_edge(mouth, "middle", 2.0, 3)[:, 1].tolist() == [0, 0, 0]
    edge = near_edge(mouth, "left", wing.height, 9)
    at_mouth, stake = stations(wing, "left", mouth, 9)
    assert at_mouth.places == pytest.approx(edge)
    foot, top = stake.places[[0, -1]]
    assert top - foot == pytest.approx([0.0, 0.0, wing.height])
    reach = max(
        np.linalg.norm(foot - edge[0]) / wing.lead_line.length,
        np.linalg.norm(top - edge[-1]) / wing.float_line.length,
    )
    assert reach == pytest.approx(0.95)
    away = foot - edge.mean(axis=0)
    assert np.arctan2(away[1], -away[0]) == pytest.approx(pi / 3)


def test_all_of_it_is_on_the_lists():
    extra = LEADER + '[[wing]]\nlong = 60\ndeep = 6\ntwine = "#9"\n[prices]\nfloats = 2\n'
    spec, plan = plan_of(extra)
    rows = {row["item"]: row for row in materials_sheet(spec, plan).records}
    assert rows["float line of wing 1"]["pieces"] == 2
    assert rows["float line of wing 1"]["length"] == pytest.approx(60 * 0.1 * 0.5)
    floats = [row for row in shopping_sheet(spec, plan).records if row["item"] == "floats"]
    wing, leader = plan.guides
    assert floats[0]["count"] == 2 * wing.float_line.pieces + leader.float_line.pieces
    assert floats[0]["cost"] == 2 * floats[0]["count"]
    hung = next(row for row in hours_sheet(spec, plan).records if "lines" in row["work"])
    assert hung["amount"] == f"{2 * (2 * 60 + 800):,} hitches"
    knitted = [row for row in cuts_sheet(spec, plan).records if row["part"] == "leader"]
    assert [row["knots_in_row"] for row in knitted] == [800, 800]


def test_cut_from_sheet_it_is_a_straight_piece():
    text = spec_text(extra=LEADER).replace("[netting]\n", '[netting]\nmade = "sheet"\n')
    spec = parse_spec(text)
    row = cuts_sheet(spec, lay_out(spec)).records[-1]
    assert [row[key] for key in ("piece", "across_first", "across_last")] == ["leader", 800, 800]
    assert row["left_edge"] == row["right_edge"] == "48N"


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ("long = 60\ndeep = 6\nbar = 0.1\nstretched = 0.2", "leave one of them out"),
        ("long = 6000\ndeep = 6", "write 3000 or fewer"),
        ("long = 60\ndeep = 6\nlead_hanging = 0.9", "write 0.4 to 0.62"),
        ('long = 60\ndeep = 6\ntwine = "#8888"', "is not in the twine table"),
        ("long = 6\ndeep = 6", "write 7 or more"),
        ("long = 1\ndeep = 6", "from 2 to 20,000"),
        ("long = 60\ndeep = 6.5", "a whole number of meshes"),
        (
            "long = 60\ndeep = 6\nbends = [{ after = 59, angle = 0 }]",
            "two meshes apart or more: write 2 to 58",
        ),
        ("long = 60\ndeep = 6\nbends = [{ after = 20, angle = -90 }]", "over the middle, where the leader"),
        (
            "long = 6\ndeep = 60\nbends = [{ after = 3, angle = 0 }]",
            "as long as it is deep: write 60 or more",
        ),
        ("long = 60\ndeep = 6\nbends = [{ after = 9, angle = 150 }]", "from -120 to 120"),
        (
            'long = 60\ndeep = 6\nstake_holds = "60 N"\nanchor = { type = "fluke", weight = "2 kg" }',
            "takes the place of its stake",
        ),
        ('long = 60\ndeep = 6\nside = "up"', 'write "left", "right" or "both"'),
    ],
)
def test_what_cannot_be_is_refused(keys, told):
    with pytest.raises(SpecError) as refused:
        parse_spec(spec_text(extra=f"[[wing]]\n{keys}\n"))
    assert told in str(refused.value)


@pytest.mark.closed_form
def test_a_wing_that_turns_goes_as_a_compass_would_draw_it():
    """Legs of 0.98 of their lines, at 90 and 0 degrees from straight ahead, then 60 back."""
    bends = "bends = [{ after = 20, angle = 0 }, { after = 60, angle = -60 }]\n"
    _, plan = plan_of(f"[[wing]]\nlong = 80\ndeep = 4\nangle = 90\n{bends}")
    (wing,) = plan.guides
    held = stations(wing, "right", Outline(Circle(1.0)), 3)
    assert [station.mesh for station in held] == [0, 20, 60, 80]
    feet = [station.places[0] for station in held[1:]]
    leg = 20 * 0.1 * 0.5 * 0.98
    assert feet[1] - feet[0] == pytest.approx([-2 * leg, 0, 0])
    assert feet[2] - feet[1] == pytest.approx([-leg / 2, leg * 0.75**0.5, 0])
    assert feet[0][1] < -0.8 * leg  # to the right, seen from before the mouth


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_pole_where_a_wing_runs_straight_on_is_held_from_outside(side):
    _, plan = plan_of("[[wing]]\nlong = 80\ndeep = 4\nangle = 60\nbends = [{ after = 40, angle = 60 }]\n")
    _, pole, _ = stations(plan.guides[0], side, Outline(Circle(1.0)), 3)
    away = 1 if side == "left" else -1
    assert pole.out == pytest.approx([0.75**0.5, away * 0.5, 0])


@pytest.mark.closed_form
def test_floats_and_leads_are_as_large_as_they_lift_and_weigh():
    """Cork of 240 kg/m^3 and lead of 11,340, from memory: lift = V (999.1 - 240) g, mass = 11,340 V."""
    _, plan = plan_of(LEADER + 'float_lift = "0.5 N"\nlead_weight = "50 g"\n')
    (leader,) = plan.guides
    floats, leads = leader.float_line, leader.lead_line
    volumes = [pi / 4 * line.thick**2 * line.long for line in (floats, leads)]
    assert volumes[0] * (999.1 - 240) * 9.80665 == pytest.approx(0.5, rel=1e-4)
    assert volumes[1] * 11340 == pytest.approx(0.05, rel=1e-4)
    assert floats.long / floats.thick == pytest.approx(1.5)
    assert cylinder(pi / 4, 1.0) == pytest.approx((1.0, 1.0))


PAIR = "[leader]\nlong = 60\ndeep = 6\npair = true\n"


def test_a_pair_is_bought_and_made_twice_and_its_leader_once():
    spec, plan = plan_of(PAIR)
    single_spec, single = plan_of(PAIR.replace("true", "false"))
    _, bare = plan_of("")
    one, two = (
        {row["item"]: row for row in shopping_sheet(*net).records}
        for net in ((single_spec, single), (spec, plan))
    )
    assert two["hoops"]["count"] == 2 * one["hoops"]["count"]
    assert two["floats"]["count"] == one["floats"]["count"]
    assert ("stakes" in one, "stakes" in two) == (True, False)
    knots = [row for row in hours_sheet(spec, plan).records if row["work"] == "knitting"]
    assert knots[0]["amount"] == f"{2 * bare.knots + plan.guides[0].knots:,} knots"
    notes = [note.text for note in materials_sheet(spec, plan).notes]
    assert any("The shopping list is for both" in note for note in notes)


def test_anchors_in_place_of_stakes_are_bought():
    anchor = 'anchor = { type = "fluke", weight = "2 kg", line = 4 }\n'
    spec, plan = plan_of(f"[[wing]]\nlong = 60\ndeep = 6\nbends = [{{ after = 40, angle = 0 }}]\n{anchor}")
    rows = {row["item"]: row for row in shopping_sheet(spec, plan).records}
    assert (rows["anchor"]["what"], rows["anchor"]["count"], rows["poles"]["count"]) == (
        "fluke, 2 kg",
        4,
        4,
    )
    listed = {row["item"]: row for row in materials_sheet(spec, plan).records}
    assert listed["lines to the anchors of wing 1"]["length"] == pytest.approx(4 + plan.guides[0].height)
    assert "stakes" not in rows


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ("", "anchored at the tail"),
        ('stake_holds = "60 N"\n', "tied to the mouth of the second net"),
    ],
)
def test_a_pair_is_anchored_at_both_tails(keys, told):
    with pytest.raises(SpecError, match=told):
        parse_spec(spec_text(anchor="tail" if keys else "mouth", legs=None if keys else 4, extra=PAIR + keys))


def test_one_wing_a_side():
    two = '[[wing]]\nlong = 60\ndeep = 6\n[[wing]]\nlong = 60\ndeep = 6\nside = "left"\n'
    with pytest.raises(SpecError, match="a wing on the left already"):
        parse_spec(spec_text(extra=two))
