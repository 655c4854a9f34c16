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


def numbered(numbers: Ints) -> tuple[Ints, Ints]:
    """Whole numbers (k,) in order, each once, and for each of the k which of these it is.

    >>> distinct_ones, which = numbered(np.array([7, 3, 7]))
    >>> distinct_ones.tolist(), which.tolist()
    ([3, 7], [1, 0, 1])
    """
    order = np.argsort(numbers, kind="stable")  # quick where numbers come in runs
    ordered = numbers[order]
    first = np.diff(ordered, prepend=-1) > 0
    which = np.empty_like(order)
    which[order] = np.cumsum(first) - 1
    return ordered[first], which


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
