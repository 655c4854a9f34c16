"""A net and its wings and leader in one, to be drawn: each was solved by itself."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from net3d.netting.netting import FREE, NONE, Bools, Floats, Netting
from net3d.plan.plan import Plan
from net3d.statics.settle import GOOD
from net3d.statics.shape import Shape
from net3d.water.guides import StandingWall
from net3d.water.things import Thing, seams_of, second_net, things_at

NOTHING = {  # of pieces that nothing is tied to, where it is not 0
    "bar_fits": NONE,
    "bar_runs": NONE,
    "bar_seams": NONE,
    "knot_carriers": FREE,
    "bar_stiffnesses": 1.0,
    "bar_strengths": 1.0,
}


def with_guides(
    plan: Plan, netting: Netting, shape: Shape, walls: tuple[StandingWall, ...]
) -> tuple[Netting, Shape]:
    """The net with what stands at its mouth behind its own knots and bars, whose numbers stay.

    Parameters
    ----------
    plan, netting, shape : of the net
    walls : wings and leader as they stand, a side each
    """
    things: list[Thing] = []
    for one in walls:
        netting, shape = _joined(netting, one.wall.netting), _standing(shape, one)
        things += things_at(one.wall, shape.knot_positions[-len(one.wall.start) :])
    paired = [one.wall for one in walls if one.wall.plan.spec.pair]
    seams = list(seams_of(plan, netting, shape))
    for thing in (*things, *(second_net(plan, shape, wall) for wall in paired), *seams):
        netting, shape = _with(netting, shape, thing)
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
    arrays: dict[str, Any] = {
        name: np.concatenate([getattr(netting, name), own.get(name, getattr(wall, name))])
        for name in _arrays(netting)
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


def _with(netting: Netting, shape: Shape, thing: Thing) -> tuple[Netting, Shape]:
    """The net and straight pieces that nothing is tied to, which pull nothing."""
    parts = tuple(dict.fromkeys((*netting.parts, thing.part)))
    count, knots = len(thing.ends), len(netting.knot_carriers)
    lengths = np.linalg.norm(thing.ends[:, 1] - thing.ends[:, 0], axis=1)
    guide = [number for number, part in enumerate(parts) if part.kind.guide and part.kind.netting]
    own = {
        "knot_parts": np.full(
            2 * count, [*guide, parts.index(thing.part)][0]
        ),  # whose knots have no lump where only such a piece ends
        "bars": knots + np.arange(2 * count).reshape(-1, 2),
        "bar_lengths": lengths,
        "bar_diameters": thing.diameters,
        "bar_parts": np.full(count, parts.index(thing.part)),
        "knot_rings": np.full(2 * count, netting.knot_rings.max() + 1),
    }
    arrays: dict[str, Any] = {}
    for name in _arrays(netting):
        before = getattr(netting, name)
        rows = 2 * count if name.startswith("knot_") else count
        blank = np.full((rows, *before.shape[1:]), NOTHING.get(name, 0), before.dtype)
        arrays[name] = np.concatenate([before, own.get(name, blank)])
    return replace(netting, parts=parts, **arrays), replace(
        shape,
        knot_positions=np.concatenate([shape.knot_positions, thing.ends.reshape(-1, 3)]),
        bar_tensions=np.concatenate([shape.bar_tensions, np.zeros(count)]),
        bar_rest_lengths=np.concatenate([shape.bar_rest_lengths, lengths]),
        knot_pushes=np.concatenate([shape.knot_pushes, np.zeros((2 * count, 3))]),
    )


def _arrays(netting: Netting) -> list[str]:
    """Names of the arrays of knots and of bars."""
    return [name for name in vars(netting) if name == "bars" or name.startswith(("knot_", "bar_"))]


def nearby(netting: Netting, places: Floats, most: float) -> Bools:
    """Which bars are drawn where all would make the net small (m,): of guides, what is near the mouth.

    Of their netting and what is on it all of a bar, of lines either end.

    Parameters
    ----------
    netting : the whole
    places : of its knots (n, 3) [m]
    most : from the mouth [m]
    """
    guides, lines = (netting.bars_that(trait) for trait in (lambda kind: kind.guide, lambda kind: kind.rope))
    off = np.linalg.norm(places[netting.bars], axis=2)
    return np.asarray(~guides | (np.where(lines, off.min(axis=1), off.max(axis=1)) < most))
