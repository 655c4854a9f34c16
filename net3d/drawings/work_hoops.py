"""Figures of how netting is laced to hoops, drawn as thick as rod and twine are.

How it is done is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import cos, pi, sin

from net3d.drawings.drawing import Point, Words
from net3d.drawings.figure import SIZE, Figure, dot, labels, path, ring
from net3d.drawings.strands import GREY, Place, Strand, strand

ROD = 8.0  # how thick a rod is drawn [mm]
LEAST, MOST = 0.9, 2.2  # how thick twine is drawn beside it [mm]
BARS = ((-12.0, -22.0), (12.0, -22.0), (-12.0, 22.0), (12.0, 22.0))  # ends of the body's bars [mm]
REACH = 29.0  # from the middle to where rods and bars are cut off [mm]


@dataclass(frozen=True)
class Gear:
    """What figures are drawn from [m], and how many hitches a knot takes."""

    rod: float
    twine: float
    lacing: float
    hitches: int

    def drawn(self, thickness: float) -> float:
        """How thick a cord is drawn beside a rod [mm], within what can be told apart."""
        return min(max(ROD * thickness / self.rod, LEAST), MOST)


def _rod(level: float = 0.0) -> Strand:
    return strand("rod", ROD, [(-REACH, level, 0), (REACH, level, 0)])


def _bars(name: str, gear: Gear, fill: str, ways: tuple[Point, ...]) -> list[Strand]:
    """Bars from the knot on the rod."""
    width = gear.drawn(gear.twine)
    return [strand(name, width, [(0, 0, 1), (x, y, 1)], fill) for x, y in ways]


def _knot(gear: Gear) -> str:
    return dot((0, 0), 0.9 * gear.drawn(gear.twine))


def hitch(at: float) -> list[Place]:
    """A half hitch at a place [mm] of a rod and what lies on it, seen from inside the net.

    The twine comes along the rod, goes over it, down behind, and up in front under its own part.
    """
    edge = ROD / 2 + 1.0
    return [
        (at - 2.4, 0.6, 3),
        (at - 0.4, -0.8, 3),
        (at + 0.2, -edge + 0.4, 2),
        (at - 0.2, -edge - 0.2, -2),
        (at - 1.0, 0.0, -3),
        (at - 1.6, edge + 0.2, -2),
        (at - 1.4, edge - 0.6, 2),
        (at - 0.9, 1.6, 2),
        (at + 1.4, -1.4, 2),
    ]


def _laced(gear: Gear) -> Strand:
    """Lacing twine along the rod, a hitch on either side of the knot."""
    apart = 2.6 + gear.drawn(gear.lacing)
    places: list[Place] = [(-REACH, 0.4, 3), *hitch(-apart), *hitch(apart), (REACH, -0.4, 3)]
    return strand("lacing", gear.drawn(gear.lacing), places)


def body_hitch(gear: Gear) -> Figure:
    """Hitches where the body alone is laced to a hoop."""
    ways = BARS
    words, lines = labels(
        ("hoop", (-22.0, -9.0), (-22.0, -2.6)),
        ("knot on the mark", (17.0, -9.0), (0.6, -0.6)),
        ("lacing twine", (19.0, 10.0), (19.0, 0.2)),
    )
    return Figure(
        "body-hitch",
        "Hitches around hoop and knot",
        "From inside the net. Round rod and netting, under its own part, on either side of the knot, so"
        f" that it cannot walk; {gear.hitches} hitches a knot.",
        (_rod(), *_bars("body", gear, GREY, ways), _laced(gear)),
        words,
        lines,
        marks=(_knot(gear),),
    )


def throat_hitch(gear: Gear) -> Figure:
    """Hitches through both layers."""
    body = _bars("body", gear, GREY, BARS)
    throat = [
        strand("throat", one.width, [(-x / 6, -2.2, 1.5), (x, 22.0, 1.5)], "black")
        for one, x in zip(body, (-5.0, 5.0), strict=False)
    ]
    words, lines = labels(
        ("body", (-20.0, 15.0), (-8.2, 15.0)),
        ("throat", (20.0, 15.0), (3.5, 15.4)),
        ("takes both", (-18.0, -9.0), (-4.4, -4.4)),
    )
    return Figure(
        "throat-hitch",
        "Where a throat joins",
        (
            "The needle goes through both layers: every hitch takes the knot of the body and that of"
            " the throat."
        ),
        (_rod(), *body, *throat, _laced(gear)),
        words,
        lines,
        marks=(_knot(gear),),
    )


def netting_inside(gear: Gear) -> Figure:
    """A hoop at the bottom of the net, cut through."""
    radius, twine = ROD * 0.9, gear.drawn(gear.twine)
    top = 12.0 - 2 * radius
    ground = "".join(f"M{x} 12.2l-3 3" for x in range(-27, 30, 4))
    bed = path(f"M-29 12.2H29{ground}", 0.4)
    rod = ring((0, 12 - radius), radius, 0.5, "white")
    netting = strand(
        "netting",
        twine,
        [(-29, top + 3, 0), (-10, top, 0), (0, top - 0.8, 0), (10, top, 0), (29, top + 3, 0)],
        GREY,
    )
    loop = radius + 1.4
    turn: list[Place] = [
        (loop * sin(angle), 12 - radius - 0.6 - loop * cos(angle), 1)
        for angle in (2 * pi * step / 24 + 0.2 for step in range(24))
    ]
    words, lines = labels(
        ("knot, inside", (-12.0, -12.0), (0.0, top - 0.8)),
        ("inside of the net", (28.0, -10.0), (18.0, top + 1.0)),
        ("bottom", (-21.0, 20.5), (-21.0, 13.0)),
        ("rod takes the wear", (14.0, 20.5), (2.0, 9.0)),
    )
    return Figure(
        "netting-inside",
        "Netting inside the hoop",
        (
            "A hoop cut through, at the bottom: the netting lies on the inside of the rod, its knots"
            " turned in, where stones do not reach them."
        ),
        (netting, strand("lacing", gear.drawn(gear.lacing), turn)),
        words,
        lines,
        shapes=(bed, rod),
        marks=(dot((0, top - 0.8), 1.1 * twine),),
    )


def half_pitch() -> Figure:
    """Two hoops an odd number of rows apart: the second row starts half a pitch off."""
    pitch, high, low = 13.0, -11.0, 11.0
    middle = [(pitch * (number - 1.5), high) for number in range(4)]
    below = [(pitch * (number - 1), low) for number in range(3)]
    bars = "".join(f"M{x:.1f} {y}L{u:.1f} {v}" for x, y in middle for u, v in below if abs(x - u) < pitch)
    rods = "".join(f"M-29 {y - 1.5}H29M-29 {y + 1.5}H29" for y in (high, low))
    ticks = "".join(f"M{x:.1f} {y - 2.8}v5.6" for x, y in (*middle, *below))
    dots = "".join(dot((x, y), 1.1) for x, y in (*middle, *below))
    first = middle[0][0]
    shapes = (
        path(rods, 0.4),
        path(bars, 0.5),
        path(ticks, 0.4),
        dots,
        path(f"M{first} -19V15", 0.3, "2 1"),
    )
    words = (
        Words("reference marks in line", first + 1.0, -17.5, from_left=True, size=SIZE),
        Words("first knot half a pitch past it", first - 6.0, 19.5, from_left=True, size=SIZE),
    )
    return Figure(
        "half-pitch",
        "Start half a pitch off",
        (
            "Hoops an odd number of rows apart: the row's knots stand between the marks of the hoop"
            " before, so its first mark is half a pitch past the reference mark."
        ),
        (),
        words,
        shapes=shapes,
    )


def round_joined() -> Figure:
    """The end of one row and the start of the next, at the marker thread."""
    pitch, deep = 11.0, 8.0
    rows = [
        [(pitch * (number + (0.5 if row % 2 else 0.0)) - 27.5, deep * row - 14.0) for number in range(6)]
        for row in range(4)
    ]
    bars = "".join(
        f"M{x:.1f} {y}L{u:.1f} {v}"
        for upper, lower in pairwise(rows)
        for x, y in upper
        for u, v in lower
        if abs(x - u) < 0.6 * pitch
    )
    dots = "".join(dot((x, y), 0.9) for row in rows for x, y in row)
    last, first = rows[2][2], rows[3][2]
    shapes = (
        path(bars, 0.4),
        dots,
        path("M-3 -20C0 -14 -6 -8 -2.5 -2S-6 10 -2.5 17", 0.5, "1.6 1"),
        path(f"M{last[0]} {last[1]}L{first[0]} {first[1]}", 1.3),
    )
    words, lines = labels(
        ("marker thread", (-16.0, -18.5), (-2.8, -18.0)),
        ("last knot", (-18.0, 19.0), last),
        ("knot 1 of the next row", (11.0, 19.0), first),
    )
    return Figure(
        "round-joined",
        "Join of the round",
        (
            "At the marker thread the last knot of a row runs on into the first of the next, half a"
            " mesh lower; the thread goes along from row to row."
        ),
        (),
        words,
        lines,
        shapes=shapes,
    )


def held_in_three() -> Figure:
    """A hoop and its netting tied loosely in three places before the lacing."""
    radius, inside, turn = 16.0, 14.0, 9.0
    places = [_around(radius, third * 2 * pi / 3) for third in range(3)]
    knots = "".join(dot(_around(inside, 2 * pi * knot / 36), 0.5) for knot in range(36))
    ties = "".join(ring((0.94 * x, 0.94 * y), 2.4, 0.8) for x, y in places)
    start = _around(turn, 0.2)
    sweep = f"M{start[0]:.2f} {start[1]:.2f}A{turn} {turn} 0 0 1 {turn} 0m-1.2 -2l1.2 2l1.2 -2"
    shapes = (ring((0, 0), radius, 1.6), knots, ties, path(sweep, 0.4))
    words, lines = labels(
        ("reference mark, marker thread", (0.0, -19.4), (0.0, -16.2)),
        ("loose tie", (23.0, 16.0), places[1]),
        ("loose tie", (-23.0, 16.0), places[2]),
    )
    words += (Words("lace this way", 0.0, 3.0, size=SIZE),)
    return Figure(
        "held-in-three",
        "Hold it in three places",
        (
            "Reference mark to marker thread, then a third of the knots on: three loose ties carry the"
            " hoop while it is laced, clockwise as seen from the mouth. Each comes off when the lacing"
            " reaches it."
        ),
        (),
        words,
        lines,
        shapes=shapes,
    )


def _around(radius: float, angle: float) -> Point:
    """A point at an angle clockwise from the top."""
    return radius * sin(angle), -radius * cos(angle)
