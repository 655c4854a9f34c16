"""Hoops as rings against a general-purpose frame program and handbook formulas."""

from math import cos, hypot, pi, sin, sqrt

import numpy as np
import pytest
from scipy.linalg import eigh

from net3d.handbook.hoops import hoop_materials
from net3d.outline.elastic import Rod
from net3d.water.rings import (
    buckling_load,
    inward_moment,
    leg_bow,
    leg_inward,
    leg_moment,
    leg_stress,
)
from tests.water.frames import hold, ring_frame

pytestmark = pytest.mark.second_route

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


def stresses_around(out_of_plane, in_plane, rod):
    """At the ends and the middle of every beam, what the frame's moments and torque bring together [Pa].

    Half the differences of the principal stresses squared and summed (von Mises), from the eigenvalues of the
    stress at the rod's surface, where bending pulls along it and the torque shears it.
    """
    edge, found = rod.diameter / 2, []
    for number in range(PIECES):
        across, level = (frame.members[f"b{number}"] for frame in (out_of_plane, in_plane))
        for place in (0.0, across.L() / 2, across.L()):
            along = hypot(across.moment("My", place), level.moment("Mz", place)) * edge / rod.inertia
            shear = across.torque(place) * edge / (2 * rod.inertia)
            most, least = np.linalg.eigvalsh([[along, shear], [shear, 0.0]])
            found.append(sqrt((most - least) ** 2 + most**2 + least**2) / sqrt(2))
    return np.array(found)


@pytest.mark.parametrize("legs", LEGS)
@pytest.mark.parametrize("rod", RODS[:2], ids=lambda rod: rod.material.name)
def test_stress_at_the_legs_is_the_largest_of_a_frame_of_beams(rod, legs):
    inward = leg_inward(PULL, rod.ring_radius, legs, 2 * rod.ring_radius)
    around = stresses_around(held_frame(rod, legs), squeezed_frame(rod, legs, inward), rod)
    assert leg_stress(PULL, inward, rod, legs) == pytest.approx(around.max(), rel=0.02)


@pytest.mark.closed_form
def test_a_leg_pulls_inward_with_its_slant():
    # 3, 4, 5: legs of 0.5 m from a ring of 0.3 m meet 0.4 m ahead of it. Each of three bears a third of 60 N
    # along the net, and 3 / 4 of that inward.
    assert leg_inward(60.0, 0.3, 3, 0.5) == pytest.approx(15.0)


@pytest.mark.closed_form
def test_two_legs_by_hand():
    # Cut the ring across the legs' diameter, n = 2: each half bears P / 4 up at either end of the cut and P
    # / 2 spread along the arc with its centre 2 R / pi off the cut. Its ends twist nowhere by symmetry, so
    # the two bending moments there carry P / 2 x 2 R / pi = 2 M: M = P R / (2 pi).
    assert leg_moment(1.0, 1.0, 2) == pytest.approx(1 / (2 * pi))


ROARK = (
    "Roark's Formulas for Stress and Strain, 7th ed., table 9.2, circular rings, case 2, as a page prints it"
)
CASTIGLIANO = (
    "Castigliano 1879, the change of a ring's diameter, in the verification manual of an unrelated program"
)
PIPE = "Roark's Formulas for Stress and Strain, 7th ed., table 15.1, case 8, as an engineer's page quotes it"


@pytest.mark.published(source=ROARK)
def test_moment_under_two_opposite_loads():
    # W R / pi [(pi - t)(1 - c) - s (k2 - c)] at t = pi / 2, k2 = 1: (pi / 2 - 1) / pi W R half-way. W / 2
    # acts over R from there to a load, so that under the load it is W R / 2 less that, the other way.
    half_way = (pi / 2 - 1) / pi
    assert inward_moment(1.0, 1.0, 2) == pytest.approx(1 / 2 - half_way)


@pytest.mark.published(source=PIPE)
def test_a_ring_squeezed_evenly_buckles():
    # 3 E I / R^3 on each length of it, for loads that stay square to it; E I of a solid rod by hand.
    rod = RODS[1]
    assert buckling_load(rod) == pytest.approx(3 * 200e9 * pi * 0.008**4 / 64 / 0.3**3, rel=1e-3)


def squeezed_frame(rod, legs, force):
    """A ring under equal forces toward its middle at some legs, solved in its plane."""
    frame = ring_frame(rod, PIECES)
    for leg in range(legs):
        node, angle = f"n{leg * PIECES // legs}", 2 * pi * leg / legs
        frame.add_node_load(node, "FX", -force * cos(angle))
        frame.add_node_load(node, "FY", -force * sin(angle))
    for number in range(PIECES):
        hold(frame, f"n{number}", "zXY")
    hold(frame, "n0", "xyzXYZ")  # loads balance and are alike on both sides of the x axis
    hold(frame, f"n{PIECES // 2}", "yzXYZ")
    frame.analyze_linear()
    return frame


@pytest.mark.parametrize("legs", LEGS)
def test_inward_legs_as_a_frame_of_beams(legs):
    rod = RODS[1]
    beam = squeezed_frame(rod, legs, 1.0).members["b0"]
    assert inward_moment(1.0, rod.ring_radius, legs) == pytest.approx(abs(beam.moment("Mz", 0.0)), rel=0.01)


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


@pytest.mark.closed_form
def test_a_tube_is_a_rod_less_its_bore():
    tube = RODS[2]
    bore = 0.032 * (1 - 2 / 11)
    assert tube.inertia == pytest.approx(pi / 64 * (0.032**4 - bore**4), rel=1e-3)
    assert tube.area == pytest.approx(pi / 4 * (0.032**2 - bore**2), rel=1e-3)


@pytest.mark.closed_form
def test_a_straight_rod_sprung_round():
    # Strain d / (2 R) at the outside, 12 / 900, times 31 GPa.
    assert RODS[0].sprung_stress == pytest.approx(31e9 * 12 / 900)
