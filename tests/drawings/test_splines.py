"""Curves through a few points, beside those of scipy, which is another's work."""

import numpy as np
import pytest
from scipy.interpolate import CubicSpline, PchipInterpolator

from net3d.drawings.splines import rising, rounded


@pytest.mark.parametrize("count", [2, 3, 4, 9])
@pytest.mark.parametrize("seed", range(3))
def test_curves_are_those_of_scipy(count, seed):
    chance = np.random.default_rng([count, seed])
    along = np.cumsum(chance.uniform(0.1, 3.0, count))
    points, heights = chance.normal(size=(count, 2)), chance.integers(-1, 2, count).astype(float)
    fine = np.linspace(along[0], along[-1], 60)
    natural = CubicSpline(along, points, bc_type="natural")(fine)
    np.testing.assert_allclose(rounded(along, points, fine), natural, rtol=0, atol=1e-12)
    level = PchipInterpolator(along, heights)(fine)
    np.testing.assert_allclose(rising(along, heights, fine), level, rtol=0, atol=1e-12)
