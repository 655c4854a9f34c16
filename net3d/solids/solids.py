"""A solid: closed triangle surfaces with a name and a material, made piece by piece when asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Singles = NDArray[np.float32]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Material:
    """How a surface looks, in the terms of glTF's metallic-roughness model."""

    name: str
    colour: tuple[float, float, float]  # red, green, blue of the screen (sRGB), 0 to 1
    metallic: float
    roughness: float

    @property
    def linear_colour(self) -> tuple[float, ...]:
        """The colour in proportion to light, as 3D files want it: the sRGB curve of IEC 61966-2-1 undone.

        >>> Material("grey", (0.5, 0.04, 1.0), 0.0, 1.0).linear_colour[2]
        1.0
        """
        return tuple(
            shade / 12.92 if shade <= 0.04045 else ((shade + 0.055) / 1.055) ** 2.4 for shade in self.colour
        )


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
