"""A straight tube of netting with hoops, tail, bridle and line, as plain arrays: no solver behind it."""

from __future__ import annotations

import os
from dataclasses import fields, replace
from types import SimpleNamespace

import numpy as np
import pytest

from net3d.netting.netting import Netting
from net3d.outline.curves import Circle
from net3d.outline.outline import Outline
from net3d.outline.pose import Pose
from net3d.parts import ANCHOR_LINE, BRIDLE, TAIL, Part
from net3d.plan.plan import HoopPlan, Plan
from net3d.solids import build_solids
from net3d.statics.shape import Shape
from tests.nets import sample

TWINE_DIAMETER = 0.0018
ROPE_DIAMETER = 0.008
ROD_DIAMETER = 0.012
KNOT_RADIUS = 0.42


def record(kind, **known):
    """A record of which only what is drawn is filled in."""
    return kind(**{field.name: None for field in fields(kind)} | known)


def netting_of(parts, knot_parts, bars, bar_parts, bar_diameters):
    return record(
        Netting,
        parts=tuple(parts),
        carriers=(),
        knot_parts=np.asarray(knot_parts, dtype=np.int64),
        bars=np.asarray(bars, dtype=np.int64).reshape(-1, 2),
        bar_parts=np.asarray(bar_parts, dtype=np.int64),
        bar_diameters=np.asarray(bar_diameters, dtype=float),
    )


def shape_of(positions, hoop_positions=()):
    return record(
        Shape,
        knot_positions=np.asarray(positions, dtype=float),
        poses=tuple(Pose(float(place)) for place in hoop_positions),
    )


def plan_of(hoop_count=0):
    outside = 2 * (KNOT_RADIUS + ROD_DIAMETER)
    hoops = [
        record(
            HoopPlan,
            number=number,
            outline=Outline(Circle(outside)),
            rod_diameter=ROD_DIAMETER,
        )
        for number in range(1, hoop_count + 1)
    ]
    return record(Plan, hoops=tuple(hoops), escapes=())


def tube(around, rows):
    """Knots and bars of a straight tube, hanging ratio 1/2, with ``rows`` rows of bars."""
    pitch = 2 * np.pi * KNOT_RADIUS / around
    row, place = np.divmod(np.arange((rows + 1) * around), around)
    angles = 2 * np.pi * (place + 0.5 * (row % 2)) / around
    length = row * pitch * np.sqrt(0.75)
    knots = np.column_stack([length, -KNOT_RADIUS * np.sin(angles), KNOT_RADIUS * np.cos(angles)])
    row, place = np.divmod(np.arange(rows * around), around)
    right = (place + row % 2) % around
    below = (row + 1) * around + np.stack([(right - 1) % around, right])
    return knots, np.stack([np.tile(np.arange(rows * around), 2), below.ravel()], axis=1)


def net_of_tube(around=40, rows=24, hoops=3):
    """Plan, netting and shape: the tube in sections, a tail of three bars in one line, a bridle, a line.

    The bridle's ring and the anchor stand off the axis, so that no reader can mix up the axes unseen.
    """
    points, bars = tube(around, rows)
    per_section = rows // (hoops - 1)
    sections = [Part.section(k, k + 1) for k in range(1, hoops)]
    tail, bridle, line = range(len(sections), len(sections) + 3)
    first, end = len(points), points[-1, 0]
    rigging = [(end + far, 0.0, 0.0) for far in (0.0, 0.3, 0.6, 0.9)]
    rigging += [(end + 1.9, 0.0, -0.8), (-0.75, 0.6, 0.0)]
    legs = [(first + 5, place) for place in np.arange(3) * around // 3]
    lines = [(first + step, first + step + 1) for step in range(4)]
    row_of_knots = np.arange(first) // around
    netting = netting_of(
        [*sections, TAIL, BRIDLE, ANCHOR_LINE],
        [*np.minimum(row_of_knots // per_section, hoops - 2), tail, tail, tail, tail, line, bridle],
        [*bars, *lines[:3], *legs, *lines[3:]],
        [*row_of_knots[bars[:, 0]] // per_section, *[tail] * 3, *[bridle] * 3, line],
        [TWINE_DIAMETER] * (len(bars) + 3) + [ROPE_DIAMETER] * 4,
    )
    shape = shape_of([*points, *rigging], points[:: around * per_section, 0])
    ends = shape.knot_positions[netting.bars]
    shape = replace(shape, bar_rest_lengths=np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1))
    return SimpleNamespace(plan=plan_of(hoops), netting=netting, shape=shape)


def awkward_net():
    """Bars of no length, of a nanometre, along every axis both ways, twice over, and a part without any.

    Everything stands 15 m down the net in 1 mm twine, where single precision leaves 1/1000 mm.
    """
    far = np.array([15.0, 0.0, 0.0])
    ways = np.vstack([np.eye(3), -np.eye(3)]) * 0.03
    points = np.vstack([[np.zeros(3)], ways, [ways[0]], [ways[0] + [1e-9, 0, 0]], [2 * ways[0]]]) + far
    star = [(0, way) for way in range(1, 7)] + [(way, 0) for way in range(1, 7)]
    bars = [*star, (1, 7), (7, 8), (1, 9), (7, 9), (1, 9)]
    netting = netting_of(
        [Part.section(1, 2), TAIL], [0] * len(points), bars, [0] * len(bars), [0.001] * len(bars)
    )
    return SimpleNamespace(plan=plan_of(), netting=netting, shape=shape_of(points))


def river_net():
    """The sample net, worked out: its tail's last knots are drawn together into one point."""
    return sample("backwater-36")


def solids_for(net, sides=6):
    return build_solids(net.plan, net.netting, net.shape, sides)


def all_triangles(solids):
    """Corners of every triangle of every solid, (t, 3, 3) [m]."""
    return np.concatenate(
        [solid.vertices(0, solid.shell_count)[:, solid.faces].reshape(-1, 3, 3) for solid in solids]
    )


def need(available, what):
    """Skip a test for want of a tool, but fail it where everything is meant to be installed."""
    if not available:
        (pytest.fail if os.environ.get("CI") else pytest.skip)(f"needs {what}")
