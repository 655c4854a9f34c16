"""An old net made into another by a worker who knows only the steps, and counts by hand."""

import random
import re

import pytest

from net3d.plan import lay_out
from net3d.shop.rework import ReworkError, rework
from net3d.spec import parse_spec
from net3d.tables.rework import rework_sheet
from tests.nets import spec_text

ADD = re.compile(r"between rows (\d+) and (\d+)\. Knit (\d+) rows of 16 knots on to row (\d+)")
OUT = re.compile(r"behind row (\d+) and before row (\d+), and take the (\d+) rows")
ON = re.compile(r"Knit (\d+) rows of 16 knots on to the last row, (\d+)")
OFF = re.compile(r"Cut the netting off behind row (\d+)")
RATES = "[prices]\nknots_per_hour = 100\nhitches_per_hour = 200\ncuts_per_hour = 400\n"


def net(deep, tail=None, diameters=None, **keys):
    sizes = diameters or (0.36,) * (len(deep) + 1)
    text = spec_text(around=16, diameters=sizes, deep=deep, tail=tail, extra=RATES, **keys)
    spec = parse_spec(text)
    return spec, lay_out(spec)


def worked(rows, steps):
    """Rows of knots after all steps: numbers of old ones, None for those that were knitted."""
    rows = list(rows)
    for step in steps:
        if found := ADD.search(step):
            row, joined, knit, again = map(int, found.groups())
            at = rows.index(row)
            assert (again, rows[at + 1]) == (row, joined), "a row is opened between two that are neighbours"
            rows[at + 1 : at + 1] = [None] * knit
        elif found := OUT.search(step):
            row, joined, out = map(int, found.groups())
            at = rows.index(row)
            assert rows[at + out + 1] == joined
            del rows[at + 1 : at + out + 1]
        elif found := ON.search(step):
            assert rows[-1] == int(found[2])
            rows += [None] * int(found[1])
        elif found := OFF.search(step):
            del rows[rows.index(int(found[1])) + 1 :]
    return rows


def rows_of(plan):
    return plan.hoops[-1].knot_row + plan.tail_rows + 1


@pytest.mark.law
def test_the_steps_make_as_many_rows_as_the_new_net_has_and_hoops_stay_on_their_old_knots():
    chance = random.Random(6)
    depths = [2, 3, 3.5, 4, 5]
    for _ in range(120):
        old, new = (
            net(
                [chance.choice(depths) for _ in range(chance.randrange(1, 5))],
                tail=chance.choice((None, 5, 6, 8)),
            )
            for _ in range(2)
        )
        found = rework(old, new)
        steps = [work for _, work in rework_sheet(old, new).rows]
        rows = worked(range(rows_of(old[1])), steps)
        assert len(rows) == rows_of(new[1])
        for one in found.hoops:
            if one.stays:
                place = new[1].hoops[one.hoop - 1].knot_row
                assert rows[place] == old[1].hoops[one.old - 1].knot_row
        assert found.knots == 16 * (rows.count(None) + sum(not one.ends for one in found.opened))


@pytest.mark.closed_form
def test_a_section_made_deeper_and_its_hours():
    """Two meshes more between hoops 2 and 3: 4 rows of 16 knots, 16 tied again, 32 bars cut."""
    sheet = rework_sheet(net((4, 4, 4)), net((4, 6, 4)))
    ((_, work),) = sheet.rows
    assert "between rows 11 and 12. Knit 4 rows of 16 knots on to row 11" in work
    assert "turned" not in work
    hours = 80 / 100 + 32 / 400
    assert (
        f"80 knots, 0 hitches to sew and 32 cuts, 0 of them old hitches: about {hours:.1f} h"
        in sheet.remarks[0]
    )
    ((_, odd),) = rework_sheet(net((4, 4, 4)), net((4, 4.5, 4))).rows
    assert "turned by half a mesh" in odd


def test_old_hoops_go_where_they_fit_and_others_are_told():
    """Of 36, 35 and 34 cm the net wants 34 in the middle: nothing else within a fiftieth of it does."""
    old = net((4, 4), diameters=(0.36, 0.35, 0.34))
    found = rework(old, net((4, 4), diameters=(0.36, 0.34, 0.30)))
    assert [(one.old, one.stays) for one in found.hoops] == [(1, True), (3, False), (None, False)]
    assert found.unlaced == (2, 3)
    steps = [work for _, work in rework_sheet(old, net((4, 4), diameters=(0.36, 0.34, 0.30))).rows]
    assert steps[0] == "Cut the lacing of hoops 2 and 3 of the old net, and take them out."
    assert "Hoop 2: sew old hoop 3 in at row 8 of the new net." in steps
    assert steps[-1] == "Left over: hoop 2 of the old net."


def test_a_throat_goes_along_with_its_hoop_or_is_sewn_in_again():
    throat = {"hoop": 1, "deep": 5, "tip": 8, "strings": {"to_hoop": 3, "points": 4}}
    old = net((4, 4, 4), throats=[throat])
    again = rework(old, net((4, 5, 4), throats=[throat]))
    assert [(one.old, one.stays) for one in again.throats] == [(1, True)]
    moved = rework(
        old, net((4, 4, 4), throats=[{**throat, "hoop": 2, "strings": {"to_hoop": 4, "points": 4}}])
    )
    assert [(one.old, one.stays) for one in moved.throats] == [(1, False)]
    other = rework(old, net((4, 4, 4), throats=[{**throat, "deep": 6}]))
    assert [(one.old, one.stays) for one in other.throats] == [(None, False)]


def test_nets_of_other_meshes_are_not_made_of_each_other():
    with pytest.raises(ReworkError, match="net3d reuse OLD --for NEW"):
        rework(net((4, 4)), net((4, 4), stretched=0.12))
