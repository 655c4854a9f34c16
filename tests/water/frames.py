"""Rings and frames of many straight beams in a general-purpose frame program (PyPI PyNiteFEA)."""

from math import cos, pi, sin

import numpy as np
from Pynite import FEModel3D


def ring_frame(rod, pieces):
    """A ring in the x-y plane; node n0 at angle 0, the others counter-clockwise."""
    frame = FEModel3D()
    material = rod.material
    frame.add_material("rod", material.modulus, material.shear_modulus, 0.3, 1.0)
    frame.add_section("round", rod.area, rod.inertia, rod.inertia, 2 * rod.inertia)
    for number in range(pieces):
        angle = 2 * pi * number / pieces
        frame.add_node(f"n{number}", rod.ring_radius * cos(angle), rod.ring_radius * sin(angle), 0.0)
    for number in range(pieces):
        frame.add_member(f"b{number}", f"n{number}", f"n{(number + 1) % pieces}", "rod", "round")
    return frame


def hold(frame, node, directions):
    """Hold a node in some of x, y, z and turns X, Y, Z."""
    frame.def_support(node, *(direction in directions for direction in "xyzXYZ"))


def frame_under(rod, outline, arcs, forces):
    """Nodes, how they move (k, 3) [m], and the largest moment of a frame under forces that balance [N m].

    It is held at one node, whose support bears nothing.
    """
    frame, material = FEModel3D(), rod.material
    frame.add_material("rod", material.modulus, material.shear_modulus, 0.3, 1.0)
    frame.add_section("round", rod.area, rod.inertia, rod.inertia, 2 * rod.inertia)
    every = np.unique(np.round(np.concatenate([arcs, outline.stations(96)]) % (2 * np.pi), 9))
    points = outline.points(every, rod.diameter / 2)
    for number, point in enumerate(points.tolist()):
        frame.add_node(f"n{number}", *point)
    for number in range(len(points)):
        frame.add_member(f"b{number}", f"n{number}", f"n{(number + 1) % len(points)}", "rod", "round")
    for arc, force in zip(arcs % (2 * np.pi), forces.tolist(), strict=True):
        node = f"n{np.abs(every - arc).argmin()}"
        for way, size in zip(("FX", "FY", "FZ"), force, strict=True):
            frame.add_node_load(node, way, size)
    hold(frame, "n0", "xyzXYZ")
    frame.analyze_linear()
    moves = [
        [getattr(frame.nodes[f"n{n}"], way)["Combo 1"] for way in ("DX", "DY", "DZ")]
        for n in range(len(points))
    ]
    moments = [
        np.hypot(beam.moment("My", at * beam.L()), beam.moment("Mz", at * beam.L()))
        for beam in frame.members.values()
        for at in (0.0, 1.0)
    ]
    return points, np.array(moves), max(moments)
