"""What stands on a drawing: words and thin lines in millimetres of paper, and the SVG they make.

Lines keep clear of words: a line that passes through words is broken there.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

import numpy as np

from net3d.drawings.palette import INK
from net3d.netting.netting import Floats

TEXT = 3.6  # size of type [mm]: capitals 2.5 mm high
FONTS = "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', 'Libertinus Serif', sans-serif"
THIN, ARROW, ARROW_HALF = 0.18, 2.2, 0.4
ASCENT, DESCENT = 0.8, 0.24  # of the size of type, capitals and tails
LEADING = 1.25  # from line of type to line of type, in sizes of type
GROUND = 0.2  # of white around words that stand on something [mm]
ROOM = 0.5  # between words and a broken line [mm]

# Widths in sizes of type, none less than those of DejaVu Sans, the widest of the fonts named above.
_WIDTHS = {" .,:;/'|": 0.35, "fijlrt()-!": 0.42, "mwMW%@#&+<=>^~": 1.0, "Ø": 0.8}
_LETTERS = {letter: width for letters, width in _WIDTHS.items() for letter in letters}

Box = tuple[float, float, float, float]  # left, top, right, bottom
Point = tuple[float, float]


@dataclass(frozen=True)
class Words:
    """A line of type; ``x`` and ``y`` are the middle of its foot, or its left end.

    What stands upright reads from the right.
    """

    text: str
    x: float
    y: float
    colour: str = INK
    upright: bool = False
    from_left: bool = False
    size: float = TEXT

    @property
    def width(self) -> float:
        """How long the line of type is at most [mm]."""
        return text_width(self.text, self.size)

    @property
    def box(self) -> Box:
        """What it covers."""
        half, up, down = self.width / 2, ASCENT * self.size, DESCENT * self.size
        if self.upright:
            return self.x - up, self.y - half, self.x + down, self.y + half
        left = self.x if self.from_left else self.x - half
        return left, self.y - up, left + 2 * half, self.y + down


@dataclass(frozen=True)
class ThinLine:
    """A thin straight line, with arrowheads at its ends or a dot at its first."""

    start: Point
    end: Point
    colour: str = INK
    arrows: bool = False
    dot: bool = False


@dataclass(frozen=True)
class Drawing:
    """A sheet of paper [mm]: what is drawn first, as SVG, then thin lines, then words."""

    name: str
    width: float
    height: float
    below: tuple[str, ...]
    lines: tuple[ThinLine, ...]
    words: tuple[Words, ...]


def text_width(text: str, size: float = TEXT) -> float:
    """How long a line of type is, at most [mm].

    >>> text_width("36 in", 1.0)
    2.69
    """
    return size * sum(_letter(letter) for letter in text)


def drawing_svg(drawing: Drawing) -> str:
    """A drawing as SVG text, as large as it says on paper."""
    boxes = [words.box for words in drawing.words]
    size = f'width="{drawing.width:g}mm" height="{drawing.height:g}mm"'
    view = f'viewBox="0 0 {drawing.width:g} {drawing.height:g}"'
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {view} role="img">',
        f"<title>{escape(drawing.name, quote=False)}</title>",
        f'<rect width="{drawing.width:g}" height="{drawing.height:g}" fill="white"/>',
        *drawing.below,
        *(part for line in drawing.lines for part in _line_svg(line, boxes)),
        f'<g font-family="{FONTS}" text-anchor="middle">',
        *map(_words_svg, drawing.words),
        "</g>\n</svg>\n",
    ]
    return "\n".join(parts)


def ground_of(words: Words) -> str:
    """White behind words, so that they can be read where they stand on something."""
    left, top, right, bottom = words.box
    size = f'width="{right - left + 2 * GROUND:.2f}" height="{bottom - top + 2 * GROUND:.2f}"'
    return f'<rect x="{left - GROUND:.2f}" y="{top - GROUND:.2f}" {size} fill="white"/>'


def lines_of(text: str, width: float) -> list[str]:
    """A text broken into lines of type no longer than ``width`` [mm].

    >>> lines_of("one two", 20.0), lines_of("one two", 10.0)
    (['one two'], ['one', 'two'])
    """
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if text_width(longer) <= width:
            lines[-1] = longer
            continue
        pieces = _pieces(word, width)
        lines = [line for line in (*lines, *pieces) if line]
    return lines


def lines_at(lines: Sequence[str], foot: Point) -> list[Words]:
    """Lines of type under each other, the middle of the foot of the last at ``foot``."""
    x, y = foot
    return [
        Words(line, x, y - LEADING * TEXT * (len(lines) - 1 - number)) for number, line in enumerate(lines)
    ]


def arrowhead(tip: Point, toward: Point, colour: str = INK) -> str:
    """A filled arrowhead, its point at ``tip``, pointing ``toward`` (x, y)."""
    way = np.array(toward) / np.hypot(*toward)
    back = np.array(tip) - ARROW * way
    side = ARROW_HALF * np.array([-way[1], way[0]])
    corners = " ".join(f"{x:.2f},{y:.2f}" for x, y in (np.array(tip), back + side, back - side))
    return f'<polygon points="{corners}" fill="{colour}"/>'


def _pieces(word: str, width: float) -> list[str]:
    pieces = [""]
    for letter in word:
        if text_width(pieces[-1] + letter) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def _letter(letter: str) -> float:
    if letter in _LETTERS:
        return _LETTERS[letter]
    if not letter.isascii():
        return 1.5
    return 0.8 if letter.isupper() else 0.64


def _words_svg(words: Words) -> str:
    place = f'x="{words.x:.2f}" y="{words.y:.2f}"'
    if words.upright:
        place += f' transform="rotate(-90 {words.x:.2f} {words.y:.2f})"'
    if words.from_left:
        place += ' text-anchor="start"'
    look = f'font-size="{words.size:g}" fill="{words.colour}"'
    return f"<text {place} {look}>{escape(words.text, quote=False)}</text>"


def _line_svg(line: ThinLine, boxes: Sequence[Box]) -> Iterable[str]:
    start, end = np.array(line.start, dtype=float), np.array(line.end, dtype=float)
    pieces = [(start + (end - start) * a, start + (end - start) * b) for a, b in _clear(start, end, boxes)]
    path = "".join(f"M{a[0]:.2f} {a[1]:.2f}L{b[0]:.2f} {b[1]:.2f}" for a, b in pieces)
    if path:
        yield f'<path d="{path}" fill="none" stroke="{line.colour}" stroke-width="{THIN}"/>'
    if line.arrows:
        way = end - start
        yield arrowhead(line.start, (-way[0], -way[1]), line.colour)
        yield arrowhead(line.end, (way[0], way[1]), line.colour)
    if line.dot:
        x, y = line.start
        yield f'<circle cx="{x:.2f}" cy="{y:.2f}" r="0.55" fill="{line.colour}"/>'


def _clear(start: Floats, end: Floats, boxes: Sequence[Box]) -> list[tuple[float, float]]:
    """The parts of a line, from 0 at its start to 1 at its end, that lie outside of all boxes."""
    free = [(0.0, 1.0)]
    for box in boxes:
        enters, leaves = _inside(start, end, box)
        if enters < leaves:
            free = [
                piece
                for a, b in free
                for piece in ((a, min(b, enters)), (max(a, leaves), b))
                if piece[0] < piece[1]
            ]
    return free


def _inside(start: Floats, end: Floats, box: Box) -> tuple[float, float]:
    """Between which parts of its length a line lies in a box and the room around it."""
    low = np.array(box[:2]) - ROOM - start
    high = np.array(box[2:]) + ROOM - start
    way = end - start
    enters, leaves = 0.0, 1.0
    for axis in (0, 1):
        if abs(way[axis]) < 1e-9:
            if not low[axis] < 0 < high[axis]:
                return 1.0, 0.0
            continue
        first, second = sorted((low[axis] / way[axis], high[axis] / way[axis]))
        enters, leaves = max(enters, first), min(leaves, second)
    return enters, leaves
