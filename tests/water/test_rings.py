"""Hoops as rings against a general-purpose frame program and handbook formulas."""

from math import cos, pi, sin

import numpy as np
import pytest
from scipy.linalg import eigh

from net3d.handbook.hoops import hoop_materials
from net3d.water.rings import (
    Rod,
    buckling_load,
    inward_moments,
    leg_bow,
    leg_inward,
    leg_moments,
    leg_stress,
)
from tests.water.frames import hold, ring_frame

PIECES = 144
PULL = 60.0
RODS = [
    Rod(0.45, 0.012, hoop_materials()["fibreglass"]),
    Rod(0.3, 0.008, hoop_materials()["steel"]),
    Rod(0.45, 0.032, hoop_materials()["PE pipe"]),
    Rod(0.5, 0.02, hoop_materials()["ash"]),
]
LEGS = (2, 3, 4, 6)


def held_frame(rod, legs):
    """A ring on some legs against an even pull along z, solved. By symmetry leg 1 does not roll along x."""
    frame = ring_frame(rod, PIECES)
    for number in range(PIECES):
        frame.add_node_load(f"n{number}", "FZ", PULL / PIECES)
    for leg in range(legs):
        hold(frame, f"n{leg * PIECES // legs}", "z")
    hold(frame, "n0", "xyzXZ")
    frame.analyze_linear()
    return frame


@pytest.mark.parametrize("legs", LEGS)
@pytest.mark.parametrize("rod", RODS, ids=lambda rod: rod.material.name)
def test_bow_between_legs_as_a_frame_of_beams(rod, legs):
    frame = held_frame(rod, legs)
    middle = frame.nodes[f"n{PIECES // legs // 2}"].DZ["Combo 1"]
    assert leg_bow(PULL, rod, legs) == pytest.approx(middle, rel=0.01)


