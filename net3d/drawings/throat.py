"""A throat laid out flat: its rows of knots, the meshes in each, and where two loops are taken together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import pi

import numpy as np

from net3d.chain import Design
from net3d.drawings.drawing import LEADING, TEXT, Drawing, Words, drawing_svg
from net3d.drawings.palette import HOOPS, THROATS
from net3d.netting.netting import Floats
from net3d.plan.decreases import Piece
from net3d.plan.plan import ThroatPlan

WIDTH, HEIGHT = 186.0, 225.0  # what is left of Letter and of A4, standing [mm]
LEFT = 30.0  # for the numbers of the rows [mm]
TOP = 4 * LEADING * TEXT
FOOT = 2 * LEADING * TEXT
ROW_MOST = 9.0  # from row to row at most [mm]
KNOT, BATING = 0.35, 0.85  # radii [mm]


def throat_pattern(design: Design, number: int) -> str:
    """The netting of a throat laid out flat, as SVG: the hoop above, the tip below.

    It is cut at the reference mark. Every row of knots has its number and its meshes beside it; a full dot is
    a knot that takes two loops, an open one a knot with an extra loop hung on it.

    Raises IndexError where there is no throat of the number, from 1.
    """
    if not 1 <= number <= len(design.plan.throats):
        raise IndexError(f"The net has {len(design.plan.throats)} throats, and no throat {number}.")
    throat = design.plan.throats[number - 1]
    piece = throat.piece
    step = min(ROW_MOST, (HEIGHT - TOP - FOOT) / max(len(piece.changes), 1))
    levels: Floats = TOP + step * np.arange(len(piece.rows), dtype=float)
    width = (WIDTH - LEFT) / (max(row.count for row in piece.rows) + 1)
    places = [_places(piece, at, width, float(level)) for at, level in enumerate(levels)]
    bars = "".join(_bars(piece, places))
    below = [f'<path d="{bars}" fill="none" stroke="{THROATS}" stroke-width="0.3"/>', *_knots(piece, places)]
    height = float(levels[-1]) + FOOT
    words = (*_heading(design, throat), *_row_words(piece, levels, step))
    return drawing_svg(
        Drawing(f"{design.spec.title}: throat {number}", WIDTH, height, tuple(below), (), words)
    )


def _places(piece: Piece, at: int, width: float, level: float) -> Floats:
    """Knots of a row across the paper, in order around, every mesh equally wide (count, 2) [mm]."""
    row = piece.rows[at]
    across = (row.angles() - pi) / (2 * pi) * row.count * width
    return np.stack([LEFT + (WIDTH - LEFT) / 2 + across, np.full(row.count, level)], axis=1)


def _bars(piece: Piece, places: Sequence[Floats]) -> Iterator[str]:
    """Bars as strokes; one that crosses the cut runs half its way off either edge."""
    for at, join in enumerate(piece.joins):
        upper, lower = join.bars()
        first, second = piece.rows[at], join.below
        turn = np.rint((first.angles()[upper] - second.angles()[lower]) / (2 * pi))
        starts, ends = places[at][upper], places[at + 1][lower]
        for start, end, over in zip(starts, ends, turn, strict=True):
            yield from _strokes(start, end, float(over), (_span(places[at]), _span(places[at + 1])))


def _span(row: Floats) -> float:
    """How wide a row is, once around [mm]."""
    return float(row[1, 0] - row[0, 0]) * len(row)


def _strokes(start: Floats, end: Floats, over: float, spans: tuple[float, float]) -> Iterator[str]:
    shifts = (0.0,) if over == 0 else (0.0, over)
    for shift in shifts:
        here = start - np.array([shift * spans[0], 0.0])
        there = end + np.array([(over - shift) * spans[1], 0.0])
        if over:  # of each half the part that lies on the paper
            middle = (here + there) / 2
            here, there = (here, middle) if shift == 0 else (middle, there)
        yield f"M{here[0]:.2f} {here[1]:.2f}L{there[0]:.2f} {there[1]:.2f}"


def _knots(piece: Piece, places: Sequence[Floats]) -> Iterator[str]:
    for at, (join, change) in enumerate(zip(piece.joins, piece.changes, strict=True)):
        taken = np.bincount(join.owner, minlength=join.below.count)
        for (x, y), loops in zip(places[at + 1].tolist(), taken.tolist(), strict=True):
            radius, fill = (BATING, HOOPS) if loops > 1 else (KNOT, THROATS)
            yield f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{radius}" fill="{fill}"/>'
        for knot in change.creasings:
            x, y = places[at][knot].tolist()
            look = f'fill="white" stroke="{HOOPS}" stroke-width="0.3"'
            yield f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{BATING}" {look}/>'


def _heading(design: Design, throat: ThroatPlan) -> Iterator[Words]:
    spec = design.spec
    around = throat.piece.rows[0].count
    bar = spec.tape.length(throat.bar)
    lines = (
        f"Throat {throat.number}, on hoop {throat.hoop}: {around} meshes around, {throat.tip} at the tip",
        f"bar {bar}, twine {throat.twine.name}; laid out flat, cut at the reference mark",
        "A full dot takes two loops together. Numbers: row of knots, meshes in it.",
    )
    for number, line in enumerate(lines):
        yield Words(line, WIDTH / 2, (number + 1) * LEADING * TEXT)


def _row_words(piece: Piece, levels: Floats, step: float) -> Iterator[Words]:
    """Row number and meshes beside each row, or beside as many as there is room for, changes first."""
    every = int(np.ceil(LEADING * TEXT / step))
    changes = [0, *(change.gain for change in piece.changes)]
    for at, (row, level, gain) in enumerate(zip(piece.rows, levels.tolist(), changes, strict=True)):
        if at % every and at != len(levels) - 1:
            continue
        lost = f" ({gain:+d})" if gain else ""
        text = f"{at}: {row.count}{lost}"
        yield Words(text, 2.0, level + 0.35 * TEXT, from_left=True)
