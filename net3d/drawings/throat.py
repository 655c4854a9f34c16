"""A throat laid out flat: its rows of knots, the meshes in each, and where two loops are taken together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import pi

import numpy as np

from net3d.chain import Design
from net3d.drawings.drawing import LEADING, TEXT, Drawing, Words, drawing_svg, ground_of, text_width
from net3d.drawings.palette import INK
from net3d.netting.netting import Floats
from net3d.plan.decreases import Piece
from net3d.plan.joins import Row
from net3d.plan.plan import ThroatPlan
from net3d.shop.knitting import EXTRA, KnitRow, single_rows

WIDTH, DEEP = 240.0, 84.0  # of the drawing, and of all its rows together at most [mm]
BOX, ROW, TAKES, TOGETHER = 4.0, 7.0, 31.0, 50.0  # where the table's columns begin [mm]
TOP = 3 * LEADING * TEXT
FOOT = LEADING * TEXT
ROW_MOST = 9.0  # from row to row at most [mm]
KNOT, BATING = 0.35, 0.85  # radii [mm]


def throat_pattern(design: Design, number: int) -> str:
    """The netting of a throat laid out flat, as SVG: the hoop above, the tip below.

    It is cut at the reference mark. Every row of knots has its line of the knitting table beside it; a full
    dot is a knot that takes two loops, an open one a knot with an extra loop hung on it.

    Raises IndexError where there is no throat of the number, from 1.
    """
    if not 1 <= number <= len(design.plan.throats):
        raise IndexError(f"The net has {len(design.plan.throats)} throats, and no throat {number}.")
    throat = design.plan.throats[number - 1]
    piece = throat.piece
    step = min(ROW_MOST, DEEP / max(len(piece.changes), 1))
    levels: Floats = TOP + step * np.arange(len(piece.rows), dtype=float)
    knitted = single_rows(piece) if design.spec.netting.made != "sheet" else []
    left = _left(knitted)
    width = (WIDTH - left) / (max(row.count for row in piece.rows) + 1)
    places = [_places(row, left, width, float(level)) for row, level in zip(piece.rows, levels, strict=True)]
    bars = "".join(_bars(piece, places))
    numbers = list(_numbers(piece, knitted, places))
    below = [
        f'<path d="{bars}" fill="none" stroke="{INK}" stroke-width="0.3"/>',
        *_knots(piece, places),
        *(ground_of(words) for words in numbers),
        *(_box(level) for level in levels.tolist() if knitted and step >= BOX),
    ]
    words = (
        *_heading(design, throat),
        *_table(knitted, levels, step),
        *_row_words(piece, levels, step),
        *numbers,
    )
    height = float(levels[-1]) + FOOT
    return drawing_svg(
        Drawing(f"{design.spec.title}: throat {number}", WIDTH, height, tuple(below), (), words)
    )


def _left(knitted: Sequence[KnitRow]) -> float:
    """Where the pattern begins [mm]: beyond the table, which is as wide as what it says."""
    if not knitted:
        return TAKES
    longest = max(text_width(_together(row)) for row in knitted)
    return TOGETHER + max(longest, text_width("together")) + 4.0


def _together(row: KnitRow) -> str:
    extras = ", ".join(f"{EXTRA}{knot}" for knot in row.extras)
    return ", ".join(filter(None, (*row.together, extras)))


def _table(knitted: Sequence[KnitRow], levels: Floats, step: float) -> Iterator[Words]:
    """Beside every row what its knots take, as far as there is room from row to row."""
    if not knitted or step < LEADING * TEXT:
        return
    head = TOP - LEADING * TEXT
    for text, x in (("row: knots", BOX + 3.0), ("knot 1 takes", TAKES - 4.0), ("together", TOGETHER)):
        yield Words(text, x, head, from_left=True)
    for row, level in zip(knitted, levels.tolist()[1:], strict=True):
        foot = level + 0.35 * TEXT
        yield Words(row.starts[0], TAKES + 4.0, foot, from_left=True)
        if text := _together(row):
            yield Words(text, TOGETHER, foot, from_left=True)


def _numbers(piece: Piece, knitted: Sequence[KnitRow], places: Sequence[Floats]) -> Iterator[Words]:
    """At every full dot the loops that it takes, or the first of them, where there is room for it."""
    for at, row in enumerate(knitted):
        taken = np.bincount(piece.joins[at].owner, minlength=row.knots)
        dots = [places[at + 1][knot].tolist() for knot in np.flatnonzero(taken > 1)]
        free = [*(x for x, _ in dots[1:]), WIDTH]
        for (x, y), loops, next_dot in zip(dots, row.together, free, strict=False):
            start = x + BATING + 0.4
            for text in (loops, loops.split("+")[0]):
                if start + text_width(text) < next_dot - BATING:
                    yield Words(text, start, y + 0.35 * TEXT, from_left=True)
                    break


def _box(level: float) -> str:
    """A box to tick off a row."""
    size = 3.0
    return (
        f'<rect x="1" y="{level - size / 2:.2f}" width="{size}" height="{size}" fill="none" stroke="{INK}"'
        ' stroke-width="0.35"/>'
    )


def _places(row: Row, left: float, width: float, level: float) -> Floats:
    """Knots of a row across the paper, in order around, every mesh equally wide (count, 2) [mm]."""
    across = (row.angles() - pi) / (2 * pi) * row.count * width
    return np.stack([left + (WIDTH - left) / 2 + across, np.full(row.count, level)], axis=1)


def _bars(piece: Piece, places: Sequence[Floats]) -> Iterator[str]:
    """Bars as strokes; one that crosses the cut runs half its way off either edge."""
    for at, join in enumerate(piece.joins):
        upper, lower = join.bars()
        first, second = piece.rows[at], join.below
        turn = np.rint((first.angles()[upper] - second.angles()[lower]) / (2 * pi))
        starts, ends, plain = places[at][upper], places[at + 1][lower], turn == 0
        for left, top, right, low in np.hstack([starts[plain], ends[plain]]).tolist():
            yield f"M{left:.2f} {top:.2f}L{right:.2f} {low:.2f}"
        for start, end, over in zip(starts[~plain], ends[~plain], turn[~plain].tolist(), strict=True):
            yield from _halves(start, end, over, (_span(places[at]), _span(places[at + 1])))


def _span(row: Floats) -> float:
    """How wide a row is, once around [mm]."""
    return float(row[1, 0] - row[0, 0]) * len(row)


def _halves(start: Floats, end: Floats, over: float, spans: tuple[float, float]) -> Iterator[str]:
    """Of a bar that crosses the cut the part at either edge that lies on the paper."""
    for shift in (0.0, over):
        here = start - np.array([shift * spans[0], 0.0])
        there = end + np.array([(over - shift) * spans[1], 0.0])
        middle = (here + there) / 2
        here, there = (here, middle) if shift == 0 else (middle, there)
        yield f"M{here[0]:.2f} {here[1]:.2f}L{there[0]:.2f} {there[1]:.2f}"


def _knots(piece: Piece, places: Sequence[Floats]) -> Iterator[str]:
    for at, (join, change) in enumerate(zip(piece.joins, piece.changes, strict=True)):
        taken = np.bincount(join.owner, minlength=join.below.count)
        for (x, y), loops in zip(places[at + 1].tolist(), taken.tolist(), strict=True):
            radius, fill = (BATING if loops > 1 else KNOT), INK
            yield f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{radius}" fill="{fill}"/>'
        for knot in change.creasings:
            x, y = places[at][knot].tolist()
            look = f'fill="white" stroke="{INK}" stroke-width="0.3"'
            yield f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{BATING}" {look}/>'


def _heading(design: Design, throat: ThroatPlan) -> Iterator[Words]:
    spec = design.spec
    around = throat.piece.rows[0].count
    bar = spec.tape.mesh(throat.bar)
    line = (
        f"Throat {throat.number}, on hoop {throat.hoop}: {around} meshes around, {throat.tip} at the tip, "
        f"bar {bar}, twine {throat.twine.name}; laid out flat, cut at the reference mark"
    )
    yield Words(line, WIDTH / 2, LEADING * TEXT)


def _row_words(piece: Piece, levels: Floats, step: float) -> Iterator[Words]:
    """Row number and meshes beside each row, or beside as many as there is room for, changes first."""
    every = int(np.ceil(LEADING * TEXT / step))
    changes = [0, *(change.gain for change in piece.changes)]
    for at, (row, level, gain) in enumerate(zip(piece.rows, levels.tolist(), changes, strict=True)):
        if at % every and at != len(levels) - 1:
            continue
        lost = f" ({gain:+d})" if gain else ""
        text = f"{at}: {row.count}{lost}"
        yield Words(text, BOX + 3.0, level + 0.35 * TEXT, from_left=True)
