"""Polygons that stand for a round twine or rod."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

# Neighbours turned by this angle never stand alike, however many there are: 1 / golden ratio^2 of a turn.
GOLDEN_ANGLE = np.pi * (3.0 - np.sqrt(5.0))


@lru_cache
def round_polygon(sides: int) -> NDArray[np.float64]:
    """Corners of the regular polygon with the area of the unit circle, counter-clockwise (sides, 2) [-].

    An inscribed polygon would make every twine thinner than it is. ``n / 2 R^2 sin(2 pi / n) = pi`` for n
    sides, 3 or more, and circumradius R. Source: geometry.

    >>> round(float(np.hypot(*round_polygon(6)[0])), 4)
    1.0996
    """
    angles = 2.0 * np.pi * np.arange(sides) / sides
    circumradius = np.sqrt(2.0 * np.pi / (sides * np.sin(2.0 * np.pi / sides)))
    corners: NDArray[np.float64] = circumradius * np.column_stack([np.cos(angles), np.sin(angles)])
    return corners
