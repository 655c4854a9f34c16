"""Units against their definitions, and lengths as a tape shows them.

International yard and pound agreement, 1959: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, both exactly.
Standard acceleration of free fall: 9.80665 m/s^2 (3rd CGPM, 1901), hence
1 lbf = 4.4482216152605 N exactly (NIST Special Publication 811, appendix B).
1 tex = 1 g/km = 9 denier (ISO 1144); 1 nautical mile = 1852 m.
"""

import csv
import math
from fractions import Fraction
from importlib.resources import files

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from net3d.units import (
    Tape,
    UnitError,
    read_number,
    read_quantity,
    three_figures,
    unit_factor,
)
from tests.facts import facts

YARD_AND_POUND = "international yard and pound agreement, 1959"
FREE_FALL = "3rd CGPM, 1901: standard free fall 9.80665 m/s^2"
TEX = "tex and denier, grams in 1 and in 9 km: ISO 1144 as a yarn conversion table has it"
NAUTICAL = "nautical mile of 1852 m: table of conversion factors"
PUBLIC = pint.UnitRegistry()


def read_table():
    text = files("net3d.units").joinpath("units.csv").read_text("utf-8")
    return list(csv.DictReader(text.splitlines()))


@pytest.mark.parametrize(
    ("unit", "factor"),
    [
        *facts(
            YARD_AND_POUND,
            ("in", Fraction(254, 10000)),
            ("ft", Fraction(3048, 10000)),
            ("yd", Fraction(9144, 10000)),
            ("lb", Fraction(45359237, 10**8)),
            ("oz", Fraction(45359237, 16 * 10**8)),
            ("mph", Fraction(1609344, 3600 * 1000)),
        ),
        *facts(FREE_FALL, ("lbf", Fraction(44482216152605, 10**13)), ("kgf", Fraction(980665, 10**5))),
        *facts(TEX, ("tex", Fraction(1, 10**6)), ("den", Fraction(1, 9 * 10**6))),
        *facts(NAUTICAL, ("kn", Fraction(1852, 3600))),
        ("mm", Fraction(1, 1000)),
        ("cm", Fraction(1, 100)),
        ("ft/s", Fraction(3048, 10000)),
        ("ft/lb", Fraction(3048, 10000) / Fraction(45359237, 10**8)),
    ],
)
def test_units_are_what_their_definition_says(unit, factor):
    assert unit_factor(unit)[0] == factor


@pytest.mark.second_route
@pytest.mark.parametrize("row", read_table(), ids=lambda row: row["names"])
def test_units_agree_with_a_public_table(row):
    """Every name, its size and what it measures, as pint ships them."""
    si = f"m**{row['metres']} * kg**{row['kilograms']} * s**{row['seconds']}"
    for name in row["names"].split():
        public = PUBLIC.Quantity(1, name).to(si).magnitude
        assert float(unit_factor(name)[0]) == pytest.approx(public, rel=1e-12)


def test_210_denier_is_23_33_tex():
    # ISO 858 designations give 210 den as 23 tex; 210 / 9 is the definition
    assert float(210 * unit_factor("den")[0] / unit_factor("tex")[0]) == pytest.approx(23.33, abs=0.005)


@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("3", Fraction(3)),
        ("3 1/2", Fraction(7, 2)),
        ("3-1/2", Fraction(7, 2)),
        ("113 1/8", Fraction(905, 8)),
        ("7/8", Fraction(7, 8)),
        ("0.9", Fraction(9, 10)),
        (".5", Fraction(1, 2)),
        ("1e-1", Fraction(1, 10)),
    ],
)
def test_numbers_are_read_exactly(typed, number):
    assert read_number(typed) == number


@pytest.mark.parametrize(
    ("typed", "inches"),
    [
        (3.5, 3.5),
        ("3 1/2", 3.5),
        ("3 1/2 in", 3.5),
        ("3 1/2in", 3.5),
        ("+3.5", 3.5),
        ("3½", 3.5),
        ('3 1/2"', 3.5),
        ("5 ft 6 in", 66),
        ("5 ft 6 1/2 in", 66.5),
        ("5' 6\"", 66),
        ("1 yd", 36),
        ("25.4 mm", 1),
        ("2.54 CM", 1),
        ("113 1/8 in", 113.125),
    ],
)
def test_lengths_a_maker_may_type(typed, inches):
    assert read_quantity(typed, "length", "in") == pytest.approx(inches * 0.0254, rel=1e-15)


