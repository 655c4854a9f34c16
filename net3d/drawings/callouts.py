"""Callouts: words in a row above the net, each with a leader to the thing it names."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from net3d.drawings.drawing import ASCENT, DESCENT, LEADING, TEXT, Point, ThinLine, Words, text_width
from net3d.drawings.placing import spread

TOP = 3.0  # free above the words [mm]
GAP = 2.5  # between callouts [mm]
SLANT = 7.0  # height in which leaders run from above their things to below their words [mm]
CLEAR = 2.0  # between the net and where leaders begin to slant [mm]


@dataclass(frozen=True)
class Callout:
    """What is said of a point on the paper, in one or more lines of type."""

    at: Point
    lines: tuple[str, ...]
    colour: str
    dot: bool = False

    @property
    def width(self) -> float:
        """How wide its words are at most [mm]."""
        return max(text_width(line) for line in self.lines)


@dataclass(frozen=True)
class CalloutRow:
    """Placed callouts, and how deep the paper is that they take above the net [mm]."""

    words: tuple[Words, ...]
    lines: tuple[ThinLine, ...]
    depth: float


def callout_row(callouts: Sequence[Callout], paper_width: float) -> CalloutRow:
    """Place callouts in a row on paper of a width [mm], in the order of their things.

    Where they would not fit side by side they are turned upright, and where that is not enough the lines of
    each are put into one.
    """
    ordered = sorted(callouts, key=lambda callout: callout.at[0])
    upright = sum(callout.width + GAP for callout in ordered) > paper_width
    pitch = LEADING * TEXT
    if upright and sum(pitch * len(callout.lines) + GAP / 2 for callout in ordered) > paper_width:
        ordered = [replace(callout, lines=(" ".join(callout.lines),)) for callout in ordered]
    widths = [
        (pitch * len(callout.lines) if upright else callout.width) + (GAP / 2 if upright else GAP)
        for callout in ordered
    ]
    places = spread([callout.at[0] for callout in ordered], widths, 0.0, paper_width)
    most_lines = max((len(callout.lines) for callout in ordered), default=0)
    tall = max((callout.width for callout in ordered), default=0.0) if upright else pitch * most_lines
    foot = TOP + tall
    words, lines = list[Words](), list[ThinLine]()
    for callout, place in zip(ordered, places, strict=True):
        words += _words(callout, place, foot, upright)
        lines += _leader(callout, place, foot)
    return CalloutRow(tuple(words), tuple(lines), foot + 1.0 + SLANT + CLEAR)


def _words(callout: Callout, place: float, foot: float, upright: bool) -> list[Words]:
    pitch, many = LEADING * TEXT, len(callout.lines)
    if not upright:
        base = foot - DESCENT * TEXT
        return [
            Words(line, place, base - pitch * (many - 1 - number), callout.colour)
            for number, line in enumerate(callout.lines)
        ]
    middle = (ASCENT - DESCENT) * TEXT / 2
    return [
        Words(
            line,
            place + middle + pitch * (number - (many - 1) / 2),
            foot - text_width(line) / 2,
            callout.colour,
            upright=True,
        )
        for number, line in enumerate(callout.lines)
    ]


def _leader(callout: Callout, place: float, foot: float) -> list[ThinLine]:
    """From the thing straight up past the net, then aslant to below the words."""
    knee = (callout.at[0], foot + 1.0 + SLANT)
    head = (place, foot + 1.0)
    if abs(place - callout.at[0]) < 0.05:
        return [ThinLine(callout.at, head, callout.colour, dot=callout.dot)]
    return [ThinLine(callout.at, knee, callout.colour, dot=callout.dot), ThinLine(knee, head, callout.colour)]
