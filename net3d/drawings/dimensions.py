"""Dimensions along the net: rows of arrowed lines below it, extension lines down to them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from net3d.drawings.drawing import ASCENT, DESCENT, LEADING, ROOM, TEXT, Point, ThinLine, Words, text_width
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
    aside: float = 0.0  # of the middle of its line its words stand [mm]

    @property
    def middle(self) -> float:
        """Of its words, along the paper [mm]."""
        return (self.start[0] + self.end[0]) / 2 + self.aside

    def on_paper(self, width: float) -> Dimension:
        """The same, its words moved as far aside as keeps them on a paper so wide [mm]."""
        room = GAP + self.words_width / 2
        return replace(self, aside=min(max(self.middle, room), width - room) - self.middle)

    @property
    def words_width(self) -> float:
        """How wide its words are at most [mm]."""
        return text_width(self.text)

    @property
    def span(self) -> tuple[float, float]:
        """What its line and its words cover along the paper [mm]."""
        half = self.words_width / 2
        return min(self.start[0], self.middle - half), max(self.end[0], self.middle + half)


@dataclass(frozen=True)
class Setting:
    """How the words of a dimension stand: on one line or on two, level or upright."""

    lines: tuple[str, ...]
    upright: bool = False

    @property
    def height(self) -> float:
        """How much of the paper's height they take [mm]."""
        if self.upright:
            return max(map(text_width, self.lines))
        return TEXT * (1 + LEADING * (len(self.lines) - 1))


@dataclass(frozen=True)
class DimensionRows:
    """Placed dimensions, and where the lowest row ends [mm]."""

    words: tuple[Words, ...]
    lines: tuple[ThinLine, ...]
    bottom: float


def dimension_rows(groups: Sequence[Sequence[Dimension]], net_bottom: float, width: float) -> DimensionRows:
    """Place groups of dimensions, nearest to the net first, a group's side by side where they fit.

    Dimensions of the first group join on to each other: they keep to one row, and words that do not fit
    between their arrows go on two lines, or upright. Words of the others may be longer than their lines.

    Parameters
    ----------
    groups : each with dimensions that belong together
    net_bottom : how far down the paper the net reaches [mm]
    width : of the paper, on which all words stay [mm]
    """
    level = net_bottom + START
    words, lines = list[Words](), list[ThinLine]()
    feet: dict[float, tuple[float, float, str]] = {}
    for number, typed in enumerate(groups):
        chained = number == 0
        group = typed if chained else [one.on_paper(width) for one in typed]
        settings = [_fitting(one) if chained else Setting((one.text,)) for one in group]
        level += max((setting.height for setting in settings), default=TEXT) - TEXT
        rows = [0] * len(group) if chained else rows_of([one.span for one in group], GAP)
        for one, row, setting in zip(group, rows, settings, strict=True):
            at = level + ROW * row
            words += _words(one, at, setting)
            start, end = one.start[0], one.end[0]
            lines.append(ThinLine((start, at), (end, at), one.colour, arrows=end - start > ARROWS))
            _extend(feet, one, at)
        level += ROW * (max(rows) + 1) if group else 0.0
    lines += [ThinLine((x, top), (x, bottom), colour) for x, (top, bottom, colour) in feet.items()]
    return DimensionRows(tuple(words), tuple(lines), level - ROW)


def _fitting(one: Dimension) -> Setting:
    """The first way to set the words of a dimension that fits between its arrows; how sure it is, below."""
    room = one.end[0] - one.start[0] - GAP
    length, mark, sure = one.text.partition(" ± ")
    halves = (length, f"± {sure}") if mark else (one.text,)
    if one.words_width <= room:
        return Setting((one.text,))
    if max(map(text_width, halves)) <= room:
        return Setting(halves)
    return Setting(halves if len(halves) * LEADING * TEXT <= room else (one.text,), upright=True)


def _words(one: Dimension, level: float, setting: Setting) -> Iterator[Words]:
    for number, line in enumerate(setting.lines):
        before = LEADING * TEXT * (len(setting.lines) - 1 - number)  # of the last line
        if setting.upright:
            aside = before - LEADING * TEXT * (len(setting.lines) - 1) / 2
            foot = one.middle + (ASCENT - DESCENT) * TEXT / 2 - aside
            yield Words(line, foot, level - text_width(line) / 2 - ABOVE, one.colour, upright=True)
        else:
            yield Words(line, one.middle, level - DESCENT * TEXT - ABOVE - before, one.colour)


def _extend(feet: dict[float, tuple[float, float, str]], one: Dimension, level: float) -> None:
    """Run one extension line down from each thing past all of its dimension lines."""
    for x, y in (one.start, one.end):
        place = round(x, 2)
        top, bottom, colour = feet.get(place, (y + OFF, level, one.colour))
        feet[place] = min(top, y + OFF), max(bottom, level + OVER), colour
