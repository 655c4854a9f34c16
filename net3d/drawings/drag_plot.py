"""Drag against current as a small drawing (SVG): the range of the models and the middle one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from net3d.drawings.axes import Axes, ticks
from net3d.drawings.palette import BAND, LINE
from net3d.units import Tape
from net3d.water.loads import Loads

CURVE = 49  # places along a curve
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
    axes = Axes(ticks(points[-1][0]), ticks(max(point[3] for point in points)))
    band = [axes.place(p[0], p[3]) for p in points] + [axes.place(p[0], p[1]) for p in reversed(points)]
    dots = "".join(_dot(axes.place(current, drag[1])) for current, drag in zip(named, drags, strict=True))
    curves = (
        f'<polygon points="{" ".join(band)}" fill="{BAND}" stroke="{LINE}" stroke-width="0.8"/>'
        f'<polyline points="{" ".join(axes.place(p[0], p[2]) for p in points)}" fill="none" stroke="{LINE}" '
        f'stroke-width="2"/>{dots}'
    )
    words = tape.header("current", "speed"), f"{tape.header('drag', 'force')}, band: low to high"
    return axes.drawn(title, words, curves)


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


def _dot(place: str) -> str:
    x, y = place.split(",")
    return f'<circle cx="{x}" cy="{y}" r="3" fill="{LINE}"/>'
