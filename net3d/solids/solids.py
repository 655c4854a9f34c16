"""A solid: closed triangle surfaces with a name and a material, made piece by piece when asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.parts.looks import Material

Singles = NDArray[np.float32]
Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Solid:
    """Closed shells that are all built alike: the same faces over other vertices.

    A part may have several solids, as netting has its bars and its knots. The vertices of shells
    ``start`` to ``stop`` come from ``vertices(start, stop)`` as (k, v, 3) [m], so that a writer can take a
    few at a time and its memory does not grow with the net.
    """

    part: str
    material: Material
    faces: Ints  # (f, 3) vertex numbers within one shell, counter-clockwise seen from outside
    vertex_count: int  # v, of one shell
    shell_count: int
    vertices: Callable[[int, int], Singles]
    smooth: bool = False  # shaded as round, not facet by facet
    whole: float = 0.0  # length of a line of which only a piece is drawn [m]

    @property
    def triangle_count(self) -> int:
        """Triangles of all shells."""
        return len(self.faces) * self.shell_count

    def chunks(self, shells: int) -> Iterator[Singles]:
        """Yield the vertices of all shells, at most ``shells`` at a time: (k, v, 3) [m]."""
        for start in range(0, self.shell_count, shells):
            yield self.vertices(start, min(start + shells, self.shell_count))


def bounds_of(solids: Sequence[Solid]) -> Floats:
    """Least and greatest coordinates of some solids (2, 3) [m]."""
    corners = [chunk.reshape(-1, 3) for solid in solids for chunk in solid.chunks(4096)]
    least = np.min([chunk.min(axis=0) for chunk in corners], axis=0)
    return np.stack([least, np.max([chunk.max(axis=0) for chunk in corners], axis=0)]).astype(float)


def smooth_normals(vertices: Singles, faces: Ints) -> Singles:
    """Unit normals of a round surface at its vertices: of the facets that meet there, weighed by their areas.

    Parameters
    ----------
    vertices : of some shells (k, v, 3) [m]
    faces : of each of them (f, 3)

    Returns
    -------
    normals (k, v, 3) [-]
    """
    places = vertices.transpose(2, 0, 1).astype(float)  # coordinates kept apart: three times faster
    first, second, third = (places.take(corners, axis=2) for corners in faces.T)
    u, w = second - first, third - first
    areas = u[[1, 2, 0]] * w[[2, 0, 1]] - u[[2, 0, 1]] * w[[1, 2, 0]]
    corners = faces.ravel().astype(np.uint16)
    order = np.argsort(corners, kind="stable")  # corners of facets by the vertices they lie at
    firsts = np.flatnonzero(np.diff(corners[order], prepend=1))
    total = np.add.reduceat(areas.take(order // 3, axis=2), firsts, axis=2)
    total /= np.sqrt((total * total).sum(axis=0))
    return np.ascontiguousarray(total.transpose(1, 2, 0), np.float32)
