"""Main dimensions beside the net: dimension lines below it, and what is written at them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from net3d.chain import Design
from net3d.drawings.hoop_words import size_text

FIRST_LINE, LINE_GAP = 1.2, 0.24  # below the axis, in radii of the widest hoop
TICK = 0.035  # half the height of the strokes that end a line, likewise
OVERRUN = 0.06  # of the lines drawn out from the hoops, below the last dimension line

Point = tuple[float, float, float]


@dataclass(frozen=True)
class DimensionLine:
    """A thin straight line in space [m]."""

    start: Point
    end: Point

    def ends(self) -> tuple[Point, Point]:
        """Both of them."""
        return self.start, self.end


@dataclass(frozen=True)
class Label:
    """A text at a place in space [m]; the lower the rank, the nearer it stays to its place."""

    text: str
    at: Point
    rank: int
    mark: str = ""  # a hoop's number, ringed before the text


@dataclass(frozen=True)
class Span:
    """One dimension along the net, on a line so many rows below the first. Lengths in m."""

    start: float
    end: float
    row: int
    text: str
    rank: int


def dimensions(design: Design) -> tuple[list[DimensionLine], list[Label]]:
    """Lines and labels: how far apart the hoops stand, the whole length, and every hoop with its diameter."""
    widest = max(-hoop.outline.reach[0] for hoop in design.plan.hoops)
    spans = list(_spans(design))
    lines = [line for span in spans for line in _dimension(span, widest)]
    lines += _drawn_out(design, spans, widest)
    labels = [
        Label(span.text, (_written_at(span), 0.0, -_depth(span.row, widest)), span.rank) for span in spans
    ]
    return lines, [*labels, *_diameters(design), *_holes(design)]


def _holes(design: Design) -> Iterator[Label]:
    """Every hole by its number, in the middle of its rim."""
    torn, places = design.torn, design.shape.knot_positions
    for hole, own, opening in zip(torn.holes, torn.bars, torn.openings, strict=True) if torn else ():
        rim = own[sorted(opening.rim)]
        x, y, z = places[design.netting.bars[rim[rim >= 0]]].reshape(-1, 3).mean(axis=0).tolist()
        yield Label(f"hole {hole.number}, {design.spec.tape.rough(opening.girth)} around", (x, y, z), 1)


def _spans(design: Design) -> Iterator[Span]:
    shape, tape = design.shape, design.spec.tape
    places = [float(place) for place in shape.hoop_positions]
    for start, end in pairwise(places):
        yield Span(start, end, 0, tape.length(end - start), 0)
    sure = tape.either_way(shape.length_follows.either_way(design.spec.tolerances))
    length = f"{tape.length(shape.length)} hoop to hoop, {sure} either way"
    yield Span(places[0], places[-1], 1, length, 2)
    if shape.tail_end > places[-1]:
        whole = tape.length(shape.tail_end)
        yield Span(places[0], shape.tail_end, 2, f"{whole} with the tail", 2)


def _written_at(span: Span) -> float:
    """In the middle of a line, and nearer the mouth below another long one: staggered, both stay legible."""
    return span.start + (0.3 if span.row > 1 else 0.5) * (span.end - span.start)


def _depth(row: int, widest: float) -> float:
    return widest * (FIRST_LINE + LINE_GAP * row)


def _dimension(span: Span, widest: float) -> Iterator[DimensionLine]:
    low, tick = -_depth(span.row, widest), TICK * widest
    yield DimensionLine((span.start, 0.0, low), (span.end, 0.0, low))
    for place in (span.start, span.end):
        yield DimensionLine((place - tick, 0.0, low - tick), (place + tick, 0.0, low + tick))


def _drawn_out(design: Design, spans: list[Span], widest: float) -> Iterator[DimensionLine]:
    """Lines from the foot of every hoop, and from the tail's end, to the lowest line that ends there."""
    feet = {
        float(place): hoop.outline.reach[0]
        for place, hoop in zip(design.shape.hoop_positions, design.plan.hoops, strict=True)
    }
    feet.setdefault(design.shape.tail_end, 0.0)
    for place, foot in feet.items():
        rows = [span.row for span in spans if place in (span.start, span.end)]
        if rows:
            low = -_depth(max(rows), widest) - OVERRUN * widest
            yield DimensionLine((place, 0.0, foot - 2 * TICK * widest), (place, 0.0, low))


def _diameters(design: Design) -> Iterator[Label]:
    tape = design.spec.tape
    for place, hoop in zip(design.shape.hoop_positions, design.plan.hoops, strict=True):
        yield Label(size_text(tape, hoop), (float(place), 0.0, hoop.outline.reach[1]), 1, str(hoop.number))
