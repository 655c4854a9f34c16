"""Rings of many straight beams in a general-purpose frame program (PyPI PyNiteFEA)."""

from math import cos, pi, sin

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
