"""Girth at length: against measured fish, and by hand."""

from math import exp, log

import numpy as np
import pytest
from scipy.special import ellipe

from net3d.catch.openings import around_ellipse
from net3d.handbook.fish import body_by_girth, body_by_ratio, body_fitted, body_of
from net3d.spec import parse_spec
from tests.nets import spec_text

# Total length, height and width [cm] of the roach of a Finnish lake. Source: Brofeldt 1917, in open data.
ROACH = """16.2 4.1472 2.268  20.3 5.2983 2.8217  21.2 5.5756 2.9044  22.2 5.6166 3.1746  22.2 6.216 3.5742
22.8 6.4752 3.3516  23.1 6.1677 3.3957  23.7 6.1146 3.2943  24.7 5.8045 3.7544  24.3 6.6339 3.5478
25.3 7.0334 3.8203  25 6.55 3.325  25 6.4 3.8  27.2 7.5344 3.8352  26.7 6.9153 3.6312  26.8 7.3968 4.1272
27.9 7.0866 3.906  29.2 8.8768 4.4968  30.6 8.568 4.7736  35 9.485 5.355"""
SHATT = "Relationship between opercular girth, maximum girth and total length, Shatt al-Arab River, abstract"


def measured_roach():
    lengths, heights, widths = np.array(ROACH.split(), dtype=float).reshape(-1, 3).T / 100
    girths = [2 * h * ellipe(1 - (w / h) ** 2) for h, w in zip(heights, widths, strict=True)]  # scipy's
    return list(zip(lengths, girths, strict=True))


@pytest.mark.published(source="159 fish of a Finnish lake (Brofeldt 1917, open data): 20 roach")
def test_a_fit_to_measured_fish_is_the_handbooks_row():
    fitted, row = body_fitted(measured_roach()), body_of("roach")
    assert fitted.power == pytest.approx(row.power, abs=0.0006)
    assert fitted.spread == pytest.approx(row.spread, abs=0.0006)
    assert float(fitted.girth(0.25)) == pytest.approx(float(row.girth(0.25)), rel=0.002)


@pytest.mark.published(source=SHATT)
@pytest.mark.parametrize(
    ("shape", "largest", "opercular"), [("round", (1.538, 0.419), (-0.252, 0.424)),
                                        ("compressed", (1.538, 0.696), (-0.262, 0.600))]
)  # fmt: skip
def test_shapes_follow_the_published_lines(shape, largest, opercular):
    body = body_of(shape)
    for centimetres in (20, 30, 40, 50):
        girth = (largest[0] + largest[1] * centimetres) / 100
        assert float(body.girth(centimetres / 100)) == pytest.approx(girth, rel=0.015)  # a power, not a line
    heads = [(opercular[0] + opercular[1] * x) / (largest[0] + largest[1] * x) for x in (20, 30, 50)]
    assert min(heads) < body.head < max(heads)


@pytest.mark.second_route
@pytest.mark.parametrize("flat", [1.0, 0.6, 0.36, 0.1])
def test_around_an_ellipse_is_as_scipy_has_it(flat):
    assert around_ellipse(2.0, 2.0 * flat) == pytest.approx(8.0 * ellipe(1 - flat**2), rel=2e-4)


@pytest.mark.closed_form
def test_fish_that_follow_a_power_are_told_by_it():
    pairs = [(length, exp(-0.9) * length**1.2) for length in (0.2, 0.25, 0.3, 0.4)]
    body = body_fitted(pairs)
    assert (body.intercept, body.power) == pytest.approx((-0.9, 1.2))
    assert body.spread == 0.06  # of few fish no less than usual
    assert body_fitted(pairs * 3).spread == pytest.approx(0.0, abs=1e-9)
    scattered = [(length, girth * exp(off)) for length, girth in pairs for off in (-0.2, 0.0, 0.2)]
    assert body_fitted(scattered).spread == pytest.approx((8 * 0.04 / 10) ** 0.5)


@pytest.mark.closed_form
@pytest.mark.parametrize(
    "pairs", [[(0.3, 0.15)], [(0.3, 0.14), (0.31, 0.16)], [(0.3, 0.1), (0.31, 0.16), (0.3, 0.2)]]
)
def test_few_or_like_fish_are_as_large_around_for_their_length(pairs):
    body = body_fitted(pairs)
    assert body.power == 1.0
    mean = sum(log(girth / length) for length, girth in pairs) / len(pairs)
    assert float(body.girth(0.6)) == pytest.approx(0.6 * exp(mean))


def test_lengths_and_girths_go_both_ways():
    for body in (body_of("bream"), body_by_ratio(0.5), body_by_girth()):
        assert body.length(float(body.girth(0.37))) == pytest.approx(0.37)
    assert float(body_by_girth().girth(0.37)) == pytest.approx(0.37)


@pytest.mark.parametrize(
    ("fish", "least"),
    [("girth = [0.2, 0.3]", 0.2), ("length = [0.4, 0.6]\ngirth_ratio = 0.5", 0.2),
     ('length = 0.4\nmeasured = [[0.3, 0.15], "50 cm x 25 cm"]', 0.2),
     ('length = 0.4\nspecies = "pike"', exp(-0.854) * 40**0.994 / 100)],
)  # fmt: skip
def test_every_way_to_type_fish(fish, least):
    assert parse_spec(spec_text(extra=f"[fish]\n{fish}")).fish.girth_min == pytest.approx(least)
