"""Marks of hoops that are turned or turned over before they are sewn in."""

import numpy as np
import pytest

from net3d.chain import design
from net3d.netting import tie
from net3d.parts import Part
from net3d.plan import lay_out
from net3d.shop.hoop_marks import markings, ties_on
from net3d.spec import parse_spec, vary
from net3d.tables.lacing import lacing_sheet
from net3d.tables.marks import marks_sheet, sewn_text, starts_text
from net3d.tables.steps import steps
from tests.nets import each_hoop, spec_text
from tests.tables.nets import text, throat

AROUND, TURN = 16, 3


def turned(turn, flip=False, **keys):
    spec = parse_spec(spec_text(around=AROUND, diameters=(0.32, 0.32), deep=(3.5,), **keys))
    return each_hoop(spec, turn=turn, flip=flip)


@pytest.mark.parametrize("hoop", [0, 1])
def test_the_mark_that_is_named_takes_the_first_knot(hoop):
    spec = turned(TURN)
    plan = lay_out(spec)
    marking = markings(spec, plan)[hoop]
    named = int(sewn_text(spec, marking).split()[-1])
    # The first knot of the row, by its own place in the net; the mark, from the reference mark's place there.
    netting = tie(spec, plan)
    knot = np.flatnonzero(netting.knot_carriers == hoop)[0]
    _, y, z = netting.knot_seats[knot]
    around = TURN * 2 * np.pi / AROUND + marking.readings[named - 1] / 0.16  # readings lie 0.16 m out
    miss = np.angle(np.exp(1j * (around - np.arctan2(-y, z))))
    assert abs(miss) < 0.5 * spec.marking.round / 0.16 + 1e-9


def test_the_way_along_the_hoop_is_named():
    spec = turned(TURN)
    # 3 of 16 meshes of pi 0.32 m: 0.1885 m, to the millimetre
    assert "reference mark 3 meshes (0.188 m) clockwise of the top" in sewn_text(
        spec, markings(spec, lay_out(spec))[0]
    )


def test_legs_are_tied_where_they_pull_and_not_by_the_mark():
    straight, moved = (
        ties_on(spec, lay_out(spec), lay_out(spec).hoops[0])[0].readings
        for spec in (turned(0, legs=2), turned(4, legs=2))
    )
    # A quarter of the hoop, 0.2513 m: legs at the top and the bottom lie at 3 and 9 o'clock of the mark.
    assert straight == pytest.approx((0.0, 0.503), abs=1e-9)
    assert moved == pytest.approx((0.251, 0.754), abs=1e-9)


def test_hoops_in_line_have_no_such_column():
    keys = [
        [column.key for column in marks_sheet(spec, lay_out(spec)).columns]
        for spec in (turned(0), turned(2), turned(0, flip=True))
    ]
    assert ["sewn_in" in names for names in keys] == [False, True, True]


@pytest.fixture(scope="module")
def made():
    """Hoop 1 turned over, hoop 2 turned by 3 of 16 meshes; laced from the mouth."""
    changes = {"hoop.1.flip": True, "hoop.2.turn": TURN, "start": "mouth"}
    return design(vary(turned(0, legs=2), changes))


def place(made, words):
    """The number of the one step that has these words."""
    (found,) = [number for number, step in enumerate(steps(made)) if words in step.work]
    return found


def test_a_hoop_is_turned_over_before_it_is_marked(made):
    over = place(made, "Turn these hoops over")
    assert over < place(made, "Mark every hoop")
    assert steps(made)[over].numbers == "hoop 1"


def test_a_hoop_is_turned_before_it_is_laced(made):
    at = place(made, "Turn hoop 2 before it is laced")
    assert place(made, "Lace hoop 1") < at < place(made, "Lace hoop 2")
    step, named = steps(made)[at], markings(made.spec, made.plan)[1].first
    assert "3 meshes (0.188 m) clockwise of the top" in step.work
    assert step.numbers == f"the first knot of its row goes on mark {named}"
    assert f"the first on mark {named};" in steps(made)[place(made, "Lace hoop 2")].numbers
    assert "the first on the mark;" in steps(made)[place(made, "Lace hoop 1")].numbers


def test_a_first_hoop_that_is_turned_is_not_held_by_its_reference_mark(made):
    net = design(vary(made.spec, {"hoop": [2, 1]}))
    hang = steps(net)[place(net, "Hang hoop 1")].work
    assert "in line" not in hang
    assert hang.endswith("its first knot on mark 14.")  # 3 of 16 before the reference mark, which is mark 1
    assert "first leg at the top" in steps(net)[place(net, "Splice the bridle")].work
    assert "reference marks in line" in steps(made)[place(made, "Hang hoop 1")].work


def test_lacing_says_in_line_only_where_it_is_so(made):
    straight = turned(0)
    assert "in line" in " ".join(lacing_sheet(straight, lay_out(straight)).remarks)
    assert "in line" not in " ".join(lacing_sheet(made.spec, made.plan).remarks)


def test_marks_of_a_throat_stand_where_its_knots_are():
    """A throat of another count is not turned by whole pitches of its own."""
    spec = parse_spec(text("hand-tied", throat(hoop=1, around=30, tip=10)))
    spec = each_hoop(spec, turn=TURN)
    plan = lay_out(spec)
    own = next(marking for marking in markings(spec, plan) if not marking.body)
    netting = tie(spec, plan)
    part = netting.parts.index(Part.throat(1))
    knots = np.flatnonzero((netting.knot_parts == part) & (netting.knot_carriers == 0))
    assert len(knots) == 30
    _, y, z = netting.knot_seats[knots].T
    wanted = np.sort((np.arctan2(-y, z) - plan.hoops[0].turn) % (2 * np.pi))
    readings = 2 * np.pi * np.array(own.readings) / plan.hoops[0].circumference
    assert readings == pytest.approx(wanted, abs=2 * np.pi * 0.0005 / plan.hoops[0].circumference + 1e-9)
    assert starts_text(own).endswith(("half a pitch off", "of a pitch off"))


def test_marks_are_not_carried_to_oval_hoops_from_a_centre():
    spec = turned(0)
    oval = each_hoop(spec, across=[0.33, 0.32, 0.31, 0.32])
    said = [" ".join(marks_sheet(one, lay_out(one)).remarks) for one in (spec, oval)]
    assert ["straight edge" in notes for notes in said] == [True, False]
