"""Hanging ratios against the rows of the books.

E1 and E2 as in ISO 1107 and ISO 3660: E1 = rope length / (meshes x stretched mesh), E2 = sqrt(1 - E1^2).
"""

from math import sqrt

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from net3d.plan.lay_out import hanging_ratios


def ratios(across: float) -> tuple[float, float]:
    """E1 and E2 of 100 meshes of 0.1 m around knots that give this E1."""
    return hanging_ratios(across * 100 * 0.1, 100, 0.1)


def test_half():
    # Teaching notes on trawl design: E1 = 0.5, E2 = 0.8660, printed 0.87.
    assert ratios(0.5) == pytest.approx((0.5, 0.8660), abs=5e-5)


@pytest.mark.parametrize(("across", "along"), [(0.6, 0.8), (0.8, 0.6)])
def test_three_four_five(across, along):
    # Arithmetic: 3, 4, 5.
    assert ratios(across) == pytest.approx((across, along), rel=1e-12)


def test_most_netting_is_covered_hung_square():
    # Netting hanging, encyclopaedia entry; Prado and Dremiere, Fisherman's Workbook, FAO / Fishing News
    # Books 1990: E1 x E2 is largest, 0.5, at E1 = 0.7071.
    best = minimize_scalar(lambda e1: -float(np.prod(ratios(e1))), bounds=(0.1, 0.9), method="bounded")
    assert best.x == pytest.approx(0.7071, abs=1e-4)
    assert -best.fun == pytest.approx(0.5, rel=1e-9)


def test_hung_square_27_meshes_deep():
    # Published mesh arithmetic: a 3 in bar hung square, 27 meshes deep, is 114.55 in deep (the source rounds
    # the diagonal to 4.24 and prints 114.48).
    _, along = ratios(sqrt(0.5))
    assert 27 * 2 * 3.0 * along == pytest.approx(114.55, abs=0.006)


def test_meshes_on_a_rope():
    # From memory, Fisherman's Workbook: 200 meshes of 50 mm stretched on 8 m of rope hang at 0.80.
    assert hanging_ratios(8.0, 200, 0.050)[0] == pytest.approx(0.80, abs=0.005)


@pytest.mark.parametrize("across", [1.0, 1.2])
def test_too_few_meshes_cannot_be_tied(across):
    with pytest.raises(ValueError, match="do not reach around"):
        ratios(across)
