"""What a net takes: twine by two forms, hitches by the helix, ropes and strings with their ends, costs."""

from math import hypot, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from net3d.handbook.allowances import allowance
from net3d.handbook.table import read_table
from net3d.handbook.twine import find_twine, lacing_twine
from net3d.parts import Part
from net3d.plan.taper import taper
from net3d.shop.amounts import amounts
from net3d.shop.costing import price, shopping, work
from net3d.shop.lacing import hitch_length, lace
from net3d.shop.nesting import Cutting, nest, saved_head_to_tail
from net3d.tables import costs, materials
from net3d.tables.costs import hours_sheet, price_of, shopping_sheet
from net3d.tables.materials import materials_sheet
from tests.tables.nets import MESH, net, throat

PRICES = "[prices]\nhour = 20\nspool = 18\ncoil = 15\nhoop = 9\ndip = 30\nmarkup = 0.25"


def by_item(made, strings=()):
    return {amount.item: amount for amount in amounts(made.spec, made.plan, strings)}


def test_twine_weighs_what_its_length_weighs_at_its_tex():
    """ISO 1144: tex is grams a kilometre. How much there is, see ``tests/plan/test_counts.py``."""
    netting = by_item(net("hand-tied"))["netting_twine"]
    assert netting.mass == pytest.approx(netting.total * netting.twine.tex / 1e6, rel=1e-9)


def test_knots_of_body_and_throats_are_the_tables_and_the_models():
    made = net("hand-tied", throat(tip=14), throat(hoop=2, tip=20))
    knots = by_item(made)["netting_twine"].knots
    netting = made.netting
    rows = {(part, row) for part, row in zip(netting.knot_parts, netting.knot_rows, strict=True)}
    assert rows
    in_netting = sum(
        netting.parts[part].name.startswith(("section", "tail", "throat")) for part in netting.knot_parts
    )
    assert knots == in_netting - made.plan.hoops[0].meshes_around  # the first row is the hoop's lacing


def test_lacing_twine_of_a_number_18_net_is_number_30():
    """Common practice, no source."""
    assert lacing_twine(find_twine("#18")).name == "#30"


def test_lacing_twine_is_heavier_wherever_the_table_has_a_heavier_one():
    for row in read_table("twine"):
        twine = find_twine(row["name"])
        heavier = [
            other
            for other in read_table("twine")
            if other["fibre"] == row["fibre"] and float(other["tex"]) > twine.tex
        ]
        kind = [other for other in heavier if ("/" in other["name"]) == ("/" in row["name"])]
        assert (lacing_twine(twine).tex > twine.tex) == bool(kind)


def test_three_hitches_at_the_mouth_and_two_elsewhere():
    """Usual: common practice, no source."""
    made = net("hand-tied", throat(hoop=2, tip=12))
    rows = lace(made.plan, made.spec.lacing)
    assert [row.hitches for row in rows] == [3 * 40, 2 * 40, 2 * 40]
    assert [(row.body, row.throats) for row in rows] == [(True, ()), (True, (Part.throat(1),)), (True, ())]


def test_a_hoops_rod_is_as_long_as_its_middle_line_and_lacing_runs_along_the_knots():
    """Rod: pi (D - d); along the knots a turn of pi (D - 2 d), and the hitches: arithmetic."""
    made = net("hand-tied", throat(tip=12))
    hoop, row = made.plan.hoops[0], lace(made.plan, made.spec.lacing)[0]
    outside, rod = made.spec.hoops[0].diameter, made.spec.hoops[0].rod
    rods = {amount.length for amount in amounts(made.spec, made.plan) if amount.item == "hoop_rod"}
    wanted = {pi * (one.diameter - one.rod) for one in made.spec.hoops}
    assert sorted(rods) == pytest.approx(sorted(wanted), rel=1e-12)
    hitches = row.hitches * hitch_length(rod, row.twine.diameter)
    assert row.length - hitches == pytest.approx(pi * (outside - 2 * rod), rel=1e-12)
    assert hoop.number == row.hoop == 1


def test_a_hitch_is_no_shorter_than_a_turn_of_a_helix_and_not_much_longer():
    """A turn around the rod that moves on by its own thickness: hypot(pi (D + d), d), arithmetic."""
    rod, diameter = 0.0127, 0.00176
    helix = hypot(pi * (rod + diameter), diameter)
    assert helix < hitch_length(rod, diameter) < 1.25 * helix


def test_strings_and_ropes_are_cut_with_their_ends():
    made = net("hand-tied", throat(tip=12), legs=3, leg=0.8)
    items = by_item(made, [0.5])
    strings, legs = items["strings"], items["bridle"]
    assert (strings.pieces, legs.pieces) == (12, 3)
    assert strings.total == pytest.approx(12 * (0.5 + 2 * allowance("string_end")))
    assert legs.total == pytest.approx(3 * (0.8 + 2 * 40 * 0.006))


def test_square_throats_have_a_string_a_corner_and_a_line():
    made = net("hand-tied", throat(style="square", tip=16))
    items = by_item(made, [0.4])
    assert items["strings"].pieces == 4
    assert items["tip_line"].length == pytest.approx(0.5 * 16 * MESH)


def test_spools_coils_and_cans_are_rounded_up():
    made = net("hand-tied", PRICES, '[stock]\nspool = "0.1 kg"\ncoil = "4 m"')
    for one in shopping(made.spec, made.plan):
        assert one.sold_in * (one.count - 1) < one.need <= one.sold_in * one.count


