"""Elastic hoops against a general-purpose frame program: rings of many straight beams (PyPI PyNiteFEA)."""

from math import cos, pi, sin

import numpy as np
import pytest

from net3d.handbook.hoops import hoop_materials
from net3d.outline.elastic import Rod, across_stiffness, least_load, within_stiffness
from net3d.outline.response import bent
from tests.water.frames import hold, ring_frame

PIECES = 144
RODS = [
    Rod(0.45, 0.012, hoop_materials()["fibreglass"]),
    Rod(0.3, 0.008, hoop_materials()["steel"]),
    Rod(0.45, 0.032, hoop_materials()["PE pipe"]),
]


def moved(frame, rod):
    """How far every node has moved along the ring's axis, outward and around (PIECES, 3) [m]."""
    angles = 2 * np.pi * np.arange(PIECES) / PIECES
    nodes = [frame.nodes[f"n{number}"] for number in range(PIECES)]
    x, y, z = (np.array([getattr(node, way)["Combo 1"] for node in nodes]) for way in ("DX", "DY", "DZ"))
    outward, around = x * np.cos(angles) + y * np.sin(angles), y * np.cos(angles) - x * np.sin(angles)
    return np.stack([z, outward, around], axis=1)


def loaded_frame(rod, forces):
    """The ring under forces (PIECES, 3) that balance; held at one node, whose support bears nothing."""
    frame = ring_frame(rod, PIECES)
    for number, (along, outward, around) in enumerate(forces):
        angle = 2 * pi * number / PIECES
        frame.add_node_load(f"n{number}", "FZ", along)
        frame.add_node_load(f"n{number}", "FX", outward * cos(angle) - around * sin(angle))
        frame.add_node_load(f"n{number}", "FY", outward * sin(angle) + around * cos(angle))
    hold(frame, "n0", "xyzXYZ")
    frame.analyze_linear()
    return frame


def wave_of(values, number):
    """The cosine part of a wave in values around a ring."""
    angles = 2 * np.pi * np.arange(PIECES) / PIECES
    return 2 * np.mean(values * np.cos(number * angles))


@pytest.mark.parametrize("number", [2, 3, 4])
@pytest.mark.parametrize("rod", RODS, ids=lambda rod: rod.material.name)
def test_what_holds_a_wave_as_a_frame_of_beams(rod, number):
    angles = 2 * np.pi * np.arange(PIECES) / PIECES
    forces = np.zeros((PIECES, 3))
    forces[:, 0] = np.cos(number * angles)
    grown = wave_of(moved(loaded_frame(rod, forces), rod)[:, 0], number)
    assert across_stiffness(rod, number) == pytest.approx(PIECES / 2 / grown, rel=0.02)
    forces = np.zeros((PIECES, 3))
    forces[:, 1] = np.cos(number * angles)
    grown = wave_of(moved(loaded_frame(rod, forces), rod)[:, 1], number)
    assert within_stiffness(rod, number) == pytest.approx(PIECES / 2 / grown, rel=0.02)


@pytest.mark.parametrize("legs", [2, 3, 4])
@pytest.mark.parametrize("rod", RODS, ids=lambda rod: rod.material.name)
def test_bow_and_oval_between_legs_as_a_frame_of_beams(rod, legs):
    angles = 2 * np.pi * np.arange(PIECES) / PIECES
    forces = np.zeros((PIECES, 3))
    forces[:, 0] = 60.0 / PIECES
    forces[:: PIECES // legs, 0] -= 60.0 / legs
    forces[:: PIECES // legs, 1] = -5.0
    frame = moved(loaded_frame(rod, forces), rod)
    found = bent(rod, angles, forces)
    rigid = np.stack([np.ones(PIECES), np.cos(angles), np.sin(angles)], axis=1)
    along, outward = (
        frame[:, way] - rigid @ np.linalg.lstsq(rigid, frame[:, way], rcond=None)[0] for way in (0, 1)
    )
    assert found.bow == pytest.approx(np.ptp(along), rel=0.02)
    assert found.oval == pytest.approx(np.ptp(outward), rel=0.02)


def test_a_ring_under_pressure_folds_at_its_critical_load():
    # Uniform inward load of fixed direction: 4 E I / R^3 in the plane, which the eigenvalue of a frame has
    # too (tests/water/test_rings.py); out of the plane 9 E I / ((4 + E I / G J) R^3) (Timoshenko and Gere,
    # Theory of Elastic Stability, articles 7.3 and 7.5, from memory).
    rod = RODS[0]
    bend, twist = rod.bending_stiffness, rod.twisting_stiffness
    critical = 9 * bend / ((4 + bend / twist) * rod.ring_radius**3)
    assert least_load(rod, 2) == pytest.approx(critical)
    assert across_stiffness(rod, 2, critical) == pytest.approx(0.0, abs=1e-9 * across_stiffness(rod, 2))
    assert within_stiffness(rod, 2, 4 * bend / rod.ring_radius**3) == pytest.approx(0.0, abs=1e-6)
