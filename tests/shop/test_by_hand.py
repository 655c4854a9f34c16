"""A small net's materials, work, shopping and price by hand: every number is reckoned here from the spec.

16 meshes of 0.1 m around two hoops of 0.32 m, 4 meshes deep and 4 in the tail, so 2 x 16 x 8 = 256 knots and
4 x 16 x 8 = 512 bars of 0.05 m. Allowances (what a knot, an end or waste take, and rates of work) are the
table's; that they are put in where they belong, and which way round, is what is checked.
"""

from math import pi

import pytest

from net3d.handbook.allowances import allowance
from net3d.handbook.knots import knot_factor
from net3d.handbook.twine import find_twine
from net3d.plan import lay_out
from net3d.shop.amounts import amounts
from net3d.shop.costing import price, shopping, work
from net3d.spec import parse_spec
from net3d.tables.materials import materials_sheet
from tests.nets import make, spec_text

pytestmark = pytest.mark.closed_form

STOCK = '[stock]\ndipped = true\nspool = "20 g"\ncoil = "3 m"\ndip = "10 g"\nneedle = "9 m"'
PRICES = "[prices]\nhour = 20\nspool = 18\ncoil = 15\nhoop = 9\ndip = 30\nanchor = 12\nmarkup = 0.25"
ANCHOR = '[anchor]\ntype = "concrete block"\nweight = "14 kg"'
KEYS = {"diameters": (0.32, 0.32), "deep": (4,), "tail": 4, "legs": 3, "leg": 0.5, "weight": True}
NETTING = 512 * 0.05 + 256 * knot_factor() * 0.00139  # m of #15, 1.39 mm thick
GRAMS = NETTING * 1.540  # at 1540 tex
HITCH = pi * (0.010 + 0.001758) + allowance("hitch_diameters") * 0.001758  # around rod and knot, in #24
LACING = 16 * (3 + 2) * HITCH + 2 * pi * 0.30  # three at the mouth, two at the other; along both knot circles
ROPE = {
    "bridle": 3 * (0.5 + 2 * allowance("splice_diameters") * 0.006),
    "anchor_line": 3.0 + 2 * allowance("splice_diameters") * 0.006,
    "drawstring": pi * 0.32 + allowance("drawstring_spare"),
}


@pytest.fixture(name="net", scope="module")
def _net():
    return make(**KEYS, extra=f"{STOCK}\n{PRICES}\n{ANCHOR}")


@pytest.fixture(name="items", scope="module")
def _items(net):
    return {amount.item: amount for amount in amounts(net.spec, net.plan)}


def test_twine(items):
    assert items["netting_twine"].knots == 256
    assert items["netting_twine"].total == pytest.approx(NETTING, rel=1e-9)
    assert items["netting_twine"].mass == pytest.approx(GRAMS / 1000, rel=1e-9)
    assert items["lacing_twine"].twine == find_twine("#24")
    assert items["lacing_twine"].knots == 16 * 5
    assert items["lacing_twine"].total == pytest.approx(LACING, rel=1e-9)
    assert items["lacing_twine"].mass == pytest.approx(LACING * 2.465 / 1000, rel=1e-9)


def test_rod_along_its_middle(items):
    assert items["hoop_rod"].pieces == 2
    assert items["hoop_rod"].cut_length == pytest.approx(pi * 0.31)
    assert items["hoop_rod"].total == pytest.approx(2 * pi * 0.31)


def test_rope_with_its_ends(items):
    for item, length in ROPE.items():
        assert items[item].total == pytest.approx(length), item
    assert items["bridle"].cut_length == pytest.approx(ROPE["bridle"] / 3)


def test_dip_is_a_part_of_the_twine_s_weight(items):
    assert items["dip"].mass == pytest.approx(allowance("dip_share") * GRAMS / 1000)


def test_needles_are_filled_as_often_as_it_takes(net):
    # 31.3 m of netting twine at 9 m a needle: three full ones and a fourth; 5.4 m of lacing twine: one.
    assert 3 * 9 < NETTING < 4 * 9
    fills = {row[0]: row[-1] for row in materials_sheet(net.spec, net.plan).rows}
    assert (fills["netting twine"], fills["lacing twine"]) == (4, 1)


