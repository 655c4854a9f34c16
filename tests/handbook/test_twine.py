"""The twine table against what was read in its sources, each beside its check.

The numbered twines that no figure was found for follow a fit to those that were: that they do is kept here as
a regression, and counts for no evidence. What the fit says of the twines that were read of is checked.
"""

import csv
from dataclasses import replace
from importlib.resources import files
from math import inf, pi, sqrt

import pytest

from net3d.handbook.fibres import fibres
from net3d.handbook.limits import default_limits
from net3d.handbook.table import read_table
from net3d.handbook.twine import Spool, find_twine, near_twines, twine_of
from net3d.handbook.water import water_constant
from tests.facts import facts

POUND_FORCE = 4.4482216152605  # N: NIST SP 811
FOOT_PER_POUND = 0.3048 / 0.45359237  # m/kg
NUMBERED = [6, 7, 9, 12, 15, 18, 21, 24, 27, 30, 36, 42, 48, 54, 60, 72, 84, 96, 108, 120]
KENTUCKY = "Kentucky Administrative Regulations, 301 KAR 1:146: No. 6 nylon, 55 lb or more"
DEALERS = "dealers' descriptions of numbered nylon seine twine"
POLYETHYLENE = "SC 141-1985: polyethylene netting twine R1188 tex"
FWS = "US Fish and Wildlife Service, Net materials: nylon keeps 0.85 to 0.90 of its strength in water"


def pounds(name):
    return find_twine(name).strength / POUND_FORCE


@pytest.mark.published(source=KENTUCKY)
def test_the_least_that_number_6_must_bear():
    assert pounds("#6") >= 54.999


@pytest.mark.published(source=DEALERS)
def test_number_12_bears_about_a_hundred_pounds():
    assert pounds("#12") == pytest.approx(100, rel=0.01)


@pytest.mark.published(source=DEALERS)
def test_number_36_bears_what_the_most_careful_dealer_says():
    assert pounds("#36") == pytest.approx(320)  # others say up to 360


@pytest.mark.published(source=DEALERS)
def test_number_36_is_as_thick_as_they_say():
    assert find_twine("#36").diameter == pytest.approx(0.085 * 0.0254)


@pytest.mark.parametrize(
    ("number", "least", "most"),
    # about 100: dealers differ by an eighth on one number, 320 to 360 lb for 36
    [*facts(KENTUCKY, (6, 55, inf)), *facts(DEALERS, (12, 100 * 8 / 9, 100 * 9 / 8), (36, 320, 360))],
)
def test_the_fit_says_of_twines_that_were_read_of_what_was_read(number, least, most):
    # Rows beside one that was read, such as 7 beside 6, bear what the fit says: in proportion to the number.
    beside = NUMBERED[NUMBERED.index(number) + 1]
    assert least <= pounds(f"#{beside}") * number / beside <= most * (1 + 3e-3)


def test_rows_without_a_figure_of_their_own_are_the_fit():
    """A regression: they were made from it."""
    for number in NUMBERED:
        twine = find_twine(f"#{number}")
        # Rtex 102.7 x number and 14,500 / number ft/lb are two roundings of one fit: 0.1 % apart
        assert 1 / twine.mass_per_length / FOOT_PER_POUND == pytest.approx(14500 / number, rel=2e-3)
        assert pounds(f"#{number}") == pytest.approx(9.4 * number, rel=0.12)


@pytest.mark.closed_form
def test_no_twine_is_fuller_than_round_fibres_can_lie():
    # Equal circles cover at most pi / (2 sqrt 3) = 0.907 of the plane (Thue; hexagonal packing).
    for row in read_table("twine"):
        twine = find_twine(row["name"])
        outline = pi / 4 * twine.diameter**2
        assert 0.4 < twine.mass_per_length / twine.density / outline < pi / (2 * sqrt(3))


@pytest.mark.published(source=POLYETHYLENE)
def test_thickness_of_polyethylene_twine():
    twine = find_twine("R1188 tex PE")
    assert (twine.tex, twine.diameter) == (1188, pytest.approx(0.00175))


@pytest.mark.published(source=POLYETHYLENE)
def test_what_a_knot_leaves_of_polyethylene_twine():
    twine = find_twine("R1188 tex PE")
    assert twine.wet_knotted_strength / twine.strength == pytest.approx(13.2 / 22.7, rel=0.005)


@pytest.mark.published(source=FWS)
def test_nylon_loses_strength_in_water():
    assert 0.85 <= fibres()["PA"].wet_ratio <= 0.90


@pytest.mark.closed_form
def test_nylon_loses_strength_in_the_knot_and_stretches_to_half_of_what_is_left():
    nylon = fibres()["PA"]
    twine = find_twine("#15")
    assert twine.wet_knotted_strength == pytest.approx(twine.strength * nylon.wet_ratio * nylon.knot_ratio)
    # pulled by half of the wet knotted strength it is longer by this much, by the law as by a secant
    assert twine.stretch(0.5 * twine.wet_knotted_strength) == pytest.approx(nylon.half_elongation)
    fibre = replace(nylon, stiffening=0.0)
    secant = twine_of(Spool("#15", 0.00139, 1540.0, twine.strength, "the same"), fibre)
    assert secant.guessed
    assert 0.5 * twine.wet_knotted_strength / secant.stiffness == pytest.approx(nylon.half_elongation)


def test_twine_of_210_denier_yarns():
    """Laid-up twine is heavier than its yarns (210 den = 23.33 tex each): 5 to 15 %, from memory."""
    for yarns in (6, 12, 24, 48, 96):
        assert 1.05 < find_twine(f"210/{yarns}").tex / (yarns * 210 / 9) < 1.15


@pytest.mark.parametrize("name", ["#15", "15", "No. 15", "no 15", "No.15", " # 15 ", "number 15"])
def test_a_number_may_be_written_in_many_ways(name):
    assert find_twine(name).name == "#15"


@pytest.mark.parametrize("name", ["#16", "", "#", "1" * 99, "210/25", "\x1b", "²"])
def test_what_is_not_in_the_table(name):
    assert find_twine(name) is None
    assert all(find_twine(near) for near in near_twines(name))


def test_nearest_numbers_come_first():
    assert near_twines("#20")[0] == "#21"
    assert "own" in near_twines("owm", ("own",))


@pytest.mark.parametrize("table", ["twine", "fibres", "hoop_materials", "water", "limits"])
def test_every_row_has_a_source_and_a_mark(table):
    text = files("net3d.handbook").joinpath(f"{table}.csv").read_text("utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    assert rows
    for row in rows:
        assert None not in row
        assert row["source"]
        assert row["mark"] in ("seen", "derived", "memory", "common practice")


def test_fibres_sink_or_float():
    """Nylon and polyester sink, polyethylene and polypropylene float: common knowledge of the trade."""
    water = water_constant("fresh_water_density")
    assert fibres()["PA"].density > water
    assert fibres()["PES"].density > water
    assert fibres()["PE"].density < water
    assert fibres()["PP"].density < water


def test_cautions_come_before_fails():
    for limit in default_limits().values():
        assert limit.sense in ("min", "max")
        least, most = sorted([limit.caution, limit.fail])
        assert (limit.caution, limit.fail) == ((least, most) if limit.sense == "max" else (most, least))
