"""Drag against current as a small drawing (SVG): the range of the models and the middle one."""

from __future__ import annotations

from html import escape
from math import ceil, floor, log10

import numpy as np
from numpy.typing import NDArray

from net3d.drawings.palette import BAND, GRID, INK, LINE
from net3d.units import Tape, three_figures
from net3d.water.loads import Loads

WIDTH, HEIGHT = 480, 300
LEFT, RIGHT, TOP, BOTTOM = 64, 16, 34, 48
CURVE = 49  # places along a curve
STEPS = 5  # about as many ticks on an axis
Floats = NDArray[np.float64]


def drag_plot(title: str, tape: Tape, rows: tuple[Loads, ...]) -> str:
    """The range of drag over the current, with the model of the shape as a line through it.

    Parameters
    ----------
    title : what stands above it
    tape : what its numbers are in
    rows : loads, slowest current first, one or more
    """
    named = [tape.number(loads.current, "speed") for loads in rows]
    drags = [
        [tape.number(drag, "force") for drag in (loads.drag_low, loads.drag, loads.drag_high)]
        for loads in rows
    ]
    points = _curve(np.array(named), np.array(drags))
    across, up = _ticks(points[-1][0]), _ticks(max(point[3] for point in points))

    def place(current: float, drag: float) -> str:
        x = LEFT + current / across[-1] * (WIDTH - LEFT - RIGHT)
        y = HEIGHT - BOTTOM - drag / up[-1] * (HEIGHT - TOP - BOTTOM)
        return f"{x:.1f},{y:.1f}"

    band = [place(p[0], p[3]) for p in points] + [place(p[0], p[1]) for p in reversed(points)]
    dots = "".join(_dot(place(current, drag[1])) for current, drag in zip(named, drags, strict=True))
    return "".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
            f'font-family="sans-serif" font-size="12" fill="{INK}">',
            f"<title>{escape(title)}</title>",
            f'<text x="{LEFT}" y="20" font-size="14">{escape(title)}</text>',
            "".join(_rule(place(0.0, tick), place(across[-1], tick), tick, "end") for tick in up),
            "".join(_rule(place(tick, 0.0), place(tick, up[-1]), tick, "middle") for tick in across),
            f'<polygon points="{" ".join(band)}" fill="{BAND}" stroke="{LINE}" stroke-width="0.8"/>',
            f'<polyline points="{" ".join(place(p[0], p[2]) for p in points)}" fill="none" stroke="{LINE}" '
            'stroke-width="2"/>',
            dots,
            f'<text x="{(LEFT + WIDTH - RIGHT) / 2}" y="{HEIGHT - 12}" text-anchor="middle">'
            f"{tape.header('current', 'speed')}</text>",
            f'<text transform="translate(16 {(TOP + HEIGHT - BOTTOM) / 2}) rotate(-90)" text-anchor="middle">'
            f"{tape.header('drag', 'force')}, band: low to high</text>",
            "</svg>",
        ]
    )


def _curve(currents: Floats, drags: Floats) -> list[list[float]]:
    """Currents from 0 to the last with their drags, ``D = c u^2``, c straight between those worked out.

    Source: drag at speeds that are not far apart goes with their square.

    Parameters
    ----------
    currents : those worked out (k,)
    drags : in each (k, 3)
    """
    along = np.unique(np.concatenate([np.linspace(0.0, currents[-1], CURVE), currents]))
    coefficients = drags / currents[:, None] ** 2
    squares = [along**2 * np.interp(along, currents, column) for column in coefficients.T]
    return [list(point) for point in np.column_stack([along, *squares]).tolist()]


def _ticks(most: float) -> list[float]:
    """Round numbers from 0 to just above a value.

    >>> _ticks(1.9)
    [0.0, 0.5, 1.0, 1.5, 2.0]
    """
    power = 10.0 ** floor(log10(most / STEPS))
    step = next(power * factor for factor in (1.0, 2.0, 5.0, 10.0) if most / (power * factor) <= STEPS)
    return [round(step * number, 10) for number in range(ceil(most / step - 1e-9) + 1)]


def _rule(start: str, end: str, tick: float, anchor: str) -> str:
    (x1, y1), (x2, y2) = (place.split(",") for place in (start, end))
    x, y = (float(x1) - 6, float(y1) + 4) if anchor == "end" else (float(x1), float(y1) + 16)
    label = f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{three_figures(tick)}</text>'
    return f'<path d="M{x1},{y1}L{x2},{y2}" stroke="{GRID}"/>{label}'


def _dot(place: str) -> str:
    x, y = place.split(",")
    return f'<circle cx="{x}" cy="{y}" r="3" fill="{LINE}"/>'
