"""Hoops as curves, as they stand: the middle line of the rod, and its outside."""

from __future__ import annotations

from net3d.chain import Design
from net3d.netting.netting import Floats

POINTS = 96  # around a round hoop


def hoop_curves(design: Design, points: int = POINTS) -> list[Floats]:
    """Points along the middle of every hoop's rod, clockwise (k, 3) [m]; so many on a round hoop."""
    return [
        pose.points(hoop.outline, pose.stations(hoop.outline, points), hoop.rod_diameter / 2)
        for hoop, pose in zip(design.plan.hoops, design.shape.poses, strict=True)
    ]


def hoop_edges(design: Design) -> list[Floats]:
    """Points along the outside of every hoop, clockwise, (k, 3) [m]."""
    return [
        pose.points(hoop.outline, pose.stations(hoop.outline, POINTS))
        for hoop, pose in zip(design.plan.hoops, design.shape.poses, strict=True)
    ]