def test_price_is_hours_and_materials_with_the_markup():
    made = net("hand-tied", PRICES)
    done, bought = work(made.spec, made.plan), shopping(made.spec, made.plan)
    hours = 40 * 35 / 350 + (3 * 40 + 2 * 2 * 40) / 300 + 3
    assert sum(one.hours for one in done) == pytest.approx(hours)
    materials = sum(one.price * one.need / one.sold_in for one in bought)
    assert price(made.spec, done, bought).price == pytest.approx((hours * 20 + materials) * 1.25)


def test_a_price_that_is_given_is_the_price():
    made = net("hand-tied", "[prices]\nprice = 450")
    reckoned = price(made.spec, work(made.spec, made.plan), shopping(made.spec, made.plan))
    assert (reckoned.price, reckoned.labour, reckoned.materials) == (450, None, None)


CUTTINGS = st.lists(
    st.builds(
        lambda name, first, lost, deep: Cutting(
            name,
            first,
            first - 2 * min(lost, deep, first // 3),
            deep,
            saved_head_to_tail(taper(min(lost, deep, first // 3), deep)),
        ),
        st.sampled_from("abc"),
        st.integers(3, 60),
        st.integers(0, 20),
        st.integers(1, 30),
    ),
    min_size=1,
    max_size=12,
)


@given(CUTTINGS, st.integers(65, 120), st.booleans())
def test_pieces_on_a_sheet_do_not_overlap_and_stay_on_it(cuttings, size, runs_across):
    laid = nest(cuttings, size, runs_across)
    assert not laid.too_large
    assert sorted(name for one in laid.laid for name in one.names) == sorted(one.name for one in cuttings)
    for number, one in enumerate(laid.laid):
        assert one.start + one.fixed <= size
        assert one.along + one.run <= laid.run + 1e-9
        for other in laid.laid[:number]:
            apart = one.start >= other.start + other.fixed or other.start >= one.start + one.fixed
            behind = one.along >= other.along + other.run or other.along >= one.along + one.run
            assert apart or behind
    used = sum(one.area for one in cuttings)
    assert laid.waste == pytest.approx(1 - used / (laid.run * size))
    assert 0 <= laid.waste < 1


def test_two_tapered_pieces_lie_head_to_tail():
    """All bars, 12 down to 4 over 4 deep: two stand in 16 across, 12 + 4, and half a mesh for every cut."""
    piece = Cutting("a", 12, 4, 4, saved_head_to_tail(taper(4, 4)))
    (pair,) = nest([piece, piece], 10, True).laid
    assert pair.run == 12 + 12 - 4 + 2 * 0.5


def test_a_sheet_that_is_too_small_is_said_to_be():
    assert nest([Cutting("a", 30, 30, 5)], 20, False).too_large == ("a",)


def test_the_anchor_is_on_the_list_when_there_is_one():
    made = net("hand-tied", '[anchor]\ntype = "concrete block"\nweight = "14 kg"')
    anchor = shopping(made.spec, made.plan)[-1]
    assert (anchor.item, anchor.made_of, anchor.count) == ("anchor", "concrete block", 1)
    last = shopping_sheet(made.spec, made.plan).records[-1]
    assert (last["item"], last["what"], last["count"]) == ("anchor", "concrete block, 14 kg", 1)
    bare = net("hand-tied")
    assert "anchor" not in [one.item for one in shopping(bare.spec, bare.plan)]


@pytest.mark.parametrize("made", ["hand-tied", "sheet"])
def test_every_key_of_the_shop_has_its_words(made):
    """No key shows on a table as it stands in the code: words have blanks where keys have bars."""
    shop = "[stock]\nwebbing_across = 200\n[anchor]\ntype = 'grapnel'\nweight = '8 kg'"
    tables = (throat(style="square", tip=16), throat(hoop=2, tip=12), shop)
    one = net(made, *tables, legs=3)
    lengths = [0.5, 0.6]
    lists = [
        (materials_sheet(one.spec, one.plan, lengths), "item"),
        (shopping_sheet(one.spec, one.plan, lengths), "item"),
        (hours_sheet(one.spec, one.plan), "work"),
    ]
    told = [str(row[key]) for sheet, key in lists for row in sheet.records]
    assert not [text for text in told if "_" in text or "{" in text or "None" in text]
    assert {"strings of throat 1", "line through the tip of throat 1", "strings of throat 2"} <= set(told)
    assert {"lacing the hoops", "hanging the throats", "net dip", "hoop rod", "anchor line"} <= set(told)


def test_lists_are_priced_by_key_whatever_the_words(monkeypatch):
    made = net("sheet", throat(tip=12), f"{PRICES}\nwebbing = 12")
    before = price(made.spec, work(made.spec, made.plan), shopping(made.spec, made.plan, [0.5]))
    monkeypatch.setattr(materials, "ITEMS", dict.fromkeys(materials.ITEMS, "netting twine"))
    monkeypatch.setattr(costs, "ITEMS", dict.fromkeys(costs.ITEMS, "sheet netting"))
    assert price_of(made.spec, made.plan, [0.5]) == before
    assert {row["item"] for row in shopping_sheet(made.spec, made.plan, [0.5]).records} == {"sheet netting"}
