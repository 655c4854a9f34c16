"""What is at hand already is not on the list to buy, and what is left is by subtraction."""

import pytest

from net3d.plan import lay_out
from net3d.shop.costing import shopping
from net3d.spec import parse_spec, starter_spec, vary

SPEC = parse_spec(starter_spec("Backwater"))  # five hoops, twine #15 laced with #24


def bought(changes):
    spec = vary(SPEC, changes)
    return {(one.item, one.made_of): one for one in shopping(spec, lay_out(spec))}


def test_hoops_at_hand_are_not_bought():
    assert bought({"hoop.1.have": True, "hoop.4.have": True})["hoops", "fibreglass"].count == 5 - 2
    every = {f"hoop.{number}.have": True for number in range(1, 6)}
    assert ("hoops", "fibreglass") not in bought(every)


def test_an_anchor_at_hand_is_not_bought():
    anchor = {"anchor.type": "fluke", "anchor.weight": "10 lb"}
    assert ("anchor", "fluke") in bought(anchor)
    assert ("anchor", "fluke") not in bought({**anchor, "anchor.have": True})


@pytest.mark.parametrize(
    ("key", "item", "amount", "unit"),
    [
        ('stock.have.twine."No. 15"', ("twine", "#15"), "1/2 lb", 0.5 * 0.45359237),  # lb: NIST Handbook 44
        ("stock.have.rope", ("rope", ""), "10 ft", 10 * 0.3048),
        ("stock.have.dip", ("dip", ""), "0.1 lb", 0.1 * 0.45359237),
    ],
)
def test_what_is_left_to_buy_is_the_need_less_what_is_there(key, item, amount, unit):
    whole, left = bought({})[item], bought({key: amount})[item]
    assert whole.need - left.need == pytest.approx(unit)
    assert left.count <= whole.count
    assert item not in bought({key: "900 ft" if item[0] == "rope" else "90 lb"})


def test_everything_else_stays_on_the_list():
    every, some = bought({}), bought({"stock.have.rope": "900 ft"})
    assert set(every) - set(some) == {("rope", "")}
