"""What stands at wings and leader beside netting and lines: floats, leads, stakes, anchors, a second net.

Each is straight round pieces, to be drawn; none of it is solved. Of a second net hoops and a few lines are
drawn.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import pi

import numpy as np

from net3d.handbook.anchors import holdings
from net3d.netting.guides import Wall
from net3d.netting.netting import Floats, Netting
from net3d.parts import Part
from net3d.plan.guide_places import UP, Station
from net3d.plan.guides import LinePlan
from net3d.plan.plan import Plan
from net3d.statics.shape import Shape

MOST = 400  # floats or leads of a line that are drawn
STAKE = 0.03  # m thick; common practice, no source
AROUND, ALONG = 24, 8  # pieces around a hoop of a second net that is round, lines along it
SEEN = 2.0  # times the twine: thread that is laid over it
IRON = 7850.0  # kg/m^3: an anchor of which the table has no kind


@dataclass(frozen=True, eq=False)
class Thing:
    """Straight round pieces of one part."""

    part: Part
    ends: Floats  # (k, 2, 3) [m]
    diameters: Floats  # (k,) [m]


def things_at(wall: Wall, positions: Floats) -> Iterator[Thing]:
    """Floats, leads and what holds the ends of a guide that stands so.

    Parameters
    ----------
    wall : as it is tied
    positions : of its knots (n, 3) [m]
    """
    plan = wall.plan
    yield _pieces(plan.floats_part, plan.float_line, positions[wall.float_knots])
    yield _pieces(plan.leads_part, plan.lead_line, positions[wall.lead_knots])
    if not plan.spec.pair:
        for station in wall.held[1:]:
            yield from _held(wall, station)


def seams_of(plan: Plan, netting: Netting, shape: Shape) -> Iterator[Thing]:
    """The thread around every panel, laid over the netting as thick as it can be seen.

    Parameters
    ----------
    plan, netting, shape : of the net
    """
    for escape in plan.escapes:
        own = np.flatnonzero(netting.bar_seams == escape.spec.place)
        if len(own):
            thick = SEEN * netting.bar_diameters[own]
            yield Thing(escape.seam_part, shape.knot_positions[netting.bars[own]], thick)


def _pieces(part: Part, line: LinePlan, row: Floats) -> Thing:
    """Cylinders along a line, evenly from half a spacing on."""
    count = min(line.pieces, MOST)
    steps = np.linalg.norm(np.diff(row, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    middles = (np.arange(count) + 0.5) / count * along[-1]
    half = line.long / 2
    ends = np.stack([_on(row, along, middles + side * half) for side in (-1.0, 1.0)], axis=1)
    return Thing(part, ends, np.full(count, line.thick))


def _on(row: Floats, along: Floats, places: Floats) -> Floats:
    return np.column_stack([np.interp(places, along, row[:, axis]) for axis in range(3)])


def _held(wall: Wall, station: Station) -> Iterator[Thing]:
    """A stake; or a pole, the two legs from its head and foot, the line to the anchor, and that."""
    plan, (foot, *_, head) = wall.plan, station.places
    anchor = plan.spec.anchor
    pole = np.array([[foot, head]])
    if anchor is None:
        yield Thing(plan.ends_part, pole, np.array([STAKE]))
        return
    density = next((one.density for one in holdings() if one.type == anchor.type), IRON)
    thick = (4.0 * anchor.weight / density / pi) ** (1 / 3)  # as long as thick
    middle, half = (foot + head) / 2, float(head[2] - foot[2]) / 2
    far = foot + plan.anchor_reach * station.out
    joint = middle + min(half / plan.anchor_line, 1.0) * (far - middle)
    lump = np.array([[far, far + thick * UP]])
    lines = np.array([[head, joint], [foot, joint], [joint, far]])
    yield Thing(plan.ends_part, np.concatenate([pole, lump]), np.array([STAKE, thick]))
    yield Thing(plan.lines_part, lines, np.full(len(lines), plan.spec.rope))


def second_net(plan: Plan, shape: Shape, wall: Wall) -> Thing:
    """The second net of a pair, the first one's mirror image: its hoops, and lines from each to the next.

    Parameters
    ----------
    plan, shape : of the first net
    wall : the leader between the two
    """
    curves = [
        pose.points(hoop.outline, hoop.outline.stations(AROUND), hoop.rod_diameter / 2)
        for hoop, pose in zip(plan.hoops, shape.poses, strict=True)
    ]
    arcs = np.arange(ALONG) * 2 * pi / ALONG
    rows = [
        pose.points(hoop.outline, arcs, hoop.rod_diameter / 2)
        for hoop, pose in zip(plan.hoops, shape.poses, strict=True)
    ]
    if plan.tail_rows:
        rows.append(np.tile([shape.tail_end, 0.0, 0.0], (ALONG, 1)))
    rings = [np.stack([curve, np.roll(curve, -1, axis=0)], axis=1) for curve in curves]
    lines = [np.stack(pair, axis=1) for pair in pairwise(rows)]
    ends = np.concatenate([*rings, *lines])
    across = wall.held[0].places[0, 0] + wall.held[-1].places[0, 0]
    ends[..., 0] = across - ends[..., 0]
    rods = [np.full(len(ring), hoop.rod_diameter) for ring, hoop in zip(rings, plan.hoops, strict=True)]
    twine = np.full(sum(map(len, lines)), plan.twine.diameter)
    return Thing(Part("second-net"), ends, np.concatenate([*rods, twine]))
