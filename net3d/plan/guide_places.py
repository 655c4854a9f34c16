"""Where a wing or leader is held: along the mouth, at stakes or poles, at the mouth of a second net."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from net3d.outline.outline import Outline
from net3d.plan.guides import GuidePlan

Floats = NDArray[np.float64]
HALF = 181  # points of half a mouth hoop
HALF_FLAT = 1e-3  # of its height
STRAIGHT = 1e-6  # so little of a bend is none
LOWER = tuple(0.95**times for times in range(20))  # of its height, tried in turn
UP = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True, eq=False)
class Station:
    """Where both lines and the netting between them are held."""

    mesh: int  # from the mouth, along the lines
    places: Floats  # (k, 3) from the foot up [m]
    out: Floats  # (3,) away from the netting along the bottom, of length 1; 0 at the mouth [-]


def stations(guide: GuidePlan, side: str, mouth: Outline, count: int) -> tuple[Station, ...]:
    """Everywhere it is held, the mouth first: a stake or pole at every bend and at its far end.

    Parameters
    ----------
    guide : its plan
    side : of the mouth
    mouth : outline of its hoop
    count : places from its foot up
    """
    edge = near_edge(mouth, side, guide.height, count)
    found = [Station(0, edge, np.zeros(3))]
    meshes = [0, *(bend.after for bend in guide.spec.bends), guide.spec.long]
    angles = [guide.spec.angle, *(bend.angle for bend in guide.spec.bends)]
    ways = [toward(side, angle) for angle in angles]
    high = edge[-1, 2] - edge[0, 2] if guide.spec.pair else stake_height(guide, edge)
    if guide.spec.bends:
        high = _within_reach(guide, edge, ways[0], high)
    for number, (start, end) in enumerate(pairwise(meshes)):
        foot = _foot(guide, (found[-1].places, high), ways[number], (end - start) / guide.spec.long)
        places = foot + np.linspace(0.0, high, count)[:, None] * UP
        found.append(Station(end, places, _out(side, ways[number : number + 2])))
    return tuple(found)


def _out(side: str, ways: list[Floats]) -> Floats:
    """Away from the netting where it comes along one way and goes on along the next, if any (3,) [-]."""
    out = ways[0] - ways[1] if len(ways) > 1 else ways[0]
    if np.linalg.norm(out) < STRAIGHT:  # to the side that is away from the middle
        out = np.array([ways[0][1], -ways[0][0], 0.0]) * (-1.0 if side == "right" else 1.0)
    return np.asarray(out / np.linalg.norm(out))


def toward(side: str, angle: float) -> Floats:
    """A direction on a side of the mouth (3,), so many degrees from straight ahead, of length 1 [-]."""
    out = {"left": 1.0, "right": -1.0, "middle": 0.0}[side]
    return np.array([-cos(radians(angle)), out * sin(radians(angle)), 0.0])


def _foot(guide: GuidePlan, start: tuple[Floats, float], way: Floats, share: float) -> Floats:
    """The foot of the next stake (3,) [m]: as far out as both lines reach, short by their slack.

    The stake stands upright. From a line's end a it is ``|p + t d - a| = L (1 - slack)`` away, p the middle
    of the edge before it and d the way out. Source: geometry.

    Parameters
    ----------
    guide : its plan
    start : the edge before it (k, 3), from the foot up, and how high the stake is [m]
    way : d (3,) [-]
    share : of the lines' length that lies between [-]
    """
    edge, high = start
    middle, ways = edge.mean(axis=0) * (1.0, 1.0, 0.0), []
    for line, end, height in (
        (guide.lead_line, edge[0], edge[0, 2]),
        (guide.float_line, edge[-1], edge[0, 2] + high),
    ):
        off = middle + height * UP - end
        reach, along = share * line.length * (1.0 - guide.spec.slack), float(off @ way)
        ways.append(-along + sqrt(max(along**2 - float(off @ off) + reach**2, 0.0)))
    return np.asarray(middle + min(ways) * way + edge[0, 2] * UP)


def _within_reach(guide: GuidePlan, edge: Floats, way: Floats, high: float) -> float:
    """How high the first stake is for the netting before it to reach from every knot to every other [m].

    A knot r rows and c meshes off is no farther than ``m max(r, c)``, along bars drawn straight.
    Source: geometry.

    Parameters
    ----------
    guide, edge, way : its plan, where its near edge is tied (k, 3) [m], and whither it runs (3,) [-]
    high : of the stake, were there netting enough [m]
    """
    rows = len(edge) - 1
    mesh = guide.spec.deep * guide.spec.stretched / rows
    share = guide.spec.bends[0].after / guide.spec.long
    columns = round(share * round(guide.spec.long * rows / guide.spec.deep))
    apart = np.abs(np.subtract.outer(np.arange(rows + 1), np.arange(rows + 1)))
    reach = mesh * np.maximum(apart, columns)
    for lower in LOWER:
        foot = _foot(guide, (edge, lower * high), way, share)
        stake = foot + np.linspace(0.0, lower * high, rows + 1)[:, None] * UP
        if (np.linalg.norm(stake[:, None] - edge, axis=2) <= reach).all():
            return lower * high
    return LOWER[-1] * high


def stake_height(guide: GuidePlan, edge: Floats) -> float:
    """How high stakes hold the float line [m]: as it hangs, or as far up as half of it to the first reaches.

    Parameters
    ----------
    guide : its plan
    edge : where its near edge is tied (k, 3), from the foot up [m]
    """
    first = guide.spec.bends[0].after if guide.spec.bends else guide.spec.long
    line = guide.float_line.length * first / guide.spec.long
    return min(guide.height, float(edge[-1, 2] - edge[0, 2]) + line / 2)


def near_edge(outline: Outline, side: str, height: float, count: int) -> Floats:
    """Where the near edge is tied at the mouth (count, 3) [m], from its foot up.

    A wing goes up along the side of the mouth hoop; a leader up a line across its middle. What is higher than
    the mouth is gathered there.

    Parameters
    ----------
    outline : of the mouth hoop
    side : of the mouth
    height : of the guide as it hangs [m]
    count : places
    """
    foot, top = outline.reach
    if side == "middle":
        heights = np.linspace(foot, min(top, foot + height), count)
        return np.column_stack([np.zeros(count), np.zeros(count), heights])
    arcs = np.linspace(np.pi, 2 * np.pi, HALF) if side == "left" else np.linspace(np.pi, 0.0, HALF)
    edge = outline.points(arcs)
    inside = HALF_FLAT * (top - foot)  # where a frame is flat its ends are whole sides, and no places
    edge = edge[(edge[:, 2] > foot + inside) & (edge[:, 2] < top - inside)]
    steps = np.linalg.norm(np.diff(edge, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    places = np.linspace(0.0, min(along[-1], height), count)
    return np.column_stack([np.interp(places, along, edge[:, axis]) for axis in range(3)])
