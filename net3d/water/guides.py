"""Wings and leaders in a current: what it pulls, how far they are pressed down, what mouth and stakes bear.

Each stands by itself: the mouth holds its edge and does not give way, and no netting up the stream slows the
water. Floats, leads and stakes are taken to pull nothing themselves.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from net3d.handbook.drag import drag_models
from net3d.handbook.water import water_constant
from net3d.netting.guides import MOUTH, Wall, tie_wall
from net3d.netting.netting import FREE, Floats
from net3d.netting.sorting import distinct
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.statics.floor import Lying, rest_on_bottom
from net3d.statics.settle import GOOD
from net3d.water.cylinders import Cylinders, cylinder_forces
from net3d.water.holding import AnchorLine
from net3d.water.models import covered_by
from net3d.water.plane import PLANE, angle_shares, plane_forces, seen_part
from net3d.water.river import stream_of
from net3d.water.water import Stream

MATCHED = 0.03  # of the drag, that a shape was found with, by which it may differ from that which it has
ROUNDS = 16
STEPS = (1.0, 0.5, 0.5, 0.5, 0.5, 0.25)  # of the way to the drag of the last shape, a round each
MIDDLE = (0.2, 0.8)  # of the way from mouth to stake, between which its height counts


@dataclass(frozen=True, eq=False)
class StandingWall:
    """A guide on one side as it stands, in still water or in a current. SI units."""

    wall: Wall
    current: float  # as the spec means it, 0 in still water
    lying: Lying
    drag: Floats  # (3,) of all of it
    mismatch: float
    handed: float = 0.0  # what its lines hand from one net of a pair to the other together

    @property
    def still(self) -> bool:
        """Whether it came to rest, and its drag is that of its shape."""
        return self.lying.state in GOOD and self.mismatch <= MATCHED

    @property
    def height(self) -> float:
        """Of its float line over the bottom, where that is lowest along its middle [m]."""
        row = self.wall.float_knots
        own = row[round(MIDDLE[0] * len(row)) : round(MIDDLE[1] * len(row)) + 1]
        return float((self.lying.positions[own, 2] - self.wall.bottom).min())

    @property
    def gap(self) -> float:
        """By how much its lead line lifts off the bottom [m]."""
        return float((self.lying.positions[self.wall.lead_knots, 2] - self.wall.bottom).max())

    @property
    def sag(self) -> float:
        """How far its lines belly out of the way from stake to stake, seen from above [m]."""
        row = self.wall.float_knots
        line, held = self.lying.positions[row][:, :2], self.wall.netting.knot_carriers[row] != FREE
        return max(_bellied(line[start : end + 1]) for start, end in pairwise(np.flatnonzero(held).tolist()))

    @property
    def mouth_pull(self) -> Floats:
        """Of it on the mouth (3,) [N]."""
        return self._pull_on(MOUTH)

    @property
    def stake_pull(self) -> Floats:
        """Of it on the stake that bears most, or on a second net's mouth (3,) [N]."""
        pulls = [self._pull_on(number) for number in range(1, len(self.wall.held))]
        return max(pulls, key=lambda pull: float(np.linalg.norm(pull)))

    @property
    def line_tension(self) -> float:
        """Of the tighter of its lines where it is tightest, or half of what a pair hands on [N]."""
        return max(float(self.lying.tensions[self.wall.netting.bar_parts == 1].max()), self.handed / 2)

    @property
    def twine_tension(self) -> float:
        """Of the tightest bar of its netting [N]."""
        return float(self.lying.tensions[self.wall.netting.bar_parts == 0].max()) / self.wall.twines

    def _pull_on(self, carrier: int) -> Floats:
        return np.asarray(self.lying.pulls[self.wall.netting.knot_carriers == carrier].sum(axis=0))


def line_to_anchor(spec: NetSpec, one: StandingWall) -> AnchorLine | None:
    """The line from the middle of the pole that bears most to its anchor; None where no anchor holds it."""
    if one.wall.plan.spec.anchor is None:
        return None
    places = one.wall.held[-1].places
    half = float(places[-1, 2] - places[0, 2]) / 2
    rope = replace(spec.rigging.cordage, diameter=one.wall.plan.spec.rope)
    pull = float(np.linalg.norm(one.stake_pull[:2]))
    return AnchorLine(pull, one.wall.plan.anchor_line, half, rope)


def _bellied(line: Floats) -> float:
    """How far points (k, 2) stand off the straight way from the first to the last [m]."""
    way = line[-1] - line[0]
    off = (line - line[0]) @ np.array([-way[1], way[0]]) / np.linalg.norm(way)
    return float(np.abs(off).max())


def standing_guides(
    spec: NetSpec,
    plan: Plan,
    current: float,
    weaker: tuple[StandingWall, ...] = (),
    along: float = 0.0,
) -> tuple[StandingWall, ...]:
    """Every wing and the leader as it stands, a side each.

    Parameters
    ----------
    current : as the spec means it, 0 for still water [m/s]
    weaker : the same in a weaker one, to begin from
    along : drag of a net along itself, which the lines of a pair hand on beside its pull [N]
    """
    handed = (spec.rigging.pull if current else plan.pull) + along
    stream = stream_of(spec, plan, current) if current else None
    before = {(one.wall.plan.part, one.wall.side): one.lying.positions for one in weaker}
    found: list[StandingWall] = []
    for guide in plan.guides:
        rope = replace(spec.rigging.cordage, diameter=guide.spec.rope)
        for side in guide.sides:
            wall = tie_wall(guide, side, plan.hoops[0].outline, rope)
            if side == "right" and len(guide.sides) > 1 and _mirrors(plan, stream):
                found.append(_mirrored(found[-1], wall))
            else:
                stood = stand(wall, current, stream, before.get((guide.part, side)))
                found.append(replace(stood, handed=handed) if guide.spec.pair else stood)
    return tuple(found)


