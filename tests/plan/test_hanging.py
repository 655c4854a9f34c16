"""Hanging ratios against the rows of the books.

E1 and E2 as in ISO 1107 and ISO 3660: E1 = rope length / (meshes x stretched mesh), E2 = sqrt(1 - E1^2).
"""

from math import pi, sqrt

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from net3d.plan.lay_out import hanging_ratios
from tests.facts import facts


def ratios(across: float) -> tuple[float, float]:
    """E1 and E2 of 100 meshes of 0.1 m around knots that give this E1."""
    return hanging_ratios(across * 100 * 0.1, 100, 0.1)


@pytest.mark.published(source="teaching notes on trawl design: hanging ratios E1 0.5, E2 0.87")
def test_half():
    # The notes print 0.8660, and 0.87 in their table.
    assert ratios(0.5) == pytest.approx((0.5, 0.8660), abs=5e-5)


@pytest.mark.closed_form
@pytest.mark.parametrize(("across", "along"), [(0.6, 0.8), (0.8, 0.6)])
def test_three_four_five(across, along):
    # Arithmetic: 3, 4, 5.
    assert ratios(across) == pytest.approx((across, along), rel=1e-12)


@pytest.mark.published(
    source="encyclopaedia, netting hanging, after Prado and Dremiere, Fisherman's Workbook, 1990"
)
def test_most_netting_is_covered_hung_square():
    # E1 x E2 is largest, 0.5, at E1 = 0.7071.
    best = minimize_scalar(lambda e1: -float(np.prod(ratios(e1))), bounds=(0.1, 0.9), method="bounded")
    assert best.x == pytest.approx(0.7071, abs=1e-4)
    assert -best.fun == pytest.approx(0.5, rel=1e-9)


@pytest.mark.published(source="published mesh arithmetic: 3 in bars hung square, 27 meshes deep")
def test_hung_square_27_meshes_deep():
    # 114.55 in deep (the source rounds the diagonal to 4.24 and prints 114.48).
    _, along = ratios(sqrt(0.5))
    assert 27 * 2 * 3.0 * along == pytest.approx(114.55, abs=0.006)


HANDBOOK = "hobby handbook on fykes, in Russian, ISBN 978-5-938-35304-6: meshes around a hoop, hung square"


@pytest.mark.parametrize(("hoop", "bar", "meshes"), facts(HANDBOOK, (1.00, 0.02, 111)))
def test_meshes_around_a_hoop(hoop, bar, meshes):
    # N = pi D / (1.41 b), rounded: of all whole counts this one hangs nearest to E1 = 0.707.
    ratios = {count: hanging_ratios(pi * hoop, count, 2 * bar)[0] for count in range(90, 140)}
    assert min(ratios, key=lambda count: abs(ratios[count] - 1.41 / 2)) == meshes


@pytest.mark.parametrize(("hoop", "bar", "meshes"), facts(HANDBOOK, (1.05, 0.02, 111)))
def test_the_same_meshes_on_a_hoop_a_twentieth_wider(hoop, bar, meshes):
    # The handbook keeps 111 meshes from hoops of 100 cm to 105: they hang a twentieth wider, and no tighter
    # than netting can be tied.
    across, along = hanging_ratios(pi * hoop, meshes, 2 * bar)
    assert across == pytest.approx(1.05 * 1.41 / 2, rel=0.005)
    assert along > 0.6


def test_meshes_on_a_rope():
    # From memory, Fisherman's Workbook: 200 meshes of 50 mm stretched on 8 m of rope hang at 0.80.
    assert hanging_ratios(8.0, 200, 0.050)[0] == pytest.approx(0.80, abs=0.005)


@pytest.mark.parametrize("across", [1.0, 1.2])
def test_too_few_meshes_cannot_be_tied(across):
    with pytest.raises(ValueError, match="do not reach around"):
        ratios(across)
