"""The drawstring: a ring of line around the bunch in which the tail's last meshes are drawn together."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np

from net3d.netting.netting import Netting
from net3d.outline.curves import Circle, even
from net3d.outline.outline import Outline
from net3d.parts import KINDS, TAIL
from net3d.solids.rings import ring_faces, ring_vertices, rod_section
from net3d.solids.solids import Singles, Solid
from net3d.statics.shape import Shape

RING_SIDES, LINE_SIDES = 24, 8
LINE_TO_TWINE = 2.0  # a drawstring is about twice as thick as the netting's twine: common practice, no source


def bunch_radius(twines: int, diameter: float) -> float:
    """Radius of a bunch of twines side by side, each in a square of its own [m].

    ``pi r^2 = n d^2``. Source: geometry.

    >>> round(bunch_radius(88, 0.0014), 4)
    0.0074
    """
    return diameter * sqrt(twines / pi)


def drawstring_solid(netting: Netting, shape: Shape) -> Solid | None:
    """Make the drawstring where the tail narrows to its bunch; None for a net whose tail is not gathered."""
    names = [carrier.name for carrier in netting.carriers]
    if "gathered tail" not in names:
        return None
    bars = netting.bars_of(TAIL)
    last = bars[netting.bar_rows[bars] == netting.bar_rows[bars].max()]
    before = shape.knot_positions[netting.bars[last, 0]]
    point = shape.knot_positions[netting.bars[last[0], 1]]
    middle = before.mean(axis=0)
    row_radius = float(np.linalg.norm((before - middle)[:, 1:], axis=1).mean())
    twine = float(netting.bar_diameters[last[0]])
    radius = min(bunch_radius(len(last), twine), row_radius)
    place = point + (middle - point) * (radius / max(row_radius, 1e-9))
    line_radius = LINE_TO_TWINE * twine / 2
    around = Outline(Circle(2 * radius + 4 * line_radius))
    ring = ring_vertices(around, line_radius, rod_section(line_radius, LINE_SIDES), even(RING_SIDES))
    vertices: Singles = (ring + place.astype(np.float32))[None]

    def some(start: int, stop: int) -> Singles:
        return vertices[start:stop]

    look, faces = KINDS["strings"].material, ring_faces(RING_SIDES, LINE_SIDES)
    return Solid(TAIL.name, look, faces, len(ring), 1, some, smooth=True)
