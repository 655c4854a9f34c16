"""Modes of a frame: those of a ring in closed form, and a pull at four places by a frame program."""

import numpy as np
import pytest

from net3d.handbook.hoops import hoop_materials
from net3d.outline.elastic import Rod, across_stiffness, least_load, within_stiffness
from net3d.outline.frames import Frame
from net3d.outline.modes import frame_modes
from net3d.outline.outline import Outline
from tests.water.frames import frame_under

ROD = Rod(0.45, 0.0127, hoop_materials()["fibreglass"])
ROUND = Outline(Frame("square", 0.9127, 0.9127, 0.9127 / 2).curve)
WIDE = Outline(Frame("rectangle", 0.9, 0.6, 0.05).curve)


@pytest.mark.closed_form
@pytest.mark.parametrize("share", [0.0, 0.5])
def test_as_round_as_can_be_its_modes_are_the_waves_of_a_ring(share):
    """Three pairs either way, each a cosine and a sine; half of what folds a ring softens them as it does."""
    inward = share * least_load(ROD, 2)
    modes = frame_modes(ROD, ROUND).under(inward * ROD.ring_radius)
    waves = [of(ROD, n, inward) for of in (across_stiffness, within_stiffness) for n in (2, 2, 3, 3, 4, 4)]
    found = sorted(modes.stiffnesses[:6]) + sorted(modes.stiffnesses[6:])
    assert found == pytest.approx(waves, rel=0.01)
    assert [alike for _, alike in modes.kinds].count(True) == 6


@pytest.mark.closed_form
def test_as_round_as_can_be_it_folds_as_a_ring_does():
    folding = frame_modes(ROD, ROUND).folding_compression / ROD.ring_radius
    assert folding == pytest.approx(least_load(ROD, 2), rel=2e-3)


@pytest.mark.law
def test_which_modes_repeat_in_a_turn():
    """A wave of n crests looks the same after each of so many parts of a turn where these divide n."""
    modes = frame_modes(ROD, ROUND)
    for turns, crests in ((2, {2, 4}), (4, {4})):
        kept = sum(modes.repeats(number, turns) for number in range(12))
        assert kept == 4 * len(crests)


@pytest.mark.second_route
@pytest.mark.parametrize("corners", [True, False], ids=["corners", "sides"])
def test_legs_bend_a_frame_as_the_frame_program_has_it(corners):
    """Four legs pull along the net and inward, by turns, against netting that pulls back all around."""
    legs = WIDE.corners if corners else np.pi / 2 * np.arange(4)
    netting = 2 * np.pi * np.arange(48) / 48
    modes = frame_modes(ROD, WIDE, tuple(legs.tolist()))
    arcs = np.concatenate([netting, legs])
    points = WIDE.points(arcs, ROD.diameter / 2)
    forces = np.zeros((len(arcs), 3))
    forces[-4:, 0] = 6.0, 3.0, 2.0, 5.0
    forces[-4:] -= 4.0 * points[-4:] / np.linalg.norm(points[-4:], axis=1)[:, None]
    arms = np.zeros((6, len(netting), 3))  # what balances it, evenly and by its arm
    arms[:3] = np.eye(3)[:, None]
    arms[3:] = np.cross(np.eye(3)[:, None], points[:48])
    flat = arms.reshape(6, -1)
    turned = np.concatenate([forces.sum(axis=0), np.cross(points, forces).sum(axis=0)])
    forces[:48] -= (flat.T @ np.linalg.solve(flat @ flat.T, turned)).reshape(-1, 3)
    nodes, moves, _ = frame_under(ROD, WIDE, arcs, forces)
    own = [
        (shape, np.sum(modes.grown({number: 1.0}).at(arcs) * forces) / modes.stiffnesses[number])
        for number, shape in enumerate(modes.shapes)
    ]
    bent = modes.grown({number: size for number, (_, size) in enumerate(own)})
    found = bent.at(np.unique(np.round(np.concatenate([arcs, WIDE.stations(96)]) % (2 * np.pi), 9)))
    rigid = np.zeros((6, *nodes.shape))  # the program holds one node
    rigid[:3] = np.eye(3)[:, None]
    rigid[3:] = np.cross(np.eye(3)[:, None], nodes)
    ways = rigid.reshape(6, -1).T
    left = (moves - found).ravel()
    left -= ways @ np.linalg.lstsq(ways, left, rcond=None)[0]
    assert np.abs(left).max() < 0.02 * np.abs(found).max()