@pytest.mark.parametrize("legs", LEGS)
def test_bending_and_twisting_at_a_leg_and_between_as_a_frame_of_beams(legs):
    rod = RODS[0]
    frame = held_frame(rod, legs)
    to_middle = [frame.members[f"b{number}"] for number in range(PIECES // legs // 2)]
    bending = max(abs(beam.moment("My", end)) for beam in to_middle for end in (0.0, beam.L()))
    twisting = max(abs(beam.torque(beam.L() / 2)) for beam in to_middle)
    moments, twists = leg_moments(PULL, rod.ring_radius, legs, np.linspace(0.0, pi / legs, 2000))
    assert np.abs(moments).max() == pytest.approx(bending, rel=0.01)
    assert np.abs(twists).max() == pytest.approx(twisting, rel=0.01)


def test_two_legs_by_hand():
    # Cut the ring across the legs' diameter, n = 2: each half bears P / 4 up at either end of the cut and P
    # / 2 spread along the arc with its centre 2 R / pi off the cut. Its ends twist nowhere by symmetry, so
    # the two bending moments there carry P / 2 x 2 R / pi = 2 M: M = P R / (2 pi).
    bending, twisting = leg_moments(1.0, 1.0, 2, np.array([0.0]))
    assert bending[0] == pytest.approx(1 / (2 * pi))
    assert twisting[0] == pytest.approx(0.0, abs=1e-15)


def test_two_opposite_loads_as_castigliano_and_roark_have_it():
    # Thin ring, two opposite loads W along a diameter: largest moment W R / pi = 0.3183 W R under the load,
    # 0.1817 W R at right angles to it; the diameter changes by (pi / 4 - 2 / pi) W R^3 / (E I) = 0.149 W
    # R^3 / (E I) (Castigliano 1879, figure seen in the verification manual of an unrelated program; Roark's
    # Formulas for Stress and Strain, 7th ed., table 9.2, case 1, from memory).
    moments = inward_moments(1.0, 1.0, 2, np.array([0.0, pi / 2]))
    assert np.abs(moments) == pytest.approx([0.3183, 0.1817], abs=5e-5)
    # Virtual work: a unit pair of loads has the same moments, so the change is the integral of M^2 over E I.
    angles = (np.arange(4000) + 0.5) / 4000 * pi
    change = 2 * np.mean(inward_moments(1.0, 1.0, 2, angles) ** 2) * pi
    assert change == pytest.approx(pi / 4 - 2 / pi, rel=1e-6)


@pytest.mark.parametrize("legs", LEGS)
def test_inward_legs_as_a_frame_of_beams(legs):
    rod = RODS[1]
    frame = ring_frame(rod, PIECES)
    for leg in range(legs):
        node, angle = f"n{leg * PIECES // legs}", 2 * pi * leg / legs
        frame.add_node_load(node, "FX", -cos(angle))
        frame.add_node_load(node, "FY", -sin(angle))
    for number in range(PIECES):
        hold(frame, f"n{number}", "zXY")
    hold(frame, "n0", "xyzXYZ")  # loads balance and are alike on both sides of the x axis
    hold(frame, f"n{PIECES // 2}", "yzXYZ")
    frame.analyze_linear()
    beam = frame.members["b0"]
    assert abs(inward_moments(1.0, rod.ring_radius, legs, np.array([0.0]))[0]) == pytest.approx(
        abs(beam.moment("Mz", 0.0)), rel=0.01
    )


def test_buckling_as_the_eigenvalue_of_a_frame_of_beams():
    # Loads that keep their direction: k^2 E I / R^3, the least 4 at k = 2. Loads that keep square to the
    # ring: k^2 - 1, the least 3. Timoshenko and Gere, Theory of Elastic Stability, 1961, article 7.3, from
    # memory. The frame has no follower loads, so it must give a third more than the rule net3d goes by.
    rod, pieces = RODS[0], 72
    frame = ring_frame(rod, pieces)
    share = 2 * pi * rod.ring_radius / pieces
    for number in range(pieces):
        angle = 2 * pi * number / pieces
        frame.add_node_load(f"n{number}", "FX", -share * cos(angle))
        frame.add_node_load(f"n{number}", "FY", -share * sin(angle))
        hold(frame, f"n{number}", "zXY")
    for number in (0, pieces // 2):
        hold(frame, f"n{number}", "yzXYZ")
    for number in (pieces // 4, 3 * pieces // 4):
        hold(frame, f"n{number}", "xzXYZ")
    frame.analyze_linear()
    free = free_directions(frame)
    stiffness = np.asarray(frame.Ke(sparse=False))[np.ix_(free, free)]
    geometric = np.asarray(frame.Kg(sparse=False, first_step=False))[np.ix_(free, free)]
    least = 1.0 / eigh(-geometric, stiffness, eigvals_only=True).max()
    assert buckling_load(rod) * 4 / 3 == pytest.approx(least, rel=0.01)


def free_directions(frame):
    """Numbers of the directions in which nodes are free to move or turn."""
    names = ("DX", "DY", "DZ", "RX", "RY", "RZ")
    return [
        6 * node.ID + place
        for node in frame.nodes.values()
        for place, name in enumerate(names)
        if not getattr(node, f"support_{name}")
    ]


def test_more_legs_bow_a_hoop_less_and_stress_it_less():
    for rod in RODS:
        bows = [leg_bow(PULL, rod, legs) for legs in LEGS]
        inward = [leg_inward(PULL, rod.ring_radius, legs, 0.8) for legs in LEGS]
        stresses = [leg_stress(PULL, force, rod, legs) for force, legs in zip(inward, LEGS, strict=True)]
        assert bows == sorted(bows, reverse=True)
        assert stresses == sorted(stresses, reverse=True)


def test_a_tube_is_a_rod_less_its_bore():
    tube = RODS[2]
    bore = 0.032 * (1 - 2 / 11)
    assert tube.inertia == pytest.approx(pi / 64 * (0.032**4 - bore**4), rel=1e-3)
    assert tube.area == pytest.approx(pi / 4 * (0.032**2 - bore**2), rel=1e-3)


def test_a_straight_rod_sprung_round():
    # Strain d / (2 R) at the outside, 12 / 900, times 31 GPa.
    assert RODS[0].sprung_stress == pytest.approx(31e9 * 12 / 900)
