"""Frames in bending against a general-purpose frame program (PyPI PyNiteFEA) and the ring's own series."""

import numpy as np
import pytest

from net3d.handbook.hoops import hoop_materials
from net3d.outline.beams import bent_frame
from net3d.outline.curves import Circle
from net3d.outline.elastic import Rod
from net3d.outline.frames import Frame
from net3d.outline.outline import Outline
from net3d.outline.response import bent
from tests.water.frames import frame_under

STEEL = Rod(0.3, 0.01, hoop_materials()["steel"])
PIECES = 96
WIDE = Outline(Frame("rectangle", 0.9, 0.6, 0.05).curve)
FRAMES = [WIDE, Outline(Frame("d", 0.8, 0.7, 0.1).curve)]


@pytest.mark.second_route
def test_as_a_circle_it_is_the_ring():
    """A third of what an even pull bears at each of three legs, and four pulls outward and inward in turn."""
    rod = Rod(0.45, 0.012, hoop_materials()["fibreglass"])
    angles = 2 * np.pi * np.arange(PIECES) / PIECES
    across, within = np.zeros((2, PIECES, 3))
    across[:, 0] = 60.0 / PIECES
    across[:: PIECES // 3, 0] -= 20.0
    round_hoop, out = Outline(Circle(0.912)), np.column_stack([0 * angles, -np.sin(angles), np.cos(angles)])
    signs = np.zeros(PIECES)
    signs[:: PIECES // 4] = 5.0, -5.0, 5.0, -5.0
    within = signs[:, None] * out
    ring = bent(rod, angles, np.column_stack([0 * signs, signs, 0 * signs]))
    assert bent_frame(rod, round_hoop, angles, across).bow == pytest.approx(
        bent(rod, angles, across).bow, rel=5e-3
    )
    found = bent_frame(rod, round_hoop, angles, within)
    assert found.stress == pytest.approx(ring.stress, rel=0.02)
    assert 2 * found.oval == pytest.approx(ring.oval, rel=5e-3)


@pytest.mark.second_route
@pytest.mark.parametrize("outline", FRAMES, ids=["rectangle", "D"])
def test_bow_and_stress_of_a_frame_as_a_frame_program_has_them(outline):
    """Netting that pulls back evenly all around against legs at the middles of four sides."""
    arcs = np.round(2 * np.pi * np.arange(24) / 24, 9)
    points, forces = outline.points(arcs, STEEL.diameter / 2), np.zeros((24, 3))
    forces[:, 0] = 1.0
    legs = [0, 6, 12, 18]
    # Legs bear what balances: force along, and its moments about both axes; the least that does.
    arms = np.vstack([np.ones(4), points[legs, 1], points[legs, 2]])
    wanted = -np.array([24.0, points[:, 1].sum(), points[:, 2].sum()])
    forces[legs, 0] += np.linalg.lstsq(arms, wanted, rcond=None)[0]
    found = bent_frame(STEEL, outline, arcs, forces)
    nodes, ways, moment = frame_under(STEEL, outline, arcs, forces)
    plane = np.column_stack([np.ones(len(nodes)), nodes[:, 1:]])
    sides = np.linalg.norm(np.roll(nodes, -1, axis=0) - nodes, axis=1)
    shares = (sides + np.roll(sides, 1))[:, None]  # of the rod, which a best plane goes by
    left = ways[:, 0] - plane @ np.linalg.solve(
        plane.T @ (shares * plane), plane.T @ (shares[:, 0] * ways[:, 0])
    )
    assert found.bow == pytest.approx(np.ptp(left), rel=0.02)
    assert found.stress == pytest.approx(moment * STEEL.diameter / 2 / STEEL.inertia, rel=0.03)


@pytest.mark.closed_form
def test_a_square_drawn_in_at_its_sides_middles():
    """Four inward forces F at the middles of the sides a of a sharp square frame: M = F a / 8 there.

    By symmetry each half side is built in at the corner, which does not turn, and carries F / 2: a beam
    built in at both ends under F has F a / 8 at its middle and at its ends.
    """
    frame = Outline(Frame("square", 0.6, 0.6, STEEL.diameter / 2 + 1e-4).curve)
    arcs = np.pi / 2 * np.arange(4)
    inward = -10.0 * frame.normals(arcs)
    side = 0.6 - STEEL.diameter
    bending = 10.0 * side / 8 * STEEL.diameter / 2 / STEEL.inertia
    pressed = 5.0 / STEEL.area  # half of a force in the sides that it stands on
    assert bent_frame(STEEL, frame, arcs, inward).stress == pytest.approx(bending + pressed, rel=0.01)


@pytest.mark.law
@pytest.mark.parametrize("short", [1e-16, -1e-16, -1e-13])
def test_a_knot_a_hair_short_of_the_top_is_at_the_top(short):
    arcs = np.array([0.0, 2.0, 4.0])
    forces = np.array([[4.0, 0, 0], [-3.0, 0, 0], [-1.0, 0, 0]])
    there = bent_frame(STEEL, WIDE, arcs, forces)
    near = bent_frame(STEEL, WIDE, np.array([short, 2.0, 4.0]), forces)
    assert (near.bow, near.stress) == pytest.approx((there.bow, there.stress), rel=1e-6)
