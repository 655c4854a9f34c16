"""Hanging chains: net3d's cone program on what has been solved for centuries, or by anything else."""

from math import asinh, cosh, sinh, sqrt

import numpy as np
import pytest
from scipy.optimize import brentq, minimize

from net3d.netting.netting import FREE, NONE, Carrier, Netting
from net3d.statics.motion import free_motion
from net3d.statics.program import cone_program
from net3d.statics.solver import SolverLimits, solve

GRAVITY = 9.8


def chain(end, link, stiffness, weights):
    """Links in a row from the origin to ``end`` (x, z), with ``weights`` at the joints between them."""
    count = len(weights) + 2
    carriers = np.full(count, FREE)
    seats = np.zeros((count, 3))
    carriers[[0, -1]], seats[-1] = 0, (end[0], 0.0, end[1])
    loads = np.zeros((count, 3))
    loads[1:-1, 2] = -np.asarray(weights)
    zeros, ones = np.zeros(count, dtype=int), np.ones(count - 1)
    return Netting(
        parts=("chain",),
        carriers=(Carrier("wall", ""),),
        hoop_count=1,
        knot_carriers=carriers,
        knot_seats=seats,
        knot_parts=zeros,
        knot_rows=np.arange(count),
        knot_rings=np.arange(count),
        knot_angles=np.zeros(count),
        knot_loads=loads,
        bars=np.stack([np.arange(count - 1), np.arange(1, count)], axis=1),
        bar_lengths=link * ones,
        bar_stiffnesses=stiffness * ones,
        bar_stiffening=0 * ones,
        bar_expected=0 * ones,
        bar_strengths=np.inf * ones,
        bar_diameters=0 * ones,
        bar_weights=0 * ones,
        bar_parts=zeros[1:],
        bar_rows=np.arange(count - 1),
        bar_fits=np.full(count - 1, NONE),
        bar_runs=np.full(count - 1, NONE),
        bar_seams=np.full(count - 1, NONE),
        fit_tensions=np.zeros(0),
        fit_least=np.zeros(0),
        run_lengths=np.zeros(0),
        run_stiffnesses=np.zeros(0),
        run_stiffening=np.zeros(0),
        pull=float(np.sum(weights)),
    )


def hang(netting):
    """Where the joints come to rest (n, 3) and the tension of every link."""
    motion = free_motion(netting)
    bars = np.arange(len(netting.bars))
    program = cone_program(netting, motion, netting.knot_loads, (bars, np.ones(len(bars))))
    answer = solve(program, SolverLimits())
    return motion.positions(answer.coordinates), answer.tensions


@pytest.mark.parametrize("slack", [0.5, 1.0, 2.0])
def test_springs_that_buckle_against_a_general_minimiser(slack):
    # Springs that only pull: Lobo, Vandenberghe, Boyd and Lebret, Applications of second-order cone
    # programming, Linear Algebra and its Applications 284 (1998). 10 links from (0, 0) to (2, -1), k = 100,
    # unit masses, g = 9.8; rest lengths of half, once and twice a tenth of the distance between the ends.
    end, links, spring = np.array([2.0, -1.0]), 10, 100.0
    rest = slack * np.linalg.norm(end) / links

    def energy(inner):
        joints = np.vstack([[0.0, 0.0], inner.reshape(-1, 2), end])
        spans = np.diff(joints, axis=0)
        lengths = np.linalg.norm(spans, axis=1)
        stretch = np.maximum(lengths - rest, 0.0)
        pulls = (spring * stretch / lengths)[:, None] * spans
        slope = pulls[:-1] - pulls[1:]
        slope[:, 1] += GRAVITY
        return spring / 2 * np.sum(stretch**2) + GRAVITY * joints[1:-1, 1].sum(), slope.ravel()

    start = np.linspace([0.0, 0.0], end, links + 1)[1:-1] - [0.0, 1.0]
    found = minimize(energy, start.ravel(), jac=True, method="BFGS", options={"gtol": 1e-9, "maxiter": 5000})
    joints, tensions = hang(chain(end, rest, spring * rest, [GRAVITY] * (links - 1)))
    assert np.abs(joints[1:-1, [0, 2]] - found.x.reshape(-1, 2)).max() < 1e-5 * rest
    spans = np.diff(np.vstack([[0.0, 0.0], found.x.reshape(-1, 2), end]), axis=0)
    expected = spring * np.maximum(np.linalg.norm(spans, axis=1) - rest, 0.0)
    assert tensions == pytest.approx(expected, abs=1e-4)
    assert np.abs(joints[:, 1]).max() < 1e-9


def catenary(end, length):
    """Parameter a, and the curve z(x) through the origin: z = a cosh((x - x0) / a) + z0 (derived)."""
    across, drop = end[0], -end[1]
    chord = sqrt(length**2 - drop**2)
    a = brentq(lambda a: 2 * a * sinh(across / (2 * a)) - chord, across / 200, across * 50)
    lowest = across / 2 + a * asinh(drop / (2 * a * sinh(across / (2 * a))))
    return a, lambda x: a * (np.cosh((x - lowest) / a) - cosh(lowest / a))


def catenary_gaps(count):
    """Largest distance of a joint below or above the catenary over the length; error of the pull across."""
    end, length, weight = np.array([2.0, -1.0]), 3.0, 5.0  # N/m
    link = length / count
    netting = chain(end, link, 1e6, [weight * link] * (count - 1))
    joints, tensions = hang(netting)
    a, curve = catenary(end, length)
    spans = np.diff(joints, axis=0)
    across = tensions * spans[:, 0] / np.linalg.norm(spans, axis=1)
    assert np.ptp(across) < 1e-4 * across.mean()
    return np.abs(joints[:, 2] - curve(joints[:, 0])).max() / length, abs(across.mean() / (weight * a) - 1)


def test_a_chain_that_does_not_stretch_hangs_in_a_catenary():
    # A chain of n straight links is a catenary but for terms of the order 1/n^2: twice the links, a quarter.
    place, pull = np.array([catenary_gaps(count) for count in (20, 40, 80)]).T
    assert place[-1] < 1e-4
    assert pull[-1] < 1e-3
    assert np.all(place[1:] < 0.35 * place[:-1])
    assert np.all(pull[1:] < 0.35 * pull[:-1])
