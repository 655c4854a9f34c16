"""Knots: a small closed lump over every place where bars meet, so that corners do not gape."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from net3d.handbook.knots import ACROSS
from net3d.solids.solids import Ints, Singles

# The sphere inside a lump so large, 1.11 twine diameters, also holds the end of every tube, whose corners
# reach 0.78 (three sides).
KNOT_ACROSS = ACROSS
RING = 4  # corners in each of the two rings of a lump


@lru_cache
def knot_template() -> NDArray[np.float64]:
    """Corners of a round lump of few facets in the unit sphere: two tips, between them two twisted squares.

    The squares stand ``sqrt 2 - 1`` from the middle, so that all facets are equally far from it, 0.739.
    Returns (10, 3) [-]: the upper tip, the upper square, the lower square, the lower tip.
    """
    height = np.sqrt(2.0) - 1.0
    angles = np.pi / RING * np.concatenate([np.arange(0, 2 * RING, 2), np.arange(1, 2 * RING, 2)])
    squares = np.empty((2 * RING, 3))
    squares[:, :2] = np.sqrt(1.0 - height**2) * np.column_stack([np.cos(angles), np.sin(angles)])
    squares[:, 2] = np.repeat([height, -height], RING)
    return np.vstack([(0.0, 0.0, 1.0), squares, (0.0, 0.0, -1.0)])


@lru_cache
def knot_faces() -> Ints:
    """Faces of the lump, counter-clockwise from outside: a fan at either tip, triangles up and down between.

    Returns (16, 3).

    >>> len(knot_faces())
    16
    """
    here = np.arange(RING)
    after = np.roll(here, -1)
    upper, lower, tip = 1, 1 + RING, 1 + 2 * RING
    none = np.zeros_like(here)
    return np.concatenate(
        [
            np.column_stack([none, upper + here, upper + after]),
            np.column_stack([upper + here, lower + here, upper + after]),
            np.column_stack([upper + after, lower + here, lower + after]),
            np.column_stack([none + tip, lower + after, lower + here]),
        ]
    )


def knot_vertices(centres: Singles, radii: Singles, turns: Singles) -> Singles:
    """Vertices of lumps around knots (k, 10, 3) [m].

    Parameters
    ----------
    centres : of the lumps (k, 3) [m]
    radii : of the lumps (k,) [m]
    turns : by how much each is turned about the length of the net (k,) [rad]

    >>> one = np.ones(1, np.float32)
    >>> knot_vertices(np.zeros((1, 3), np.float32), one, one).shape
    (1, 10, 3)
    """
    vectors = np.column_stack([centres, radii, radii * np.cos(turns), radii * np.sin(turns)])
    vertices: Singles = (vectors @ _vertex_shares()).reshape(len(centres), -1, 3)
    return vertices


@lru_cache
def _vertex_shares() -> Singles:
    """How much of its centre, radius, and radius across and up makes up each vertex of a lump (6, 30)."""
    x, y, z = knot_template().T
    none = np.zeros_like(x)
    centres = np.tile(np.eye(3), len(x))
    turned = [np.column_stack(shares).ravel() for shares in ((x, none, none), (none, y, z), (none, -z, y))]
    return np.vstack([centres, *turned]).astype(np.float32)
