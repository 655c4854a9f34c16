"""What is left of old twine: the law of it, the published ratio, and the maker's own scale."""

import pytest

from net3d.checks.checks import Level
from net3d.checks.every_check import check
from net3d.errors import SpecError
from net3d.handbook.ageing import weathered
from net3d.handbook.fibres import fibres
from net3d.spec import parse_spec
from tests.nets import make, spec_text

NET = {"around": 16, "diameters": (0.36, 0.36), "deep": (6,)}


def old(text, **keys):
    return parse_spec(spec_text(**NET, **keys, extra=f"[old]\n{text}\n"))


@pytest.mark.published(source="Al-Oufi et al. 2004 (abstract)")
def test_bare_nylon_loses_about_three_times_as_fast_as_tarred():
    """Over 780 h, about a month, when both have lost little."""
    bare, tarred = (1 - weathered("PA", 780 / 730, "sun", dipped).likely for dipped in (False, True))
    assert bare / tarred == pytest.approx(3.0, rel=0.05)


@pytest.mark.published(source="Thomas and Hridayanathan 2006 (abstract)")
def test_the_loss_is_about_linear_over_half_a_year():
    """The loss of six months is within a sixth of six times that of one."""
    one, six = (1 - weathered("PA", months, "sun", False).likely for months in (1, 6))
    assert six == pytest.approx(6 * one, rel=1 / 6)


@pytest.mark.law
@pytest.mark.parametrize("fibre", fibres())
def test_older_and_sunnier_is_weaker_and_the_range_holds_what_is_likely(fibre):
    for kept in ("sun", "shade", "dark"):
        left = [weathered(fibre, months, kept, False) for months in (0, 3, 12)]
        assert all(one.low <= one.likely <= one.high <= 1 for one in left)
        assert left[0].low == 1 > left[1].low > left[2].low > 0
    assert weathered(fibre, 9, "sun", False).high < weathered(fibre, 9, "dark", False).low


@pytest.mark.closed_form
def test_it_may_have_aged_twice_as_fast_or_half_so_fast():
    """exp(-2 x) is the square of exp(-x), and exp(-x / 2) its root; twice is common practice, no source."""
    left = weathered("PA", 7, "sun", False)
    assert (left.low, left.high) == pytest.approx((left.likely**2, left.likely**0.5))


@pytest.mark.closed_form
def test_checks_go_by_the_weakest_bar_that_was_broken():
    """A new bar of the twine breaks dry at its wet strength over the wet ratio."""
    new = parse_spec(spec_text(**NET)).twine.wet_knotted_strength
    dry = new / fibres()["PA"].wet_ratio
    text = f"broke = {[f'{share * dry:.6f} N' for share in (0.5, 0.6, 0.7)]}"
    spec = old(text)
    assert (spec.old.low, spec.old.likely, spec.old.high) == pytest.approx((0.5, 0.6, 0.7))
    assert spec.twine.wet_knotted_strength == pytest.approx(0.5 * new)
    assert spec.lacing.twine.wet_knotted_strength > new  # which is new, and heavier
    wet = old(text + "\nwet = true")
    assert wet.old.low == pytest.approx(0.5 / fibres()["PA"].wet_ratio)


def test_what_is_left_is_told_and_the_load_goes_by_it():
    told = {}
    for extra in ("", "[old]\nmonths = 18\ndipped = false\n"):
        net = make(**NET, extra=extra)
        found = check(net.spec, net.plan, net.netting, net.settled())
        told[extra] = {one.code: one for one in found}
    new, worn = told.values()
    assert "strength-left" not in new
    left = worn["strength-left"]
    assert left.level is Level.FAIL  # 18 months in the sun, bare, at twice the usual loss
    assert "write broke under [old]" in left.message
    assert worn["twine-overload"].value == pytest.approx(new["twine-overload"].value / left.value, rel=1e-6)
    assert "up to 40% of that costs it nothing" in left.message  # Bull. Jpn. Soc. Sci. Fish. 31(1) 1965


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("wet = true", "old: write months"),
        ("broke = ['60 N', '70 N']", "old.broke: 2 bars say little: break 3 or more"),
        ("months = -1", "old.months"),
        ("months = 3\nkept = 'attic'", "old.kept"),
    ],
)
def test_messages(text, words):
    with pytest.raises(SpecError) as refused:
        old(text)
    assert words in str(refused.value)