def test_twine_is_bought_with_what_goes_to_waste_on_top(net):
    spools = {one.made_of: one for one in shopping(net.spec, net.plan) if one.item == "twine"}
    more = 1 + allowance("waste_share")
    assert spools["#15"].need == pytest.approx(more * GRAMS / 1000)
    assert spools["#24"].need == pytest.approx(more * LACING * 2.465 / 1000)
    # 50.6 g by the 20 g are three spools, 14 g one.
    assert (spools["#15"].count, spools["#24"].count) == (3, 1)
    assert spools["#15"].cost == pytest.approx(3 * 18)


def test_what_is_bought_beside_twine(net):
    bought = {one.item: one for one in shopping(net.spec, net.plan)}
    assert (bought["hoops"].count, bought["hoops"].cost) == (2, 18)
    # 8.03 m of rope by the 3 m: three coils; 24.1 g of dip by the 10 g: three cans.
    assert bought["rope"].need == pytest.approx(sum(ROPE.values()))
    assert (bought["rope"].count, bought["rope"].cost) == (3, 45)
    assert (bought["dip"].count, bought["dip"].cost) == (3, 90)
    assert (bought["anchor"].count, bought["anchor"].cost) == (1, 12)


def test_hours(net):
    done = {one.work: one for one in work(net.spec, net.plan)}
    assert done["knitting"].hours == pytest.approx(256 / 350)
    assert done["lacing"].hours == pytest.approx(80 / 300)
    assert sum(one.hours for one in done.values()) == pytest.approx(256 / 350 + 80 / 300 + 3)


def test_price(net):
    hours = 256 / 350 + 80 / 300 + 3
    more = 1 + allowance("waste_share")
    materials = (
        18 * more * (GRAMS + LACING * 2.465) / 20
        + 15 * sum(ROPE.values()) / 3
        + 2 * 9
        + 30 * allowance("dip_share") * GRAMS / 10
        + 12
    )
    reckoned = price(net.spec, work(net.spec, net.plan), shopping(net.spec, net.plan))
    assert reckoned.hours == pytest.approx(hours)
    assert reckoned.labour == pytest.approx(20 * hours)
    assert reckoned.materials == pytest.approx(materials)
    assert reckoned.price == pytest.approx(1.25 * (20 * hours + materials))


def test_throats_take_their_strings_and_their_time():
    throat = {"hoop": 1, "deep": 4, "tip": 8, "strings": {"to_hoop": 2}}
    net = make(**{**KEYS, "throats": [throat]}, extra="[prices]\nhour = 20")
    items = {amount.item: amount for amount in amounts(net.spec, net.plan, [0.25])}
    end = allowance("string_end")
    assert items["strings"].pieces == 8
    assert items["strings"].cut_length == pytest.approx(0.25 + 2 * end)
    assert items["strings"].mass == pytest.approx(8 * (0.25 + 2 * end) * 1540e-6)
    done = {one.work: one for one in work(net.spec, net.plan)}
    assert done["throats"].hours == pytest.approx(allowance("throat_hours"))
    # 16 meshes down to 8 in 8 rows: the rows of knots hold 16 less those lost so far.
    knots = sum(row.count for row in net.plan.throats[0].piece.rows[1:])
    assert done["knitting"].number == 256 + knots


def test_a_net_of_sheet_is_cut_and_sewn():
    # One piece of 16 meshes, 8 deep, its sides cut along the points and sewn to each other: 16 + 16 cuts
    # across and 8 a side; 8 side knots and the one at the end, 16 rows of bars of 0.05 m.
    tied = spec_text(**KEYS, extra=f"{STOCK}\n[prices]\nwebbing = 7")
    made = tied.replace("[netting]", '[netting]\nmade = "sheet"')
    spec = parse_spec(made)
    plan = lay_out(spec)
    done = {one.work: one for one in work(spec, plan)}
    assert (done["cutting"].number, done["seaming"].number) == (16 + 16 + 8 + 8, 9)
    assert done["cutting"].hours == pytest.approx(48 / 900)
    assert done["seaming"].hours == pytest.approx(9 / 300)
    items = {amount.item: amount for amount in amounts(spec, plan)}
    assert items["seam_twine"].total == pytest.approx(
        16 * 0.05 + 9 * allowance("seam_hitch_diameters") * 0.001758
    )
    bought = {one.item: one for one in shopping(spec, plan)}
    assert bought["sheet_netting"].need == pytest.approx(GRAMS / 1000)
    assert (bought["sheet_netting"].count, bought["sheet_netting"].cost) == (1, 7)
    spun = items["lacing_twine"].total + items["seam_twine"].total
    assert bought["twine"].need == pytest.approx((1 + allowance("waste_share")) * spun * 2.465 / 1000)
