"""Hoops as curves: the middle line of the rod, bowed, oval and leaning as it is."""

from __future__ import annotations

from net3d.chain import Design
from net3d.netting.netting import Floats
from net3d.solids.parts import hoop_places, ring_solid
from net3d.solids.rings import RING_SIDES, ROD_SIDES


def hoop_curves(design: Design) -> list[Floats]:
    """Points along the middle of every hoop's rod, from the reference mark clockwise, (k, 3) [m]."""
    places = hoop_places(design.netting, design.shape)
    curves = []
    for hoop, place in zip(design.plan.hoops, places, strict=True):
        (surface,) = ring_solid(hoop, place).vertices(0, 1)
        curves.append(surface.reshape(RING_SIDES, ROD_SIDES, 3).mean(axis=1).astype(float))
    return curves
