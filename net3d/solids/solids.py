"""A solid: closed triangle surfaces with a name and a material, made piece by piece when asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
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

    @property
    def triangle_count(self) -> int:
        """Triangles of all shells."""
        return len(self.faces) * self.shell_count

    def chunks(self, shells: int) -> Iterator[Singles]:
        """Yield the vertices of all shells, at most ``shells`` at a time: (k, v, 3) [m]."""
        for start in range(0, self.shell_count, shells):
            yield self.vertices(start, min(start + shells, self.shell_count))
