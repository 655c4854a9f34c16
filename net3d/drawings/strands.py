"""Twine, rope and rod as cords that pass over and under each other: what drawings of knots are made of.

A strand is a curve with a height toward the eye. Where two cross on the paper the higher one covers the
lower, so that a drawing shows what its heights say, and what crosses over what can be read from the numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from net3d.drawings.splines import rising, rounded
from net3d.netting.netting import Floats, Ints
from net3d.parts import palette

STEP = 0.25  # between the points of a curve [mm]
OUTLINE = 0.28  # of a cord [mm]
HAIR = 1e-9  # [mm]
OVERLAP = 2  # points by which the filling of a run reaches into the next
INK, GREY, PALE = "black", palette.GREY, "white"
Place = tuple[float, float, float]  # right, down, toward the eye


@dataclass(frozen=True, eq=False)
class Strand:
    """A cord along a curve (n, 3): right, down, toward the eye [mm]."""

    name: str
    places: Floats
    width: float  # [mm]
    fill: str = PALE


@dataclass(frozen=True)
class Crossing:
    """Where a strand passes over another or itself: numbers of the strands, and how far along [points]."""

    over: int
    over_at: float
    under: int
    under_at: float


def strand(name: str, width: float, through: Sequence[Place], fill: str = PALE) -> Strand:
    """A smooth cord through some places; heights run straight from one to the next.

    Parameters
    ----------
    name : of what it is
    width : [mm]
    through : right, down, toward the eye [mm]
    fill : colour between its outlines
    """
    points = np.array(through, dtype=float)
    apart = np.linalg.norm(np.diff(points[:, :2], axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(np.sqrt(apart))])  # centripetal: no loops at short steps
    fine = np.linspace(0.0, along[-1], max(2, int(apart.sum() / STEP)))
    flat = rounded(along, points[:, :2], fine)
    heights = rising(along, points[:, 2], fine)
    return Strand(name, np.column_stack([flat, heights]), width, fill)


def crossings(strands: Sequence[Strand]) -> list[Crossing]:
    """All places where strands cross on the paper, each once.

    >>> ways = [(0.0, 0.0, 1.0), (4.0, 0.0, 1.0)], [(2.0, -2.0, 0.0), (2.1, 2.0, 0.0)]
    >>> [(one.over, one.under) for one in crossings([strand("a", 1.0, way) for way in ways])]
    [(0, 1)]
    """
    return [
        crossing
        for first, one in enumerate(strands)
        for second, other in enumerate(strands[first:], start=first)
        if not _apart(one.places, other.places)
        for crossing in _between(first, one.places, second, other.places)
    ]


def _apart(one: Floats, other: Floats) -> bool:
    """Whether the boxes around two curves have nothing in common."""
    low, high = (
        np.array([bound(curve[:, :2], axis=0) for curve in (one, other)]) for bound in (np.min, np.max)
    )
    return bool((low.max(axis=0) > high.min(axis=0)).any())


def _between(first: int, one: Floats, second: int, other: Floats) -> list[Crossing]:
    """Crossings of two curves, or of a curve with itself: pieces that meet strictly inside each other."""
    i, j = _near(one, other)
    if first == second:
        i, j = i[j > i + 1], j[j > i + 1]
    way, across = np.diff(one[:, :2], axis=0)[i], np.diff(other[:, :2], axis=0)[j]
    gap, turn = other[j, :2] - one[i, :2], _cross(way, across)
    with np.errstate(divide="ignore", invalid="ignore"):
        here, there = _cross(gap, across) / turn, _cross(gap, way) / turn
    meet = (turn != 0) & (here >= 0) & (here < 1) & (there >= 0) & (there < 1)
    found = []
    for a, b in zip((i + here)[meet].tolist(), (j + there)[meet].tolist(), strict=True):
        if _height(one, a) > _height(other, b):
            found.append(Crossing(first, a, second, b))
        else:
            found.append(Crossing(second, b, first, a))
    return found


def _near(one: Floats, other: Floats) -> tuple[Ints, Ints]:
    """Pieces of two curves whose boxes touch: numbers in the first and in the second, (k,) each."""
    touching = np.ones((len(one) - 1, len(other) - 1), dtype=bool)
    for axis in (0, 1):
        (low, high), (lower, higher) = (_bounds(curve[:, axis]) for curve in (one, other))
        touching &= (low[:, None] <= higher) & (lower <= high[:, None])
    i, j = np.nonzero(touching)
    return i, j


def _bounds(values: Floats) -> tuple[Floats, Floats]:
    """Least and greatest of every piece, and a hair more: what meets at a corner may be off by a rounding."""
    return np.minimum(values[:-1], values[1:]) - HAIR, np.maximum(values[:-1], values[1:]) + HAIR


def _cross(first: Floats, second: Floats) -> Floats:
    return np.asarray(first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0])


def _height(places: Floats, at: float) -> float:
    return float(np.interp(at, np.arange(len(places)), places[:, 2]))


def strands_svg(strands: Sequence[Strand]) -> list[str]:
    """Strands as SVG, what is lower first: each in runs that hold one crossing."""
    passes: list[list[float]] = [[] for _ in strands]
    for crossing in crossings(strands):
        passes[crossing.over].append(crossing.over_at)
        passes[crossing.under].append(crossing.under_at)
    runs = [
        (_height(one.places, at), number, start, end)
        for number, one in enumerate(strands)
        for at, start, end in _runs(sorted(passes[number]), len(one.places))
    ]
    return [_run_svg(strands[number], start, end) for _, number, start, end in sorted(runs)]


def _runs(passes: list[float], count: int) -> list[tuple[float, int, int]]:
    """A strand cut half way between its crossings: where each run crosses, begins and ends [points]."""
    middles = [int((one + other) / 2) for one, other in pairwise(passes)]
    ends = [0, *middles, count - 1]
    places = passes or [count / 2]
    return [(at, max(start - 1, 0), end) for at, start, end in zip(places, ends, ends[1:], strict=False)]


def _run_svg(one: Strand, start: int, end: int) -> str:
    """A run; its filling reaches a little into the runs beside it, so that no seam shows."""
    edge, inner = _path(one.places[start : end + 1]), max(one.width - 2 * OUTLINE, 0.0)
    drawn = f'<path d="{edge}" fill="none" stroke="{INK}" stroke-width="{one.width:.2f}"/>'
    if not inner:
        return drawn
    filling = _path(one.places[max(start - OVERLAP, 0) : end + 1 + OVERLAP])
    return f'{drawn}<path d="{filling}" fill="none" stroke="{one.fill}" stroke-width="{inner:.2f}"/>'


def _path(points: Floats) -> str:
    return "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y, _ in points.tolist())
