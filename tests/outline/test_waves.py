"""Waves fitted to measures with noise, against numpy's Fourier transform and scipy's least squares."""

import numpy as np
import pytest
from scipy.linalg import lstsq
from scipy.special import ellipe, ellipeinc

from net3d.outline.curves import Oval
from net3d.outline.waves import fit_bow, fit_ovality

pytestmark = pytest.mark.second_route

ERROR = 0.001  # m, of a tape on a floor


def measures(count, seed=3):
    """Heights of a hoop that leans, is bowed and was measured with errors."""
    angles = 2 * np.pi * np.arange(count) / count
    noise = np.random.default_rng(seed).normal(0.0, ERROR, count)
    return 0.02 + 0.03 * np.cos(angles - 1) + 0.012 * np.cos(2 * angles) - 0.007 * np.sin(3 * angles) + noise


@pytest.mark.parametrize("count", [6, 8, 9, 12, 13, 24])
def test_fit_is_the_fourier_transform(count):
    heights = measures(count)
    bow = fit_bow(heights)
    spectrum = np.fft.rfft(heights) * 2 / count  # equally spaced: least squares of a wave is its coefficient
    assert bow.numbers == tuple(range(2, count // 2))
    np.testing.assert_allclose(bow.phasors(max(bow.numbers))[2:], spectrum[2 : count // 2], atol=1e-12)


@pytest.mark.parametrize("count", [8, 11, 16])
def test_fit_and_residual_are_those_of_least_squares(count):
    heights = measures(count)
    angles = 2 * np.pi * np.arange(count) / count
    waves = np.arange(count // 2)
    basis = np.hstack([np.cos(np.outer(angles, waves)), np.sin(np.outer(angles, waves[1:]))])
    parts = lstsq(basis, heights)[0]
    bow = fit_bow(heights)
    np.testing.assert_allclose(bow.cosines, parts[2 : count // 2], atol=1e-12)
    np.testing.assert_allclose(bow.sines, parts[count // 2 + 1 :], atol=1e-12)
    assert bow.residual == pytest.approx(np.sqrt(np.mean((basis @ parts - heights) ** 2)), abs=1e-12)


def test_a_lean_is_no_bow():
    angles = 2 * np.pi * np.arange(8) / 8
    assert fit_bow(0.1 + 0.05 * np.cos(angles) - 0.02 * np.sin(angles)).height < 1e-12


def test_what_was_bent_comes_out_within_the_errors():
    # Least squares of k independent errors s: each coefficient has the standard error s sqrt(2 / k).
    bow = fit_bow(measures(24))
    allowed = 4 * ERROR * np.sqrt(2 / 24)
    assert abs(bow.cosines[0] - 0.012) < allowed
    assert abs(bow.sines[1] + 0.007) < allowed


def test_ellipse_is_an_oval_of_two_waves():
    # Radius of an ellipse of semi-axes 1 + e and 1 - e is 1 + e cos 2t to first order in e.
    angles = np.pi * np.arange(8) / 8
    a, b = 0.505, 0.495
    radii = a * b / np.sqrt((b * np.cos(angles)) ** 2 + (a * np.sin(angles)) ** 2)
    mean, oval = fit_ovality(2 * radii)
    assert mean == pytest.approx(1.0, abs=2e-4)  # second order: e^2 = 1e-4
    assert oval.cosines[0] == pytest.approx(0.005, abs=1e-4)
    assert oval.numbers == (2, 4, 6)


def test_tape_along_an_ellipse_is_its_elliptic_integral():
    # Arc of an ellipse from its longer semi-axis a: a E(u | m) - shifted by a quarter, m = 1 - (b / a)^2.
    a, b = 0.55, 0.45
    stations = np.pi * np.arange(60) / 60
    mean, oval = fit_ovality(2 * a * b / np.hypot(b * np.cos(stations), a * np.sin(stations)))
    u = np.linspace(0, np.pi / 2, 12)
    polar = np.arctan2(b * np.sin(u), a * np.cos(u))
    m = 1 - (b / a) ** 2
    arcs = (ellipe(m) - ellipeinc(np.pi / 2 - u, m)) / ellipe(m) * np.pi / 2
    along = Oval(4 * a * ellipe(m) / np.pi, oval)
    np.testing.assert_allclose(along.angles(arcs), polar, atol=1e-5)
    assert along.mean_radius == pytest.approx(mean / 2, rel=1e-7)


def test_tape_runs_on_around_an_oval():
    _, oval = fit_ovality(np.array([1.0, 1.03, 1.01, 0.98]))
    arcs = np.linspace(-7.0, 14.0, 50)
    once, again = (Oval(1.0, oval).angles(arcs + turns * 2 * np.pi) for turns in (0, 1))
    np.testing.assert_allclose(again - once, 2 * np.pi, atol=1e-12)
    assert np.all(np.diff(once) > 0)
