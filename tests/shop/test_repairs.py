"""Ways to close a hole, counted by hand on a small net."""

import pytest

from net3d.mending import holes_of, mended
from net3d.plan import lay_out
from net3d.shop.repairs import repairs, squared
from net3d.spec import parse_spec
from tests.nets import spec_text

RATES = "[prices]\nknots_per_hour = 100\nhitches_per_hour = 200\ncuts_per_hour = 400\n"
NET = {"around": 16, "diameters": (0.36, 0.36, 0.36), "deep": (4, 4)}
LACING = "[lacing]\nhitches = 2\nmouth = 3\n"


def ways(hole, extra="", **keys):
    net = {**NET, **keys}
    text = spec_text(**net, extra=f"{RATES}{LACING}{extra}\n[[hole]]\n{hole}\n")
    spec = parse_spec(text)
    plan = lay_out(spec)
    (hole,) = holes_of(spec, plan)
    return {one.way: one for one in repairs(spec, plan, mended(hole))}, hole


@pytest.mark.closed_form
def test_a_block_of_two_by_two_at_the_makers_rates():
    """13 bars out and 2 cut: 15 to knit, 12 knots. Its rim is 3 + 1 + 1 + 3 knots; the patch has 4 + 8.

    Anew: 8 rows of 16 knots between hoops 1 and 2, and the row of 16 at the other end; 3 hitches a knot at
    the mouth and 2 at hoop 2, which are cut first.
    """
    found, _ = ways('knots = ["4:5-6", "5:5-6"]')
    assert [(found[way].knots, found[way].hitches, found[way].cuts) for way in ("mend", "patch", "new")] == [
        (12, 0, 2),
        (12, 8, 0),
        (8 * 16 + 16, 80, 80),
    ]
    assert [found[way].hours for way in ("mend", "patch", "new")] == pytest.approx(
        [12 / 100 + 2 / 400, 12 / 100 + 8 / 200, 144 / 100 + 80 / 200 + 80 / 400]
    )
    assert list(found) == ["mend", "patch", "new"]


@pytest.mark.closed_form
def test_a_ragged_hole_is_squared_and_its_patch_cut_of_sheet():
    """Rows of two, one and two knots; the last of them is whole yet, and three of its bars are cut beside it.

    5 knots, 20 ends, 4 bars counted twice: 12 bars lead out of the block, which the patch is cut along.
    """
    hole = 'knots = ["4:5-6", "5:5", "6:5"]'
    _, ragged = ways(hole)
    at = ragged.lattice.knot
    assert squared(ragged.lattice, ragged.bars) == {at(4, 4), at(4, 5), at(5, 4), at(6, 4), at(6, 5)}
    text = spec_text(around=16, diameters=(0.36, 0.36), deep=(8,))
    sheet = parse_spec(text.replace("[netting]\n", '[netting]\nmade = "sheet"\n') + f"\n[[hole]]\n{hole}\n")
    plan = lay_out(sheet)
    (own,) = holes_of(sheet, plan)
    patch = {one.way: one for one in repairs(sheet, plan, mended(own))}["patch"]
    assert (patch.knots, patch.hitches, patch.cuts) == (0, 8, 3 + 12)


def test_a_torn_throat_is_compared_with_a_new_throat():
    throat = {"hoop": 1, "deep": 5, "tip": 8, "strings": {"to_hoop": 3, "points": 4}}
    found, _ = ways('throat = 1\nknots = ["3:2"]', throats=[throat])
    assert found["new"].hitches == 3 * 16
    assert found["new"].knots == lay_out(parse_spec(spec_text(**NET, throats=[throat]))).throats[0].knots
