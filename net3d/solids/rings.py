"""Hoops: a torus of enough facets to look round."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from net3d.outline.outline import Outline
from net3d.solids.polygons import round_polygon
from net3d.solids.solids import Floats, Ints, Singles

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


def rod_section(radius: float, sides: int = ROD_SIDES) -> Floats:
    """Corners of the polygon that stands for a round rod, as large as it: outward and along (sides, 2) [m].

    >>> rod_section(0.006).shape
    (16, 2)
    """
    return radius * round_polygon(sides)


def ring_vertices(outline: Outline, inside: float, section: Floats, arcs: Floats) -> Singles:
    """Vertices of a rod bent along an outline, around the rod first, then clockwise as seen from the mouth.

    Parameters
    ----------
    inside : where the section's middle runs, so far inside the outline [m]
    section : corners of the rod's section (k, 2), square to the outline and along the net [m]
    arcs : of the places along it (k,) [rad]

    Returns
    -------
    vertices (places x corners, 3) [m] around the hoop's own middle

    Examples
    --------
    >>> from net3d.outline.curves import Circle, even
    >>> ring_vertices(Outline(Circle(0.912)), 0.006, rod_section(0.006), even(96)).shape
    (1536, 3)
    """
    across, along = section.T
    vertices = outline.points(arcs, inside)[:, None] + across[:, None] * outline.normals(arcs)[:, None]
    vertices[..., 0] += along
    return np.asarray(vertices.reshape(-1, 3), np.float32)
