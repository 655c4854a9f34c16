"""A shop's file holds where a spec does not say; the spec's own keys win, and copies keep them apart."""

import pytest

from net3d.errors import SpecError
from net3d.spec import read_spec, starter_spec, vary
from net3d.spec.rewriting import rewritten

SHOP = 'units = "in"\n[prices]\nhour = 20\ncoil = 15\n[twine.mine]\ndiameter = "0.05"\ntex = 1500\n'
SHOP += 'strength = "140 lbf"\nfibre = "PA"\n[stock]\nwebbing_across = 200\n[quote]\nseller = "Net shop"\n'


@pytest.fixture
def net(tmp_path):
    path = tmp_path / "net.toml"
    path.write_text(starter_spec("Backwater"), "utf-8")
    return path


def written(net, text, name="shop.toml"):
    (net.parent / name).write_text(text, "utf-8")
    return net


def test_what_the_shop_says_holds_for_a_spec_beside_it(net):
    bare = read_spec(net)
    spec = read_spec(written(net, SHOP))
    assert (bare.prices.hour, spec.prices.hour, spec.prices.coil) == (None, 20, 15)
    assert vary(spec, {"netting.twine": "mine"}).twine.tex == 1500
    assert (bare.quote.seller, spec.quote.seller) == (None, "Net shop")
    assert spec.hoops == bare.hoops


def test_the_specs_own_keys_win(net):
    net.write_text(net.read_text("utf-8") + "[prices]\nhour = 25\n[stock]\nwebbing_deep = 50\n", "utf-8")
    spec = read_spec(written(net, SHOP))
    assert (spec.prices.hour, spec.prices.coil) == (25, 15)
    assert (spec.stock.webbing_deep, spec.stock.webbing_across) == (50, None)


def test_a_spec_may_name_another_shop_or_none(net):
    written(net, SHOP)
    written(net, SHOP.replace("20", "30"), "winter.toml")
    text = net.read_text("utf-8")
    for name, hour in (("winter.toml", 30), ("none", None)):
        net.write_text(f'shop = "{name}"\n{text}', "utf-8")
        assert read_spec(net).prices.hour == hour


def test_a_change_is_typed_into_the_spec_alone(net):
    spec = read_spec(written(net, SHOP))
    text = rewritten(spec.source.text, {"netting.twine": "mine"}, shop=spec.source.shop)
    assert 'twine     = "mine"' in text
    assert "tex = 1500" not in text


@pytest.mark.parametrize(
    ("shop", "words"),
    [
        (SHOP.replace('"in"', '"mm"'), ["shop.toml", "units of the spec, in"]),
        (SHOP + "[[hoop]]\ndiameter = 36\n", ["shop.toml", "hoop", "not a shop's"]),
        (SHOP.replace("hour = 20", "hour = -20"), ["shop.toml, line 3: prices.hour", "-20"]),
        (SHOP.replace("seller", "sellr"), ["shop.toml, line 13: quote.sellr", "did you mean seller"]),
        (SHOP.replace("tex = 1500\n", ""), ["shop.toml, line 5: twine.mine", "tex"]),
        (SHOP.replace("15", "15 dollars", 1), ["shop.toml", "line 4: coil = 15 dollars", '"15 dollars"']),
        ("[prices", ["shop.toml", "TOML"]),
    ],
)
def test_a_fault_of_the_shops_file_is_told_as_such(net, shop, words):
    with pytest.raises(SpecError) as refused:
        read_spec(written(net, shop))
    assert all(word in str(refused.value) for word in words)
    assert "netting" not in str(refused.value)  # a shop's file is no spec, and lacks nothing of one


def test_a_fault_of_the_spec_keeps_its_own_line_beside_a_shop(net):
    net.write_text(net.read_text("utf-8") + "[prices]\nspool = -1\n", "utf-8")
    last = net.read_text("utf-8").count("\n")
    with pytest.raises(SpecError) as refused:
        read_spec(written(net, SHOP.replace("hour = 20", "hour = -20")))
    assert {(one.key, one.line, bool(one.file)) for one in refused.value.problems} == {
        ("prices.spool", last, False),
        ("prices.hour", 3, True),
    }


def test_a_shop_that_is_named_and_not_there_is_told(net):
    net.write_text('shop = "away.toml"\n' + net.read_text("utf-8"), "utf-8")
    with pytest.raises(SpecError, match=r"away\.toml"):
        read_spec(net)
