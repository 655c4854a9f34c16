"""The marks sheet: what is tied where, and what stepping one pitch around would miss."""

from math import pi

import pytest

from net3d.parts import Part
from net3d.plan import lay_out
from net3d.shop.hoop_marks import markings, ties_on
from net3d.spec import parse_spec
from net3d.tables.marks import marks_sheet, tied_text
from tests.tables.nets import net, text, throat

INCH = 0.0254
NESTED = """
title = "Nest"
units = "in"
[netting]
around = 38
stretched = 5
twine = "#18"
[[hoop]]
diameter = 42
rod = "1/2"
material = "fibreglass"
[[hoop]]
diameter = 36
rod = "1/2"
material = "fibreglass"
[sections]
deep = [6]
[rigging]
pull = "15 lbf"
bridle = { legs = 3, length = 30 }
"""


def test_38_meshes_on_a_42_inch_hoop():
    """Just under 132 in around, a pitch just under 3 1/2 in; stepping 3 1/2 in overshoots by about an inch.

    Common practice, no source.
    """
    spec = parse_spec(NESTED)
    first = markings(spec, lay_out(spec))[0]
    assert 131.5 * INCH < first.hoop.circumference < 132 * INCH
    assert 3.45 * INCH < first.pitch < 3.5 * INCH
    assert first.stepped_pitch == pytest.approx(3.5 * INCH)
    assert 0.9 * INCH < first.stepping_error < 1.2 * INCH
    assert first.stepping_error == pytest.approx(38 * 3.5 * INCH - pi * 42 * INCH)


def test_bridle_legs_tie_a_third_of_the_way_around():
    """Three legs on 42 in: 0, 43.98 and 87.96 in, read to 1/16 (arithmetic)."""
    spec = parse_spec(NESTED)
    plan = lay_out(spec)
    (legs,) = ties_on(spec, plan, plan.hoops[0])
    assert tied_text(legs.part) == "bridle legs"
    assert legs.readings == pytest.approx([0, 44 * INCH, (87 + 15 / 16) * INCH])


def test_throats_strings_and_own_marks_are_named():
    tied = "strings = { to_hoop = 3, points = 4, turn = 0.5 }"
    made = net("hand-tied", f"{throat(hoop=1, tip=12)}\n{tied}", throat(hoop=2, around=30, tip=12))
    sheet = marks_sheet(made.spec, made.plan)
    takes = [row["takes"] for row in sheet.records]
    assert takes == ["body and throat 1", "body", "throat 2", "body"]
    (strings,) = ties_on(made.spec, made.plan, made.plan.hoops[2])
    around = made.plan.hoops[2].circumference
    assert tied_text(strings.part) == "strings of throat 1"
    assert strings.readings == pytest.approx(
        [around * share for share in (1 / 8, 3 / 8, 5 / 8, 7 / 8)], abs=6e-4
    )


def test_a_throats_own_marks_go_around_its_hoop():
    made = net("hand-tied", throat(hoop=2, around=30, tip=12))
    own = next(marking for marking in markings(made.spec, made.plan) if Part.throat(1) in marking.throats)
    assert len(own.readings) == 30
    assert own.pitch * 30 == pytest.approx(made.plan.hoops[1].circumference)
    assert list(own.readings) == sorted(own.readings)


def test_half_pitch_rows_are_said_to_be_so():
    made = net("hand-tied", deep=(5.5, 6))
    sheet = marks_sheet(made.spec, made.plan)
    assert [row["row_starts"] for row in sheet.records] == [
        "on the reference mark",
        "half a pitch off",
        "half a pitch off",
    ]


def test_start_is_read_from_the_spec():
    assert parse_spec(text("hand-tied")).start == "tail"
    assert parse_spec('start = "mouth"\n' + text("hand-tied")).start == "mouth"
