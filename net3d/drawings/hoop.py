"""A hoop seen from the mouth: its marks, and what is tied to it between them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, pi, sin

import numpy as np

from net3d.chain import Design
from net3d.drawings.drawing import (
    LEADING,
    TEXT,
    Drawing,
    Point,
    ThinLine,
    Words,
    arrowhead,
    drawing_svg,
    text_width,
)
from net3d.drawings.hoop_words import corners_text, size_text
from net3d.drawings.palette import HOOPS, ROPE, STRINGS, THROATS
from net3d.outline.curves import Circle, Curve
from net3d.outline.outline import Outline
from net3d.parts import BRIDLE
from net3d.plan.joins import Row
from net3d.plan.plan import HoopPlan
from net3d.shop.hoop_marks import Marking, Ties, marks_on, ties_on

RADIUS = 24.0  # of the hoop on the paper, where it is widest [mm]
AROUND = 8.0  # free around it, for the numbers of its marks [mm]
TOP = 9.0  # more above it, for the reference mark [mm]
MIDDLE = (AROUND + RADIUS, TOP + AROUND + RADIUS)
TICK = 2.0  # [mm]
EVERY = (5, 10, 20, 50, 100)  # marks from one numbered mark to the next: the least that leaves room
APART = 11.0  # at least from number to number [mm]
NUMBERS = 4.4  # from the hoop out to the numbers [mm]
UPWARD = (8.0, 12.5, 18.0)  # from the middle to the word top, and where its arrow begins and ends [mm]
SWEEP = 0.62  # of the hoop's radius: an arrow there shows which way the marks run
KEY = 2 * (AROUND + RADIUS) + 6.0  # where the key begins [mm]
SYMBOL = 1.2  # half a symbol [mm]
BESIDE = 4.5  # from a symbol's middle to its words [mm]
POINTS = 192  # of a hoop that is not round
UP = (0.0, -1.0)


@dataclass(frozen=True)
class Seen:
    """A hoop's curve on the paper, its own reference mark at the top."""

    curve: Curve
    scale: float  # mm on the paper to a metre

    def place(self, arc: float, outside: float = 0.0) -> Point:
        """A point of the paper on the curve, or outside it [mm].

        Parameters
        ----------
        arc : from the top [rad]
        outside : by so much [mm]
        """
        ((y, z),) = self.curve.places(np.array([arc]), -outside / self.scale).tolist()
        return MIDDLE[0] - self.scale * y, MIDDLE[1] - self.scale * z

    def outward(self, arc: float) -> Point:
        """Which way is out of it at an arc [rad], on the paper."""
        ((y, z),) = self.curve.normals(np.array([arc])).tolist()
        return -y, -z

    def path(self) -> str:
        """The curve itself."""
        drawn = f'fill="none" stroke="{HOOPS}" stroke-width="0.9"'
        if isinstance(self.curve, Circle):
            return f'<circle cx="{MIDDLE[0]}" cy="{MIDDLE[1]}" r="{RADIUS}" {drawn}/>'
        corners = " ".join(f"{x:.2f},{y:.2f}" for x, y in map(self.place, self.curve.stations(POINTS)))
        return f'<polygon points="{corners}" {drawn}/>'


def seen(outline: Outline) -> Seen:
    """A hoop as large as the view."""
    places = outline.curve.places(outline.curve.stations(POINTS))
    return Seen(outline.curve, RADIUS / float(np.linalg.norm(places, axis=1).max()))


@dataclass(frozen=True)
class Tied:
    """What is tied to a hoop along a row of places: a line of the key."""

    text: str
    symbol: str
    angles: tuple[float, ...]  # from the reference mark [rad]
    inside: float  # how far inside the rod's middle its symbols stand [mm]


def hoop_view(design: Design, number: int) -> str:
    """A hoop as seen from the mouth, as SVG: marks clockwise from the reference mark, strings, bridle legs.

    Raises IndexError where there is no hoop of the number, from 1 at the mouth.
    """
    if not 1 <= number <= len(design.plan.hoops):
        raise IndexError(f"The net has hoops 1 to {len(design.plan.hoops)}, and no hoop {number}.")
    hoop = design.plan.hoops[number - 1]
    body, *own = marks_on(design.spec, design.plan, hoop)
    shape = seen(hoop.outline)
    tied = [*_marked(body, own), *_ties(ties_on(design.spec, design.plan, hoop))]
    told = _told(design, body)
    pitch = 1.2 * LEADING * TEXT
    feet = [MIDDLE[1] + pitch * (line - (len(told) + len(tied) - 1) / 2) for line in range(len(told + tied))]
    texts = [*told, *(one.text for one in tied)]
    key = [Words(text, KEY + BESIDE, foot, from_left=True) for text, foot in zip(texts, feet, strict=True)]
    symbols = [
        _symbol(one.symbol, (KEY, foot - 0.35 * TEXT), UP)
        for one, foot in zip(tied, feet[len(told) :], strict=True)
    ]
    width = KEY + BESIDE + max(map(text_width, texts)) + 3.0
    below = (*_ring(shape), *_upward(hoop), *_symbols(tied, shape), *symbols)
    words = (*key, *_numbers(body.row, shape), Words("reference mark", MIDDLE[0], 1.2 * TEXT), *_top(hoop))
    pointer = ThinLine((MIDDLE[0], TOP - 2.6), shape.place(0.0, 2.4))
    name = f"{design.spec.title}: hoop {number}"
    return drawing_svg(Drawing(name, width, MIDDLE[1] + RADIUS + AROUND, below, (pointer,), words))


