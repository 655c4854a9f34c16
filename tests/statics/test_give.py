"""Twine that gives, T / e = A + B T, against its measured rows, closed forms and another solver.

The rows: a twisted nylon twine under dead loads [lbf], and by how much it was longer (an amateur builder's
readings, its number not given). B is the slope of T / e over T, whatever the twine's thickness; A follows
from the stretch at half of the wet knotted strength, 0.15 (from memory).
"""

from dataclasses import replace
from math import pi, sin, sqrt

import cvxpy
import numpy as np
import pytest
from scipy.optimize import brentq

from net3d.statics import settle
from net3d.statics.shape import EndState
from tests.nets import make, stiff
from tests.statics.test_other_solver import places

LOADS = 4.448222 * np.array([4.17, 8.33, 12.5, 16.7, 20.8, 25.0, 29.2])
STRETCHES = np.array([0.029, 0.048, 0.068, 0.082, 0.096, 0.107, 0.118])
B, A = np.polyfit(LOADS, LOADS / STRETCHES, 1)
CYLINDER = {"around": 12, "diameters": (0.3, 0.3), "deep": (3,)}
SMALL = {
    "around": 12,
    "diameters": (0.26, 0.24, 0.22),
    "deep": (2.5, 3),
    "tail": 3.5,
    "weight": True,
    "pull": 500.0,
}


def law_of(net):
    """A [N] and B of the net's twine, from the rows and its strength."""
    half = net.spec.twine.wet_knotted_strength / 2
    return half * (1 / 0.15 - B), B


def energies(net, stretches):
    """What stretched bars hold [J]: the integral of L A e / (1 - B e)."""
    first, rise = law_of(net)
    return -net.netting.bar_lengths * first / rise * (stretches + np.log1p(-rise * stretches) / rise)


@pytest.mark.published(source="Twisted nylon twine under dead loads, an amateur builder's readings")
def test_the_law_reads_what_was_measured():
    """Within 5 % of every reading, where one secant at the largest load is 42 % off at the least."""
    twine = replace(make().spec.twine, stiffness=A)
    told = np.array([twine.stretch(load) for load in LOADS])
    assert twine.stiffening == pytest.approx(B, rel=1e-6)
    assert np.abs(told / STRETCHES - 1).max() < 0.05


@pytest.mark.closed_form
@pytest.mark.parametrize("load", [0.01, 0.2, 0.5, 0.9])
def test_a_section_of_one_mesh_stretches_by_the_law(load):
    """Bars between two equal hoops that no row of knots draws in: 2 N bars a row, each c off along the rim.

    A row of bars on hoops of knot radius r spans half a pitch, so that of a bar of stretched length l
    sqrt(l^2 - c^2) is along the net, c = 2 r sin(pi / 2 N); its pull along the net is P / 2 N.
    """
    twine_bears = make().spec.twine.wet_knotted_strength
    net = make(around=12, diameters=(0.3, 0.3), deep=(0.5,), pull=24 * load * twine_bears / 2)
    first, rise = law_of(net)
    chord = net.plan.hoops[0].knot_circle_diameter * sin(pi / 24)
    pull, bar = net.netting.pull / 24, net.plan.bar

    def left(tension):
        long = bar * (1 + tension / (first + rise * tension))
        return tension * sqrt(long**2 - chord**2) / long - pull

    tension = brentq(left, pull, 10 * pull)
    long = bar * (1 + tension / (first + rise * tension))
    shape, along = net.settled(), sqrt(long**2 - chord**2)
    # A bar is as long as its law says to 1e-4 of it, and along the net that is more by the cosine.
    assert shape.length == pytest.approx(along, abs=1e-4 * bar * long / along)
    assert shape.bar_tensions[net.netting.bars_of(net.plan.sections[0].part)] == pytest.approx(
        tension, rel=1e-3
    )


