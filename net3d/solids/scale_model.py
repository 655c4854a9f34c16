"""A scale model of a net, for 3D printing: twine and rods thick enough to print, and a foot to stand on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from net3d.chain import Design
from net3d.errors import NetError
from net3d.netting.netting import Ints
from net3d.outline.waves import FLAT
from net3d.parts import Part
from net3d.solids.knots import KNOT_ACROSS
from net3d.solids.parts import bar_solid, knot_solid, ring_solid
from net3d.solids.polygons import round_polygon
from net3d.solids.rings import RING_SIDES, ring_faces, ring_vertices
from net3d.solids.solids import Singles, Solid, bounds_of

SIDES = 8  # of a printed twine
ROD_TO_TWINE = 1.5  # a printed rod is so much thicker than the twine at least, to be seen as one
KNOT_TO_TWINE = 1.3  # a printed knot only joins its bars: at scale there is no room for more
FOOT_WIDTH = 0.008  # of the foot, from its inner edge to its outer [m of the model]
FOOT_DEPTH = 0.0012  # below the middle of the mouth hoop's rod at least [m of the model]
SHORTEST = 1e-6  # a bar shorter than this lies inside its knots [m]


def scale_model(design: Design, scale: float, thickness: float) -> tuple[Solid, ...]:
    """Solids of a model that stands on its mouth hoop, tail up: so every hoop and bar prints without props.

    Everything touches something that stands on the foot, a flat ring under the mouth hoop. Bridle and anchor
    line are left out.

    Returns solids [m of the model], z up from 0 below the foot. Raises ``NetError`` for a scale or a
    thickness that is not above 0.

    Parameters
    ----------
    design : the net
    scale : s of 1:s [-]
    thickness : of the thinnest twine [m of the model]
    """
    if not (scale > 0 and thickness > 0):
        raise NetError("A model needs a scale and a thickness above 0.")
    least = thickness * scale / _flats(SIDES)
    foot = _foot(design, scale)
    solids = (*_hoops(design, ROD_TO_TWINE * least), foot, *_twine(design, least))
    lowest = float(bounds_of([foot])[0, 0])
    return tuple(_stood(solid, scale, lowest) for solid in solids)


def _flats(sides: int) -> float:
    """Width across the flats of the polygon that stands for a round twine 1 thick.

    >>> round(_flats(8), 4)
    0.9737
    """
    return float(np.linalg.norm(round_polygon(sides)[0]) * np.cos(np.pi / sides))


def _hoops(design: Design, least: float) -> Iterator[Solid]:
    for hoop, pose in zip(design.plan.hoops, design.shape.poses, strict=True):
        yield ring_solid(hoop, pose, max(hoop.rod_diameter, least))


def _twine(design: Design, least: float) -> Iterator[Solid]:
    """The bars of every part that is printed, then one knot over every place where any of them end."""
    netting, positions = design.netting, design.shape.knot_positions
    thick = replace(netting, bar_diameters=np.maximum(netting.bar_diameters, least))
    spans = np.linalg.norm(np.subtract(*positions[netting.bars.T]), axis=1)
    across = np.zeros(len(positions))
    for number, part in enumerate(netting.parts):
        bars: Ints = np.flatnonzero((netting.bar_parts == number) & (spans > SHORTEST))
        if part.kind.rigging or not len(bars):
            continue
        for ends in netting.bars[bars].T:
            np.maximum.at(across, ends, thick.bar_diameters[bars])
        yield bar_solid(thick, positions, bars, SIDES)
    knots: Ints = np.flatnonzero(across)
    lumps = knot_solid(netting, positions, knots, across[knots] * KNOT_TO_TWINE / KNOT_ACROSS)
    yield replace(lumps, part="knots")


def _foot(design: Design, scale: float) -> Solid:
    """A flat ring in which the lower half of the mouth hoop's rod stands."""
    hoop = design.plan.hoops[0]
    (rod,) = ring_solid(hoop, design.shape.poses[0], hoop.rod_diameter).vertices(0, 1)
    top, bottom = float(rod[:, 0].mean()), float(rod[:, 0].min()) - FOOT_DEPTH * scale
    top = max(top, float(rod[:, 0].max()) - hoop.rod_diameter / 2)
    half, outline = FOOT_WIDTH * scale / 2, replace(hoop.outline, bow=FLAT)
    corners = np.array([(half, bottom), (half, top), (-half, top), (-half, bottom)])
    shells = ring_vertices(outline, hoop.rod_diameter / 2, corners, outline.stations(RING_SIDES))[None]
    faces = ring_faces(shells.shape[1] // len(corners), len(corners))

    def some(start: int, stop: int) -> Singles:
        return shells[start:stop]

    return Solid("foot", Part.hoop(hoop.number).kind.material, faces, shells.shape[1], 1, some)


def _stood(solid: Solid, scale: float, lowest: float) -> Solid:
    """The same solid at scale, the net's length upright from ``lowest`` [m]."""

    def some(start: int, stop: int) -> Singles:
        upright = solid.vertices(start, stop)[..., [1, 2, 0]] - np.array([0, 0, lowest], np.float32)
        return np.ascontiguousarray(upright / np.float32(scale))

    return replace(solid, vertices=some)
