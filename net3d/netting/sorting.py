"""What sorting tells of numbers; numpy's own functions for it load masked arrays, a hundredth of a second."""

from __future__ import annotations

import numpy as np

from net3d.netting.netting import Floats, Ints


def distinct(numbers: Ints) -> Ints:
    """Whole numbers in order, each once, without -1, which stands for none.

    >>> distinct(np.array([[3, 0], [7, 3], [-1, 0]])).tolist()
    [0, 3, 7]
    """
    ordered = np.sort(numbers, axis=None)
    return np.asarray(ordered[np.diff(ordered, prepend=-1) > 0])


def quantile(values: Floats, share: float) -> float:
    """The value that a share of all stay below, straight between two of them. Source: definition.

    Parameters
    ----------
    values : (n,), whatever their unit [-]
    share : of them [-]

    Examples
    --------
    >>> quantile(np.array([3.0, 1.0, 2.0]), 0.75)
    2.5
    """
    return float(np.interp(share, np.linspace(0.0, 1.0, len(values)), np.sort(values)))
