"""A section between two saddle-shaped hoops by cvxpy and ECOS; seats and tilt are written out here."""

import cvxpy
import numpy as np
import pytest

from net3d.netting.netting import FREE
from tests.align.bowed import bowed_net, saddle
from tests.nets import straight
from tests.statics.waves import wave_moves

pytestmark = pytest.mark.second_route

HEIGHT, AROUND, RADIUS = 0.006, 12, 0.13 - 0.01  # knots sit a rod's thickness inside the outside
TURNS = (0, 2)


@pytest.fixture(scope="module")
def net():
    keys = {"around": AROUND, "diameters": (0.26, 0.26), "deep": (3,)}
    return straight(bowed_net([saddle(HEIGHT), saddle(HEIGHT, 0.7)], TURNS, **keys))


def rim(angle, hoop):
    """Place of a knot on its hoop; gaps were taken mouth side up, so a crest stands toward the mouth."""
    own = angle - TURNS[hoop] * 2 * np.pi / AROUND
    along = -HEIGHT * np.cos(2 * (own - (0.0, 0.7)[hoop]))
    return np.array([along, -RADIUS * np.sin(angle), RADIUS * np.cos(angle)])


def solve_again(netting):
    """Knot positions [m] and tensions [N]: the first hoop is pulled forward, the last stands but tilts."""
    scale, pull = netting.bar_lengths.mean(), netting.pull
    shift, tilt = cvxpy.Variable(2), cvxpy.Variable((2, 3))  # along the net; about x, y and z, by hoop
    knots = []
    for carrier, angle in zip(netting.knot_carriers, netting.knot_angles, strict=True):
        if carrier == FREE:
            knots.append(cvxpy.Variable(3))
            continue
        x, y, z = rim(angle, carrier) / scale
        about_x, about_y, about_z = (tilt[carrier, axis] for axis in range(3))
        along = x + shift[carrier] + about_y * z - about_z * y
        moved = [along, y + about_z * x - about_x * z, z - about_y * x + about_x * y]
        knots.append(cvxpy.hstack(moved))
    moves, stiffnesses = wave_moves(netting)
    bent = cvxpy.Variable((len(stiffnesses), 1))
    places = cvxpy.vstack(knots) + cvxpy.hstack([moves[:, axis] @ bent for axis in range(3)])
    bending = cvxpy.sum(cvxpy.multiply(stiffnesses[:, None] / 2, cvxpy.square(bent))) * scale / pull
    stretch = cvxpy.Variable(len(netting.bars))
    spans = places[netting.bars[:, 0]] - places[netting.bars[:, 1]]
    cones = cvxpy.SOC(netting.bar_lengths / scale + stretch, spans, axis=1)
    springs = netting.bar_stiffnesses / netting.bar_lengths * scale / pull
    energy = cvxpy.sum(cvxpy.multiply(springs / 2, cvxpy.square(stretch)))
    held = [shift[1] == 0, tilt[1] == 0]  # hoop 2 is held by the anchor
    problem = cvxpy.Problem(cvxpy.Minimize(energy + bending + shift[0]), [cones, *held])
    problem.solve(solver=cvxpy.ECOS, abstol=1e-10, reltol=1e-10, feastol=1e-10)
    assert problem.status in {cvxpy.OPTIMAL, cvxpy.OPTIMAL_INACCURATE}
    return places.value * scale, np.asarray(cones.dual_value[0]).ravel() * pull


@pytest.mark.filterwarnings("ignore:Solution may be inaccurate")
def test_tensions_and_positions_agree(net):
    shape = net.settled()
    positions, tensions = solve_again(net.netting)
    share = shape.sections[0].full_share
    assert np.abs(tensions - shape.bar_tensions).max() < 0.01 * share  # as for nets of flat hoops
    # Where knots of slack meshes lie is open: least energy fixes the way only of bars that pull.
    pulling = net.netting.bars[shape.bar_tensions > 0.05 * share]
    assert len(pulling) > 10
    ways = [places[pulling[:, 1]] - places[pulling[:, 0]] for places in (positions, shape.knot_positions)]
    assert np.linalg.norm(ways[0] - ways[1], axis=1).max() < 1e-4 * net.plan.bar


def test_the_bow_is_felt(net):
    section = net.settled().sections[0]
    assert section.tension_max > 1.5 * section.tension_mean
