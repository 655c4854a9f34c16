"""The solids of every part of a net: hoops, then the netting and lines in the order they are tied."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from net3d.errors import NetError
from net3d.netting.netting import Floats, Netting
from net3d.outline.pose import Pose
from net3d.parts import TAIL, Made, Part
from net3d.plan.plan import HoopPlan, Plan
from net3d.solids.drawstring import drawstring_solid
from net3d.solids.knots import KNOT_ACROSS, knot_faces, knot_template, knot_vertices
from net3d.solids.polygons import GOLDEN_ANGLE
from net3d.solids.rings import RING_SIDES, ROD_SIDES, ring_faces, ring_vertices, rod_section
from net3d.solids.solids import Ints, Singles, Solid
from net3d.solids.tubes import tube_faces, tube_vertices
from net3d.statics.shape import Shape


def build_solids(plan: Plan, netting: Netting, shape: Shape, sides: int = 6) -> tuple[Solid, ...]:
    """Make the closed solids of a net as it hangs.

    A bar is drawn straight between its knots, slack or not. One that is shorter than its twine is thick lies
    inside the knots at its ends and is left out. A part of which nothing is drawn has no solid.

    Raises ``NetError`` for fewer than 3 sides of the polygon that stands for a twine.
    """
    if sides < 3:
        raise NetError(f"A twine drawn with {sides} sides encloses nothing; give 3 or more.")
    hoops = [
        ring_solid(hoop, pose, hoop.rod_diameter) for hoop, pose in zip(plan.hoops, shape.poses, strict=True)
    ]
    tied = [solid for number in range(len(netting.parts)) for solid in _part(netting, shape, number, sides)]
    return (*hoops, *tied)


def ring_solid(hoop: HoopPlan, pose: Pose, rod: float) -> Solid:
    """Make a hoop as it stands, its rod so thick [m]: a ring whose outside is what the tape measures."""
    arcs = pose.stations(hoop.outline, RING_SIDES)
    ring = ring_vertices(hoop.outline, hoop.rod_diameter / 2.0, rod_section(rod / 2.0), arcs)
    ring += pose.moves(ring.astype(float), np.repeat(arcs, ROD_SIDES)).astype(np.float32)
    vertices = ring[None]

    def some(start: int, stop: int) -> Singles:
        return vertices[start:stop]

    part, faces = Part.hoop(hoop.number), ring_faces(len(ring) // ROD_SIDES)
    return Solid(part.name, part.kind.material, faces, len(ring), 1, some, smooth=True)


def bar_solid(netting: Netting, positions: Floats, bars: Ints, sides: int) -> Solid:
    """Make tubes along some bars of one part, each turned a little on from the one before.

    Two bars in one line would otherwise meet in the same rim, and a program that joins facets by their
    corners could not tell which tube a facet belongs to.

    Parameters
    ----------
    netting : whose bars they are
    positions : of all knots (n, 3) [m]
    bars : numbers of those to make (k,)
    sides : of the polygon that stands for a twine
    """
    part = netting.parts[netting.bar_parts[bars[0]]]

    def some(start: int, stop: int) -> Singles:
        chosen = bars[start:stop]
        ends = positions.take(netting.bars[chosen], axis=0).astype(np.float32)
        radii = (netting.bar_diameters[chosen] / 2.0).astype(np.float32)
        return tube_vertices(ends, radii, _turns(chosen), sides)

    faces, look = tube_faces(sides), part.kind.material
    return Solid(part.name, look, faces, 2 * sides, len(bars), some, smooth=part.kind.rope)


def knot_solid(netting: Netting, positions: Floats, knots: Ints, knot_diameters: Floats) -> Solid:
    """Make lumps over some knots of one part, each turned a little on from the one before.

    Parameters
    ----------
    netting : whose knots they are
    positions : of all knots (n, 3) [m]
    knots : numbers of those to make (k,)
    knot_diameters : of the twine they are tied in (k,) [m]
    """
    part = netting.parts[netting.knot_parts[knots[0]]]

    def some(start: int, stop: int) -> Singles:
        chosen = knots[start:stop]
        radii = (KNOT_ACROSS / 2.0 * knot_diameters[start:stop]).astype(np.float32)
        return knot_vertices(positions[chosen].astype(np.float32), radii, _turns(chosen))

    return Solid(part.name, part.kind.material, knot_faces(), len(knot_template()), len(knots), some)


def _part(netting: Netting, shape: Shape, number: int, sides: int) -> Iterator[Solid]:
    """Yield the bars of a part, then its knots, as far as there are any, and the tail's drawstring."""
    positions = shape.knot_positions
    bars = np.flatnonzero(netting.bar_parts == number)
    knot_diameters = np.zeros(len(positions))  # of the thickest twine of this part at each knot
    for ends in netting.bars[bars].T:
        np.maximum.at(knot_diameters, ends, netting.bar_diameters[bars])
    spans = np.subtract(*positions.take(netting.bars[bars].T, axis=0))
    drawn = bars[np.einsum("ij,ij->i", spans, spans) > netting.bar_diameters[bars] ** 2]
    if len(drawn):
        yield bar_solid(netting, positions, drawn, sides)
    knots = np.flatnonzero((netting.knot_parts == number) & (knot_diameters > 0))
    if len(knots) and netting.parts[number].kind.made is not Made.ROD:
        yield knot_solid(netting, positions, knots, knot_diameters[knots])
    drawstring = drawstring_solid(netting, shape) if netting.parts[number] == TAIL else None
    if drawstring is not None:
        yield drawstring


def _turns(numbers: Ints) -> Singles:
    """Give an angle to each bar or knot that no other of the net shares [rad]."""
    turns: Singles = (numbers * GOLDEN_ANGLE % (2.0 * np.pi)).astype(np.float32)
    return turns
