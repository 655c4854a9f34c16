"""A figure of the work: strands, words with leaders to them, and what is said below."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from net3d.drawings.drawing import Drawing, Point, ThinLine, Words, drawing_svg, ground_of
from net3d.drawings.strands import Strand, strands_svg

WIDTH, HEIGHT = 58.0, 44.0  # of a figure [mm]
SIZE = 3.2  # of its type [mm]
EDGE = 0.6  # kept free beside words [mm]


@dataclass(frozen=True, eq=False)
class Figure:
    """A drawing of how a thing is done.

    Places are counted from its middle, right and down [mm]; ``shapes`` are drawn first, ``marks`` last.
    """

    name: str
    title: str
    about: str
    strands: tuple[Strand, ...]
    words: tuple[Words, ...] = ()
    lines: tuple[ThinLine, ...] = ()
    shapes: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()


def figure_svg(figure: Figure) -> str:
    """A figure as SVG, as large as it is on paper."""
    move = f'<g transform="translate({WIDTH / 2} {HEIGHT / 2})">'
    ground = tuple(map(ground_of, figure.words))
    below = (move, *figure.shapes, *strands_svg(figure.strands), *figure.marks, *ground, "</g>")
    words = tuple(replace(one, x=one.x + WIDTH / 2, y=one.y + HEIGHT / 2) for one in figure.words)
    lines = tuple(ThinLine(_moved(line.start), _moved(line.end), dot=line.dot) for line in figure.lines)
    return drawing_svg(Drawing(figure.title, WIDTH, HEIGHT, below, lines, words))


def _moved(place: Point) -> Point:
    return place[0] + WIDTH / 2, place[1] + HEIGHT / 2


def path(data: str, width: float, dashes: str = "none") -> str:
    """A black stroke of a width [mm]."""
    look = f'stroke="black" stroke-width="{width}" stroke-dasharray="{dashes}"'
    return f'<path d="{data}" fill="none" {look}/>'


def dot(place: Point, radius: float) -> str:
    """A full dot of a radius [mm]."""
    return f'<circle cx="{place[0]:.2f}" cy="{place[1]:.2f}" r="{radius:.2f}"/>'


def ring(place: Point, radius: float, width: float, fill: str = "none") -> str:
    """A circle.

    Parameters
    ----------
    place : its middle [mm]
    radius, width : of it and of its line [mm]
    fill : a colour
    """
    look = f'fill="{fill}" stroke="black" stroke-width="{width}"'
    return f'<circle cx="{place[0]:.2f}" cy="{place[1]:.2f}" r="{radius:.2f}" {look}/>'


def named(text: str, foot: Point, thing: Point) -> tuple[Words, ThinLine]:
    """Words beside a figure, with a leader to the thing that they name.

    Parameters
    ----------
    text : the words
    foot : the middle of their foot [mm]
    thing : where the leader ends in a dot [mm]
    """
    half = Words(text, *foot, size=SIZE).width / 2
    most = WIDTH / 2 - EDGE - half
    words = Words(text, min(max(foot[0], -most), most), foot[1], size=SIZE)
    left, _, right, _ = words.box
    near = min(max(thing[0], left), right)
    start = near, foot[1] - 0.35 * SIZE
    if near == thing[0]:
        start = near, foot[1] + 0.9 if thing[1] > foot[1] else foot[1] - SIZE
    return words, ThinLine(thing, start, dot=True)


def labels(*told: tuple[str, Point, Point]) -> tuple[tuple[Words, ...], tuple[ThinLine, ...]]:
    """Several of them, their words and their leaders."""
    pairs = [named(*one) for one in told]
    return tuple(words for words, _ in pairs), tuple(line for _, line in pairs)


def scaled(
    places: Sequence[tuple[float, float, float]], unit: float, at: Point = (0.0, 0.0)
) -> list[tuple[float, float, float]]:
    """Places in units, at a place of the figure; heights as they are.

    Parameters
    ----------
    places : right, down, toward the eye, in units of the knot [-]
    unit : [mm]
    at : where their middle comes to stand [mm]

    Returns
    -------
    list of places
        Right and down [mm], toward the eye as given.
    """
    return [(at[0] + unit * x, at[1] + unit * y, z) for x, y, z in places]