def _told(design: Design, marking: Marking) -> list[str]:
    """What the key says of the hoop itself."""
    hoop, tape = marking.hoop, design.spec.tape.length
    return [
        f"Hoop {hoop.number}, seen from the mouth",
        f"{size_text(design.spec.tape, hoop)}, around {tape(hoop.circumference)}",
        f"pitch {tape(hoop.pitch)} on the outside",
        *(f"corner at {place}" for place in corners_text(design.spec, hoop).split("; ") if place),
        *([f"the row starts at mark {marking.first}"] if hoop.meshes_turned else []),
    ]


def _upward(hoop: HoopPlan) -> Iterator[str]:
    """An arrow to what comes to the top of the net, where that is not the reference mark."""
    if hoop.meshes_turned:
        start, end = (_place(-hoop.turn, radius) for radius in UPWARD[1:])
        path = f"M{start[0]:.2f} {start[1]:.2f}L{end[0]:.2f} {end[1]:.2f}"
        yield f'<path d="{path}" stroke="{HOOPS}" stroke-width="0.25"/>'
        yield arrowhead(end, (end[0] - start[0], end[1] - start[1]))


def _top(hoop: HoopPlan) -> Iterator[Words]:
    if hoop.meshes_turned:
        x, y = _place(-hoop.turn, UPWARD[0])
        yield Words("top", x, y + 0.35 * TEXT)


def _marked(body: Marking, own: list[Marking]) -> Iterator[Tied]:
    """The marks of the body, with the throats that share them, and those of throats with their own."""
    shared = "".join(f" and {throat.title}" for throat in body.throats)
    yield Tied(f"{body.row.count} marks: body{shared}", "mark", tuple(body.row.angles()), 0.0)
    for one in own:
        (throat,) = one.throats
        yield Tied(f"{one.row.count} marks: {throat.title}", "own mark", tuple(one.row.angles()), TICK)


def _ties(tied: tuple[Ties, ...]) -> Iterator[Tied]:
    """Strings, then the bridle's legs."""
    for ties in sorted(tied, key=lambda one: one.part == BRIDLE):
        what = "bridle legs" if ties.part == BRIDLE else f"strings of throat {ties.part.numbers[0]}"
        symbol = "leg" if ties.part == BRIDLE else "string"
        yield Tied(f"{len(ties.angles)} ties: {what}", symbol, ties.angles, 3.6)


def _ring(shape: Seen) -> Iterator[str]:
    """The rod, the arrow that shows which way the marks run, and the reference mark's arrowhead."""
    yield shape.path()
    sweep = SWEEP * RADIUS
    start, end = _place(-0.4, sweep), _place(0.4, sweep)
    arc = f"M{start[0]:.2f} {start[1]:.2f}A{sweep:.2f} {sweep:.2f} 0 0 1 {end[0]:.2f} {end[1]:.2f}"
    yield f'<path d="{arc}" fill="none" stroke="{HOOPS}" stroke-width="0.25"/>'
    yield arrowhead(end, (cos(0.4), sin(0.4)))
    yield arrowhead(shape.place(0.0, 2.0), (0.0, 1.0))


def _symbols(tied: list[Tied], shape: Seen) -> Iterator[str]:
    for one in tied:
        for arc in one.angles:
            yield _symbol(one.symbol, shape.place(arc, -one.inside), shape.outward(arc))


def _symbol(kind: str, at: Point, outward: Point) -> str:
    x, y = at
    if kind in ("mark", "own mark"):
        colour = HOOPS if kind == "mark" else THROATS
        out = TICK / 2 * np.array(outward)
        ends = f"M{x - out[0]:.2f} {y - out[1]:.2f}L{x + out[0]:.2f} {y + out[1]:.2f}"
        return f'<path d="{ends}" stroke="{colour}" stroke-width="0.35"/>'
    if kind == "string":
        return f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{SYMBOL}" fill="{STRINGS}"/>'
    corner = f'x="{x - SYMBOL:.2f}" y="{y - SYMBOL:.2f}" width="{2 * SYMBOL}" height="{2 * SYMBOL}"'
    return f'<rect {corner} fill="none" stroke="{ROPE}" stroke-width="0.5"/>'


def _numbers(row: Row, shape: Seen) -> Iterator[Words]:
    """Numbers of the first mark and of every fifth or more, but for those beside the reference mark."""
    apart = row.pitch * (RADIUS + NUMBERS)
    every = next((count for count in EVERY if count * apart >= APART), EVERY[-1])
    for number, angle in enumerate(row.angles().tolist(), start=1):
        clear = min(angle, 2 * pi - angle) * RADIUS > 5.0
        if clear and (number == 1 or number % every == 0):
            x, y = shape.place(angle, NUMBERS)
            yield Words(str(number), x, y + 0.35 * TEXT)


def _place(angle: float, radius: float) -> Point:
    """A point of the paper, at an angle clockwise from the top."""
    return MIDDLE[0] + radius * sin(angle), MIDDLE[1] - radius * cos(angle)
