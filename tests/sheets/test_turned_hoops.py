"""Marks of hoops that are turned or turned over before they are sewn in."""

import numpy as np
import pytest

from net3d.netting import tie
from net3d.plan import lay_out
from net3d.sheets.marks import markings, marks_sheet, sewn_text, ties
from net3d.spec import parse_spec
from tests.nets import spec_text

AROUND, TURN = 16, 3


def turned(turn, flip=False, **keys):
    spec = parse_spec(spec_text(around=AROUND, diameters=(0.32, 0.32), deep=(3.5,), **keys))
    hoops = tuple(hoop.model_copy(update={"turn": turn, "flip": flip}) for hoop in spec.hoops)
    return spec.model_copy(update={"hoops": hoops})


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
    assert "reference mark 0.188 m clockwise" in sewn_text(spec, markings(spec, lay_out(spec))[0])


def test_legs_are_tied_where_they_pull_and_not_by_the_mark():
    straight, moved = (
        ties(spec, lay_out(spec), lay_out(spec).hoops[0])[0][1]
        for spec in (turned(0, legs=2), turned(4, legs=2))
    )
    # A quarter of the hoop, 0.2513 m: legs at the top and the bottom lie at 3 and 9 o'clock of the mark.
    assert straight == pytest.approx((0.0, 0.503), abs=1e-9)
    assert moved == pytest.approx((0.251, 0.754), abs=1e-9)


def test_hoops_in_line_have_no_such_column():
    headings = [
        [column.heading for column in marks_sheet(spec, lay_out(spec)).columns]
        for spec in (turned(0), turned(2), turned(0, flip=True))
    ]
    assert ["sewn in" in names for names in headings] == [False, True, True]
