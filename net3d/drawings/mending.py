"""A hole laid out flat: what to cut, where the twine starts, and the way it takes to where it ends."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

import numpy as np

from net3d.drawings.drawing import LEADING, TEXT, Drawing, Words, drawing_svg, ground_of, lines_of
from net3d.drawings.palette import INK
from net3d.mending.lattice import Lattice
from net3d.mending.mended import Mended
from net3d.mending.trail import Mend, numbered
from net3d.netting.netting import Floats

WIDTH, HEIGHT = 186.0, 225.0  # what is left of Letter and of A4, standing [mm]
MARGIN = 14.0  # for the numbers of rows [mm]
AROUND = 2  # rows and meshes of whole netting shown around the hole
STEP_MOST = 14.0  # from row to row at most [mm]
SMALL = 2.6  # type of the numbers at knots [mm]
DISC, CROSS, RING = 2.0, 2.4, 2.6  # behind a number, at a bar to cut, around the ends [mm]
ROOMY = 8.0  # rows so far apart leave room for figures of full size [mm]
EXPLAINED = (
    "Thick: the way of the twine; its knots are numbered in the order in which they are tied. Thin: whole "
    "netting. Crossed: bars to cut first. Rows are numbered at the left."
)


def mend_drawing(mended: Mended, title: str, room: float = 0.0) -> str:
    """A hole and the way of the twine through it, as SVG: the mouth side above.

    Parameters
    ----------
    mended, title : the hole, and what is written over it
    room : how high it may be where it stands on a page that says the rest; 0: a page of its own [mm]
    """
    lattice, made = mended.hole.lattice, mended.way
    shown = _Shown(lattice, made)
    head = () if room else lines_of(EXPLAINED, WIDTH)
    top = LEADING * TEXT * (len(head) + 4 if head else 2)
    rows = shown.last - shown.first
    high = (room or HEIGHT) - top - 2 * LEADING * TEXT
    step = min(STEP_MOST, high / rows, (WIDTH - 2 * MARGIN) / (2 * shown.half))
    width = 2 * (step * shown.half + MARGIN) if room else WIDTH
    places = shown.places(step, (width / 2, top))
    words = [] if room else [Words(title, WIDTH / 2, LEADING * TEXT, size=1.2 * TEXT)]
    words += [Words(line, WIDTH / 2, LEADING * TEXT * (at + 2.5)) for at, line in enumerate(head)]
    figures = min(1.0, step / ROOMY)
    labels = [*_end_labels(lattice, made, places, figures)]
    words += [*_row_numbers(shown, step, top), *_knot_numbers(made, places, figures), *labels]
    below = (*_netting(shown, places), *_way(lattice, made, places, figures), *map(ground_of, labels))
    height = top + rows * step + 2 * LEADING * TEXT
    return drawing_svg(Drawing(title, width, height, below, (), tuple(words)))


class _Shown:
    """The rows and the knots around a hole that are drawn."""

    def __init__(self, lattice: Lattice, made: Mend) -> None:
        self.lattice = lattice
        rows = [lattice.row_and_place(knot)[0] for knot in made.knots]
        self.first, self.last = max(min(rows) - AROUND, 0), min(max(rows) + AROUND, len(lattice.counts) - 1)
        self.middle = float(np.angle(np.exp(1j * lattice.angles[list(made.knots)]).mean()))
        pitch = 2 * pi / max(lattice.counts[self.first : self.last + 1])
        self.across = self._from_middle() / pitch  # of the narrowest mesh, from the hole's middle
        self.half = float(np.abs(self.across[list(made.knots)]).max()) + AROUND

    def _from_middle(self) -> Floats:
        return np.asarray((self.lattice.angles - self.middle + pi) % (2 * pi) - pi)

    def places(self, step: float, middle: tuple[float, float]) -> Floats:
        """Every knot on the paper (knots, 2) [mm]."""
        rows = np.repeat(np.arange(len(self.lattice.counts)), self.lattice.counts)
        return np.stack([middle[0] + step * self.across, middle[1] + (rows - self.first) * step], axis=1)

    def bars(self) -> Iterator[int]:
        """The bars that are drawn."""
        upper, lower = self.across[self.lattice.ends].T
        near = (np.abs(upper) <= self.half) & (np.abs(lower) <= self.half) & (np.abs(upper - lower) < 2)
        rows = (self.lattice.steps >= self.first) & (self.lattice.steps < self.last)
        yield from np.flatnonzero(near & rows).tolist()


def _netting(shown: _Shown, places: Floats) -> Iterator[str]:
    path = "".join(
        f"M{a[0]:.2f} {a[1]:.2f}L{b[0]:.2f} {b[1]:.2f}"
        for a, b in (places[shown.lattice.ends[bar]] for bar in shown.bars())
    )
    yield f'<path d="{path}" fill="none" stroke="{INK}" stroke-width="0.2"/>'


def _way(lattice: Lattice, made: Mend, places: Floats, figures: float) -> Iterator[str]:
    line = " ".join(f"{x:.2f},{y:.2f}" for x, y in places[list(made.knots)])
    yield f'<polyline points="{line}" fill="none" stroke="{INK}" stroke-width="0.9"/>'
    for bar in sorted(made.trim.cut):
        (ax, ay), (bx, by) = places[lattice.ends[bar]]
        x, y, wide = (ax + bx) / 2, (ay + by) / 2, round(figures * CROSS, 2)
        ways = f"M{x - wide / 2:.2f} {y - wide / 2:.2f}l{wide} {wide}m0 {-wide}l{-wide} {wide}"
        yield f'<path class="cut" d="{ways}" fill="none" stroke="{INK}" stroke-width="0.4"/>'
    for knot in dict.fromkeys(made.knots):
        x, y = places[knot]
        end = knot in (made.knots[0], made.knots[-1])
        size = f'r="{figures * (RING if end else DISC):.2f}" stroke="{INK if end else "none"}"'
        yield f'<circle cx="{x:.2f}" cy="{y:.2f}" {size} fill="white" stroke-width="0.4"/>'


def _knot_numbers(made: Mend, places: Floats, figures: float) -> Iterator[Words]:
    size = figures * SMALL
    tied = [knot for one in made.passes for knot in one.tied]
    for number, knot in enumerate(tied, start=1):
        x, y = places[knot]
        yield Words(str(number), float(x), float(y) + 0.36 * size, size=size)


def _end_labels(lattice: Lattice, made: Mend, places: Floats, figures: float) -> Iterator[Words]:
    """Where the twine starts, over its ring, and where it ends, under it."""
    apart = figures * RING + 1.0
    told = ("start", -apart), ("finish", apart + 0.8 * TEXT)
    ends = dict(zip((made.knots[0], made.knots[-1]), told, strict=True))
    for knot, label in zip(ends, numbered(lattice, tuple(ends)), strict=True):
        (x, y), (word, down) = places[knot], ends[knot]
        yield Words(f"{word}, {label}", float(x), float(y) + down)


def _row_numbers(shown: _Shown, step: float, top: float) -> Iterator[Words]:
    for row in range(shown.first, shown.last + 1):
        yield Words(str(row), MARGIN / 2, top + (row - shown.first) * step + SMALL / 3, size=SMALL)