@pytest.mark.parametrize(
    "typed",
    [
        *("", "in", "3/0", "3 - 1/2", "--3", "3,5", "1 412 mm", "3 in 5", "3 5 in", "3.5.2", "nan", "1e999"),
        *("3 in ft", "3 lbf", "3 furlong", "3 in/0", "x" * 100, "9" * 61, "1__0", "1_0"),
        "\N{ARABIC-INDIC DIGIT ONE}",
    ],
)
def test_what_is_no_length(typed):
    with pytest.raises(UnitError):
        read_quantity(typed, "length", "in")


@pytest.mark.parametrize("given_", [True, None, [3], float("nan"), float("inf"), 10**400])
def test_what_is_no_number(given_):
    with pytest.raises(UnitError):
        read_quantity(given_, "length", "in")


def test_a_bare_number_is_in_the_units_of_the_spec():
    assert read_quantity(2, "force", "ft") == pytest.approx(2 * 4.4482216152605, rel=1e-15)
    assert read_quantity(2, "force", "cm") == 2
    assert read_quantity(2, "length", "cm") == 0.02
    assert read_quantity(2, "mass", "in") == pytest.approx(0.90718474, rel=1e-15)
    assert read_quantity(2, "speed", "in") == pytest.approx(0.6096, rel=1e-15)
    assert read_quantity("2 ft/s", "speed", "m") == pytest.approx(0.6096, rel=1e-15)


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (15.999, "16 in"),
        (15.96, "15 15/16 in"),
        (3.4375, "3 7/16 in"),
        (71.95, "71 15/16 in"),
        (113.125, "9 ft 5 1/8 in"),
        (0.5, "1/2 in"),
        (0.03, "0 in"),
        (0.0313, "1/16 in"),
        (-0.0313, "-1/16 in"),
        (-0.03, "0 in"),
        (-3.5, "-3 1/2 in"),
    ],
)
def test_sixteenths_of_an_inch(inches, text):
    assert Tape("in").length(inches * 0.0254) == text


def test_a_mark_is_read_off_a_long_tape_in_inches():
    assert Tape("in").reading(113.125 * 0.0254) == "113 1/8"


@pytest.mark.parametrize(
    ("metres", "units", "step", "text"),
    [
        (1.412, "mm", None, "1412 mm"),
        (0.9996, "mm", None, "1000 mm"),
        (0.9996, "cm", None, "100.0 cm"),
        (0.9996, "m", None, "1.000 m"),
        (0.12345, "m", 0.0005, "0.1235 m"),
        (0.12345, "mm", 0.005, "125 mm"),
        (0.12345, "cm", 0.01, "12 cm"),
        (0.0254 * 4.86, "in", 0.00254, "4.9 in"),
        (0.0254 * 4.86, "in", 0.0254 / 8, "4 7/8 in"),
        (0.0254 * 66, "ft", None, "5 ft 6 in"),
        (0.0254 * 11.99, "ft", None, "1 ft"),
        (0.0254 * 7.25, "ft", None, "7 1/4 in"),
        (-0.0254 * 66.5, "ft", None, "-5 ft 6 1/2 in"),
        (0, "ft", None, "0 in"),
    ],
)
def test_other_tapes(metres, units, step, text):
    assert Tape(units, step).length(metres) == text


@given(st.floats(0, 100), st.sampled_from(["in", "ft", "mm", "cm", "m"]))
def test_what_is_printed_reads_back_within_half_a_step(metres, units):
    half = 0.0254 / 32 if units in ("in", "ft") else 0.0005
    assert abs(read_quantity(Tape(units).length(metres), "length", units) - metres) <= half * (1 + 1e-9)


@given(st.floats(1e-6, 1e9))
def test_three_figures_are_within_half_of_the_third(value):
    printed = three_figures(value)
    assert abs(float(printed) - value) <= 0.5001 * 10 ** (math.floor(math.log10(value)) - 2)
    assert "e" not in printed


def test_forces_weights_and_speeds_in_the_units_of_the_spec():
    assert Tape("in").force(15 * 4.4482216152605) == "15 lbf"
    assert Tape("mm").force(15 * 4.4482216152605) == "66.7 N"
    assert Tape("ft").mass(0.45359237) == "1 lb"
    assert Tape("m").mass(1234.5) == "1230 kg"
    assert Tape("in").speed(0.3048) == "1 ft/s"
    assert Tape("in").force(0) == "0 lbf"
    assert Tape("ft").number(0.3048, "length") == pytest.approx(1, rel=1e-15)
