"""At which knots of a row meshes are taken together, or hung on extra: evenly around, turned row by row.

Where it can be so, the left side of the net mirrors the right. It then pulls straight, and its
equilibrium need be sought on one side only.
"""

from __future__ import annotations

from math import pi

import numpy as np
from numpy.typing import NDArray

from net3d.plan.joins import JUST_SHORT, Row

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
GOLDEN = (5**0.5 - 1) / 2  # turned by this from row to row, no two rows line up, so that no ridge forms


def even_places(row: Row, count: int, number: int) -> Ints:
    """Knots of a row, evenly spread, turned by the golden part of their spacing with each row (count,)."""
    angles = (np.arange(count) + (number * GOLDEN) % 1.0) * (2 * pi / count)
    return np.asarray(np.floor((angles - row.phase) / row.pitch).astype(int) % row.count)


def mirrored_places(row: Row, count: int, number: int, apart: int = 2) -> Ints | None:
    """The same with the left mirroring the right, neighbours at least ``apart`` knots apart (count,).

    An odd one out stands at the top or at the bottom, row by row in turn. None where there is no knot to be
    had there, or the places would crowd.
    """
    half = half_pitch(row)
    if half is None or count > row.count // apart:
        return None
    spacing = 2 * pi / count
    if count % 2 == 0:
        first = 0.25 + 0.5 * ((number * GOLDEN) % 1.0)
        right = _nearest(row, np.asarray((np.arange(count // 2) + first) * spacing), apart)
        places = np.concatenate([right, -right - half])
    else:
        middle = _middle_knot(row, half, number)
        if middle is None:
            return None
        steps = np.arange(1, count // 2 + 1) * spacing / row.pitch
        right = np.rint(steps).astype(int)
        places = np.concatenate([[middle], middle + right, middle - right])
    places = np.sort(places % row.count)
    gaps = np.diff(np.concatenate([places, places[:1] + row.count]))
    return places if count == 1 or gaps.min() >= apart else None


def half_pitch(row: Row) -> int | None:
    """1 for a row half a pitch off the reference mark, 0 for one on it, None for any other."""
    halves = 2.0 * row.phase / row.pitch
    near = round(halves)
    return near % 2 if abs(halves - near) < 2 * JUST_SHORT + 1e-6 else None


def has_middle(row: Row) -> bool:
    """Whether a knot stands at the top or at the bottom, where an odd mesh leaves left and right alike."""
    half = half_pitch(row)
    return half is not None and _middle_knot(row, half, 0) is not None


def _nearest(row: Row, angles: Floats, apart: int) -> Ints:
    """The knots nearest to some angles on the right side, so far from top and bottom that both sides fit."""
    steps = apart * np.arange(len(angles))
    last = (row.count - apart - (half_pitch(row) or 0)) // 2 - steps[::-1]
    nearest = np.rint((angles - row.phase) / row.pitch).astype(int)
    return np.asarray(np.clip(nearest, 1 + steps, np.maximum(last, 1)))


def _middle_knot(row: Row, half: int, number: int) -> int | None:
    """The knot at the top or the bottom of a row, in turn where there are both; None where there is none."""
    top = 0 if half == 0 else None
    bottom = (row.count - half) // 2 if (row.count - half) % 2 == 0 else None
    choice = (top, bottom) if number % 2 == 0 else (bottom, top)
    return next((knot for knot in choice if knot is not None), None)
