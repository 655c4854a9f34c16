"""Dimensions along the net: rows of arrowed lines below it, extension lines down to them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from net3d.drawings.drawing import ASCENT, DESCENT, ROOM, TEXT, Point, ThinLine, Words, text_width
from net3d.drawings.placing import rows_of

ROW = 6.5  # from row to row [mm]
START = 9.0  # from the net to the first row [mm]
OVER = 1.5  # by which an extension line runs on past its dimension line [mm]
OFF = 1.0  # between a thing and its extension line [mm]
ARROWS = 5.0  # a dimension line shorter than this has no room for its arrowheads [mm]
GAP = 1.5  # between words of neighbouring dimensions [mm]
ABOVE = ROOM + 0.1  # between a dimension line and its words [mm]


@dataclass(frozen=True)
class Dimension:
    """A length along the net, from one point of the paper to another."""

    start: Point
    end: Point
    text: str
    colour: str

    @property
    def words_width(self) -> float:
        """How wide its words are at most [mm]."""
        return text_width(self.text)

    @property
    def span(self) -> tuple[float, float]:
        """What its line and its words cover along the paper [mm]."""
        middle, half = (self.start[0] + self.end[0]) / 2, self.words_width / 2
        return min(self.start[0], middle - half), max(self.end[0], middle + half)


@dataclass(frozen=True)
class DimensionRows:
    """Placed dimensions, and where the lowest row ends [mm]."""

    words: tuple[Words, ...]
    lines: tuple[ThinLine, ...]
    bottom: float


def dimension_rows(groups: Sequence[Sequence[Dimension]], net_bottom: float) -> DimensionRows:
    """Place groups of dimensions, nearest to the net first, a group's side by side where they fit.

    The net reaches down the paper to ``net_bottom`` [mm]. Dimensions of the first group join on to each
    other: they keep to one row, and words that do not fit between their arrows are turned upright.
    """
    level = net_bottom + START
    words, lines = list[Words](), list[ThinLine]()
    feet: dict[float, tuple[float, float, str]] = {}
    for number, group in enumerate(groups):
        chained = number == 0
        upright = [chained and one.words_width + GAP > one.end[0] - one.start[0] for one in group]
        tall = [one.words_width for one, stands in zip(group, upright, strict=True) if stands]
        level += max(tall) - TEXT if tall else 0.0
        rows = [0] * len(group) if chained else rows_of([one.span for one in group], GAP)
        for one, row, stands in zip(group, rows, upright, strict=True):
            at = level + ROW * row
            words.append(_words(one, at, stands))
            start, end = one.start[0], one.end[0]
            lines.append(ThinLine((start, at), (end, at), one.colour, arrows=end - start > ARROWS))
            _extend(feet, one, at)
        level += ROW * (max(rows) + 1) if group else 0.0
    lines += [ThinLine((x, top), (x, bottom), colour) for x, (top, bottom, colour) in feet.items()]
    return DimensionRows(tuple(words), tuple(lines), level - ROW)


def _words(one: Dimension, level: float, upright: bool) -> Words:
    middle = (one.start[0] + one.end[0]) / 2
    if upright:
        foot = middle + (ASCENT - DESCENT) * TEXT / 2
        return Words(one.text, foot, level - one.words_width / 2 - ABOVE, one.colour, upright=True)
    return Words(one.text, middle, level - DESCENT * TEXT - ABOVE, one.colour)


def _extend(feet: dict[float, tuple[float, float, str]], one: Dimension, level: float) -> None:
    """Run one extension line down from each thing past all of its dimension lines."""
    for x, y in (one.start, one.end):
        place = round(x, 2)
        top, bottom, colour = feet.get(place, (y + OFF, level, one.colour))
        feet[place] = min(top, y + OFF), max(bottom, level + OVER), colour