@pytest.mark.second_route
@pytest.mark.filterwarnings("ignore:Solution may be inaccurate")
def test_a_small_net_against_the_law_in_another_solver():
    """Least energy by cvxpy and ECOS, the law's own energy, with its logarithm, instead of secants."""
    net = make(**SMALL)
    netting, (first, rise) = net.netting, law_of(net)
    twine = netting.bar_stiffening > 0
    scale, pull = netting.bar_lengths.mean(), netting.pull
    loads = netting.knot_loads.copy()
    for end in (0, 1):
        loads[:, 2] -= np.bincount(netting.bars[:, end], netting.bar_weights / 2, len(loads))
    knots, held, bending = places(netting, scale)
    strain = cvxpy.Variable(len(netting.bars))
    lengths = netting.bar_lengths / scale
    spans = knots[netting.bars[:, 0]] - knots[netting.bars[:, 1]]
    cones = cvxpy.SOC(lengths + cvxpy.multiply(lengths, strain), spans, axis=1)
    held += [strain[twine] >= 0]
    soft = -cvxpy.sum(lengths[twine] @ (strain[twine] + cvxpy.log(1 - rise * strain[twine]) / rise))
    rope = (netting.bar_stiffnesses * lengths)[~twine] / pull / 2
    energy = first / rise / pull * soft + rope @ cvxpy.square(strain[~twine])
    work = cvxpy.sum(cvxpy.multiply(loads / pull, knots))
    problem = cvxpy.Problem(cvxpy.Minimize(energy + bending - work), [cones, *held])
    problem.solve(solver=cvxpy.ECOS, abstol=1e-9, reltol=1e-9, feastol=1e-9)
    shape = net.settled()
    apart = np.linalg.norm(np.diff(knots.value * scale, axis=0), axis=1)
    own = np.linalg.norm(np.diff(shape.knot_positions, axis=0), axis=1)
    assert apart == pytest.approx(own, abs=2e-4)
    tensions = np.asarray(cones.dual_value[0]).ravel() * pull
    assert shape.bar_tensions == pytest.approx(tensions, abs=2e-3 * tensions.max())
    assert rise * tensions.max() > 0.3 * first  # so hard pulled that one secant would not do


@pytest.mark.law
def test_what_the_pull_does_is_what_the_twine_holds():
    """Work along the way, the integral of P dL by Simpson's rule, against the energy of all bars."""
    made = make(**CYLINDER)
    pulls = np.linspace(100.0, 1100.0, 11)
    lengths, held = [], []
    for pull in pulls:
        netting = made.netting.pulled(float(pull))
        shape = settle(netting, made.plan)
        tensions = np.where(netting.bar_stiffening > 0, shape.bar_tensions, 0.0)
        first, rise = law_of(made)
        lengths.append(shape.tail_end)
        held.append(energies(made, tensions / (first + rise * tensions)).sum())
    # By parts, since the lengths are what was solved: int P dL = [P L] - int L dP.
    step = pulls[1] - pulls[0]
    weights = np.array([1, 4, 2, 4, 2, 4, 2, 4, 2, 4, 1]) * step / 3
    work = pulls[-1] * lengths[-1] - pulls[0] * lengths[0] - weights @ lengths
    assert work == pytest.approx(held[-1] - held[0], rel=2e-3)


@pytest.mark.law
def test_twine_that_hardly_stretches_hardly_cares_for_the_law():
    made = stiff(make(**CYLINDER))
    soft = replace(made.netting, bar_stiffening=np.full(len(made.netting.bars), B))
    assert settle(soft, made.plan).length == pytest.approx(made.settled().length, rel=1e-5)


@pytest.mark.law
def test_netting_stretched_between_rods_pulls_by_its_law():
    """Rods near what breaks the twine: the rounds come to the law, not to a secant on the way."""
    net = make(around=12, diameters=(0.3, 0.3), deep=(3,), spacing=(0.28,))
    shape = net.settled()
    assert shape.state in {EndState.SETTLED, EndState.SETTLED_LOOSELY}
    bars = net.netting.bars_of(net.plan.sections[0].part)
    spans = np.subtract(*shape.knot_positions[net.netting.bars[bars].T])
    stretches = np.linalg.norm(spans, axis=1) / net.plan.bar - 1
    first, rise = law_of(net)
    tensions = shape.bar_tensions[bars]
    tight = tensions > 1.0
    assert stretches[tight].max() > 0.05
    assert stretches[tight] == pytest.approx(tensions[tight] / (first + rise * tensions[tight]), abs=1.1e-4)
