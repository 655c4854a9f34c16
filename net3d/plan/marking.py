"""Marks along a hoop: where the knots land, measured with a tape around the outside."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def mark_readings(circumference: float, count: int, offset: float, step: float) -> NDArray[np.float64]:
    """Tape readings of a hoop's marks, each rounded once, so that errors never add up.

    ``reading_j = round((offset + j C / N) / step) step`` (N,) [m]. Source: arithmetic.

    Parameters
    ----------
    circumference : C [m]
    count : N marks
    offset : of the first mark from the reference mark [m]
    step : of the tape [m]

    >>> mark_readings(1.0, 3, 0.0, 0.001).tolist()
    [0.0, 0.333, 0.667]
    """
    exact = offset + np.arange(count) * (circumference / count)
    return np.asarray(np.round(exact / step) * step)


def step_around(circumference: float, count: int, step: float) -> tuple[float, float]:
    """One pitch rounded to the tape, and by how much ``count`` such steps miss the circumference [m].

    ``error = N round(C / N / step) step - C``; above zero the last step overshoots the first mark. Source:
    arithmetic.

    Parameters
    ----------
    circumference : C [m]
    count : N steps
    step : of the tape [m]

    >>> pitch, error = step_around(1.0, 3, 0.001)
    >>> round(pitch, 6), round(error, 6)
    (0.333, -0.001)
    """
    pitch = float(np.round(circumference / count / step) * step)
    return pitch, pitch * count - circumference
