"""Hoops: a torus of enough facets to look round."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from net3d.solids.polygons import round_polygon
from net3d.solids.solids import Ints, Singles

RING_SIDES = 96  # around the hoop
ROD_SIDES = 16  # around its rod


@lru_cache
def ring_faces(ring_sides: int = RING_SIDES, rod_sides: int = ROD_SIDES) -> Ints:
    """Faces of a torus whose vertices run around the rod first, then around the ring. (2 x both, 3).

    >>> len(ring_faces(96, 16))
    3072
    """
    ring, rod = np.divmod(np.arange(ring_sides * rod_sides), rod_sides)
    here, on = ring * rod_sides, (ring + 1) % ring_sides * rod_sides
    after = (rod + 1) % rod_sides
    return np.concatenate(
        [
            np.column_stack([here + rod, on + rod, on + after]),
            np.column_stack([here + rod, on + after, here + after]),
        ]
    )


def ring_vertices(
    ring_radius: float, rod_radius: float, ring_sides: int = RING_SIDES, rod_sides: int = ROD_SIDES
) -> Singles:
    """Vertices of a torus around the x axis at x = 0, from the top clockwise as seen from the mouth.

    (x, y, z) = (r sin v, -(R + r cos v) sin u, (R + r cos v) cos u), the rod's circle in v replaced by the
    polygon of the same area.

    Parameters: ``ring_radius`` R of the rod's centre line [m]; ``rod_radius`` r [m]; how many sides either
    way. Returns (ring_sides x rod_sides, 3) [m].

    >>> ring_vertices(0.45, 0.006).shape
    (1536, 3)
    """
    angles = (2.0 * np.pi * np.arange(ring_sides) / ring_sides)[:, None]
    outward, along = rod_radius * round_polygon(rod_sides).T
    reach = ring_radius + outward
    vertices = np.empty((ring_sides, rod_sides, 3), np.float32)
    vertices[..., 0] = along
    vertices[..., 1] = -reach * np.sin(angles)
    vertices[..., 2] = reach * np.cos(angles)
    return vertices.reshape(-1, 3)
