"""What is said of a net on frames: where it hangs slack, by marks and in inches, and where corners are."""

import re

import numpy as np
import pytest

import net3d
from net3d.checks.checks import Level
from net3d.drawings.hoop import hoop_view
from net3d.drawings.hoop_words import corners_text
from net3d.drawings.side import side_view
from net3d.plan import lay_out
from net3d.shop.amounts import amounts, hoop_rod_length
from net3d.spec import parse_spec, vary
from net3d.tables.marks import marks_sheet
from net3d.tables.standing import standing_sheet
from net3d.tables.steps import steps
from net3d.writers.report import report_of
from tests.nets import spec_text, with_frames

INCH = 0.0254


@pytest.fixture(scope="module", name="design")
def _design():
    text = spec_text(
        around=24, stretched=3, diameters=(18, 18), deep=(4,), tail=6, rod=0.0095, units="in", legs=4, leg=24
    )
    return net3d.design(with_frames(parse_spec(text), {"shape": "square", "width": 15, "corner": 2}, None))


def test_it_tells_where_and_by_how_much_it_hangs_loose(design):
    (finding,) = [one for one in design.findings if one.code == "frame-slack"]
    netting, shape = design.netting, design.shape
    bars = netting.bars_of(design.plan.sections[0].part)
    ends = shape.knot_positions[netting.bars[bars]]
    slack = shape.bar_tensions[bars] < 0.02 * shape.sections[0].full_share
    loose = (netting.bar_lengths[bars] - np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1))[slack].max()
    assert finding.value == pytest.approx(slack.mean())
    assert f"loose by up to {design.spec.tape.length(loose)}" in finding.message
    # Four runs of marks, each around a corner: C / 8, 3 C / 8 .. from the middle of the upper side.
    runs = re.findall(r"marks (\d+) to (\d+)", finding.message)
    middles = [(int(first) + int(last)) / 2 - 1 for first, last in runs]
    assert middles == pytest.approx([3, 9, 15, 21], abs=0.51)
    assert not [one for one in design.findings if one.code == "section-loose"]


@pytest.mark.closed_form
def test_corners_are_told_on_the_tape_and_between_marks(design):
    """From the middle of a side of 15 in: 5.5 in straight, and half of a bend of 2 in, pi / 2 in."""
    reading = 5.5 + np.pi / 2
    sheet = marks_sheet(design.spec, design.plan)
    places = [column.key for column in sheet.columns]
    told = sheet.rows[0][places.index("corners")]
    assert told.startswith(f"{design.spec.tape.reading(reading * INCH)}, on mark 4; ")  # 24 marks / 8
    assert told.count(";") == 3
    assert sheet.rows[1][places.index("corners")] == ""
    assert sheet.rows[0][places.index("outside_diameter")] is None
    other = vary(design.spec, {"netting.around": 22})  # 22 / 8 = 2.75 pitches from mark 1
    assert "between marks 3 and 4; " in corners_text(other, lay_out(other).hoops[0])


def test_drawings_and_report_say_what_it_is(design):
    assert "square 15 in" in hoop_view(design, 1)
    assert "corner at" in hoop_view(design, 1)
    assert "square 15 in" in side_view(design)
    frame = report_of(design)["hoops"][0]["frame"]
    assert frame["girth_m"] == pytest.approx((4 * 11 + 4 * np.pi) * INCH)
    assert "frame" not in report_of(design)["hoops"][1]


@pytest.mark.closed_form
def test_a_frames_rod_is_bought_by_its_middle_line(design):
    """Half a rod inside: four sides of 11 in, and a turn of 2 in less half the rod."""
    wanted = 4 * 11 * INCH + 2 * np.pi * (2 * INCH - 0.0095 / 2)
    assert hoop_rod_length(design.plan.hoops[0]) == pytest.approx(wanted)


@pytest.fixture(scope="module", name="ribbed")
def _ribbed(design):
    return net3d.design(vary(design.spec, {"line.1": {"from_hoop": 1, "to_hoop": 2}}))


def test_lines_are_bought_tied_and_judged(ribbed):
    """A little shorter than netting hung at its depth ratio: 0.95 sqrt(1 - E1^2), to a hundredth."""
    (rib,) = ribbed.plan.ribs
    widest = max(hoop.knot_girth for hoop in ribbed.plan.hoops) / (24 * 3 * INCH)
    assert rib.hanging == pytest.approx(0.95 * np.sqrt(1 - widest**2), abs=0.005)
    assert rib.length == pytest.approx(rib.hanging * 4 * 3 * INCH)
    (bought,) = [one for one in amounts(ribbed.spec, ribbed.plan) if one.item == "rib_line"]
    assert (bought.pieces, bought.length) == (4, rib.length)
    (step,) = [one for one in steps(ribbed) if "rib lines" in one.work]
    assert "at marks 4, 10, 16, 22" in step.work
    codes = {one.code: one for one in ribbed.findings if one.level is not Level.OK}
    assert not {"frame-slack", "section-uneven", "section-loose", "rib-lines"} & set(codes)
    assert "4 rib lines" in side_view(ribbed)


def test_no_diameter_is_told_of_what_hangs_on_a_frame(design):
    """Between a frame and a hoop there is no one waist: not in the table, nor over the side view."""
    sheet = standing_sheet(design.spec, design.plan, design.shape)
    assert [row[4] for row in sheet.rows] == [None]
    assert "waist" not in side_view(design)
