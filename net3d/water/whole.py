"""A net and its wings and leader in one, to be drawn: each was solved by itself."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from net3d.netting.netting import FREE, Bools, Floats, Netting
from net3d.statics.settle import GOOD
from net3d.statics.shape import Shape
from net3d.water.guides import StandingWall


def with_guides(netting: Netting, shape: Shape, walls: tuple[StandingWall, ...]) -> tuple[Netting, Shape]:
    """The net with what stands at its mouth behind its own knots and bars, whose numbers stay."""
    for one in walls:
        netting, shape = _joined(netting, one.wall.netting), _standing(shape, one)
    alike = {one.wall.side for one in walls} != {"left"} and {one.wall.side for one in walls} != {"right"}
    symmetry = replace(shape.symmetry, turns=1, mirrored=shape.symmetry.mirrored and alike)
    return netting, replace(shape, symmetry=symmetry) if walls else shape


def _joined(netting: Netting, wall: Netting) -> Netting:
    """Arrays behind arrays; held knots of the wall ride on nothing that the net has."""
    parts = tuple(dict.fromkeys((*netting.parts, *wall.parts)))
    numbers = np.array([parts.index(part) for part in wall.parts])
    own = {
        "bars": wall.bars + len(netting.knot_carriers),
        "knot_carriers": np.full_like(wall.knot_carriers, FREE),
        "knot_parts": numbers[wall.knot_parts],
        "knot_rings": wall.knot_rings + netting.knot_rings.max() + 1,
        "bar_parts": numbers[wall.bar_parts],
    }
    names = [name for name in vars(netting) if name == "bars" or name.startswith(("knot_", "bar_"))]
    arrays: dict[str, Any] = {
        name: np.concatenate([getattr(netting, name), own.get(name, getattr(wall, name))]) for name in names
    }
    return replace(netting, parts=parts, **arrays)


def _standing(shape: Shape, one: StandingWall) -> Shape:
    wall, lying = one.wall, one.lying
    places = lying.positions if lying.state in GOOD else wall.start
    tensions = lying.tensions / np.where(wall.netting.bar_parts == 0, wall.twines, 1.0)
    return replace(
        shape,
        knot_positions=np.concatenate([shape.knot_positions, places]),
        bar_tensions=np.concatenate([shape.bar_tensions, tensions]),
        bar_rest_lengths=np.concatenate([shape.bar_rest_lengths, wall.netting.bar_lengths]),
        knot_pushes=np.concatenate([shape.knot_pushes, np.zeros_like(places)]),
    )


def nearby(netting: Netting, places: Floats, most: float) -> Bools:
    """Which bars are drawn where all would make the net small (m,): of guides, what is near the mouth.

    Parameters
    ----------
    netting : the whole
    places : of its knots (n, 3) [m]
    most : from the mouth [m]
    """
    guides = netting.bars_that(lambda kind: kind.guide)
    return np.asarray(~guides | (np.linalg.norm(places[netting.bars], axis=2).max(axis=1) < most))
