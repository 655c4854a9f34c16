"""Knots: a small closed lump over every place where bars meet, so that corners do not gape."""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from net3d.solids.solids import Ints, Singles

# A sheet bend is about three twine diameters across: common practice, no source. The sphere inside such an
# icosahedron, 1.19 twine diameters, also holds the end of every tube, whose corners reach 0.78 (three sides).
KNOT_ACROSS = 3.0


@lru_cache
def knot_template() -> NDArray[np.float64]:
    """Corners of the icosahedron in the unit sphere.

    They are (0, +-1, +-g) and its rotations of the axes, g the golden ratio. Returns (12, 3).
    """
    golden = (1.0 + np.sqrt(5.0)) / 2.0
    corners = np.array([(0.0, one, end) for one in (-1.0, 1.0) for end in (-golden, golden)])
    every = [np.roll(corners, turn, axis=1) for turn in range(3)]
    template: NDArray[np.float64] = np.concatenate(every) / np.hypot(1.0, golden)
    return template


@lru_cache
def knot_faces() -> Ints:
    """Faces of the icosahedron: every three corners that are neighbours of each other, turned outward.

    Returns (20, 3).
    """
    corners = knot_template()
    triples = np.array(list(combinations(range(len(corners)), 3)))
    points = corners[triples]
    edges = np.linalg.norm(points - np.roll(points, 1, axis=1), axis=2)
    faces: Ints = triples[edges.max(axis=1) < 1.1 * edges.min()]
    inward = np.linalg.det(corners[faces]) < 0
    faces[inward] = faces[inward][:, ::-1]
    return faces


def knot_vertices(centres: Singles, radii: Singles, turns: Singles) -> Singles:
    """Vertices of lumps around knots, each turned about the length of the net.

    Parameters: ``centres`` (k, 3) [m]; ``radii`` (k,) [m]; ``turns`` (k,) [rad]. Returns (k, 12, 3) [m].

    >>> one = np.ones(1, np.float32)
    >>> knot_vertices(np.zeros((1, 3), np.float32), one, one).shape
    (1, 12, 3)
    """
    x, y, z = knot_template().astype(np.float32).T
    cosines, sines = (radii * np.cos(turns))[:, None], (radii * np.sin(turns))[:, None]
    vertices = np.empty((len(centres), len(x), 3), np.float32)
    vertices[..., 0] = centres[:, :1] + radii[:, None] * x
    vertices[..., 1] = centres[:, 1:2] + cosines * y - sines * z
    vertices[..., 2] = centres[:, 2:] + sines * y + cosines * z
    return vertices
