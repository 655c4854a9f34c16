"""The numbers in an array, each once."""

from __future__ import annotations

import numpy as np

from net3d.netting.netting import Ints


def distinct(numbers: Ints) -> Ints:
    """Whole numbers in order, without -1, which stands for none. ``np.unique`` loads masked arrays for it.

    >>> distinct(np.array([[3, 0], [7, 3], [-1, 0]])).tolist()
    [0, 3, 7]
    """
    ordered = np.sort(numbers, axis=None)
    return np.asarray(ordered[np.diff(ordered, prepend=-1) > 0])