def _mirrors(plan: Plan, stream: Stream | None) -> bool:
    return plan.hoops[0].outline.mirrored and (stream is None or stream.angle == 0.0)


def _mirrored(left: StandingWall, wall: Wall) -> StandingWall:
    over = np.array([1.0, -1.0, 1.0])
    lying = replace(left.lying, positions=left.lying.positions * over, pulls=left.lying.pulls * over)
    return replace(left, wall=wall, lying=lying, drag=left.drag * over)


def stand(wall: Wall, current: float, stream: Stream | None, start: Floats | None = None) -> StandingWall:
    """A wall at rest in a stream, its drag worked out anew until it is that of its shape.

    Parameters
    ----------
    wall : as it is tied
    current : as the spec means it [m/s]
    stream : at the net; None for still water
    start : knots to begin from (n, 3) [m]
    """
    if stream is None:
        return StandingWall(
            wall, current, rest_on_bottom(wall.netting, wall.loads, wall.bottom), np.zeros(3), 0.0
        )
    drag = wall_drag(wall, wall.start if start is None else start, stream)
    for rounds in range(ROUNDS):
        loads = wall.loads + drag
        netting = replace(wall.netting, pull=max(wall.netting.pull, float(np.abs(drag).sum(axis=0).max())))
        lying = rest_on_bottom(netting, loads, wall.bottom)
        if lying.state not in GOOD:
            return StandingWall(wall, current, lying, drag.sum(axis=0), np.inf)
        own = wall_drag(wall, lying.positions, stream)
        mismatch = float(np.abs(own - drag).sum() / np.abs(own).sum())
        if mismatch <= MATCHED:
            break
        drag = drag + STEPS[min(rounds, len(STEPS) - 1)] * (own - drag)
    return StandingWall(wall, current, lying, own.sum(axis=0), mismatch)


def wall_drag(wall: Wall, positions: Floats, stream: Stream) -> Floats:
    """Drag and lift on every knot (n, 3) [N]: netting as plane netting, lines as cylinders.

    Parameters
    ----------
    wall : as it is tied
    positions : of its knots (n, 3) [m]
    stream : at the net
    """
    netting = wall.netting
    spans = positions[netting.bars[:, 1]] - positions[netting.bars[:, 0]]
    forces = np.zeros(spans.shape)
    netted = netting.bar_parts == 0
    forces[netted] = _netting_forces(wall, positions, spans[netted], stream)
    lines = Cylinders(spans[~netted], netting.bar_diameters[~netted], np.full((~netted).sum(), stream.speed))
    forces[~netted] = cylinder_forces(lines, stream.direction, water_constant("tangential_share"))
    loads = np.zeros(positions.shape)
    for end in range(2):
        for axis in range(3):
            loads[:, axis] += np.bincount(netting.bars[:, end], forces[:, axis] / 2, len(loads))
    return loads


def _netting_forces(wall: Wall, positions: Floats, spans: Floats, stream: Stream) -> Floats:
    """Of every bar as it is solved, of all the twines that it stands for (k, 3) [N]."""
    spec, count = wall.plan.spec, len(spans)
    axes = spans / np.maximum(np.linalg.norm(spans, axis=1), np.finfo(float).tiny)[:, None]
    normals = _normals(wall, positions, axes)
    sines = np.minimum(np.abs(normals @ stream.direction), 1.0)
    shares = angle_shares(sines, seen_part(axes, normals, stream.direction), drag_models()[PLANE])
    twine = 4 * spec.long * spec.deep * (spec.stretched / 2) / count  # of each bar as it is solved [m]
    pieces = Cylinders(axes * twine, np.full(count, spec.twine.diameter), np.full(count, stream.speed))
    hung = (spec.hanging + spec.lead_hanging) / 2
    clean = np.array([min(1.0, 2 * spec.twine.diameter / (spec.stretched * hung * np.sqrt(1 - hung**2)))])
    width = water_constant("knotted_over_knotless") * float(covered_by(clean, stream)[0] / clean[0])
    return width * plane_forces(pieces, normals, stream.direction, shares)


def _normals(wall: Wall, positions: Floats, axes: Floats) -> Floats:
    """Of the netting at every bar, square to it and to its row (k, 3) [-]."""
    along = np.zeros(positions.shape)
    for row in distinct(wall.netting.knot_rows):
        own = wall.netting.knot_rows == row
        along[own] = np.gradient(positions[own], axis=0)
    bars = wall.netting.bars[wall.netting.bar_parts == 0]
    normals = np.cross(along[bars].mean(axis=1), axes)
    return np.asarray(normals / np.maximum(np.linalg.norm(normals, axis=1), np.finfo(float).tiny)[:, None])
