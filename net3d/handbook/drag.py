"""Drag of cylinders and of netting: published coefficients with the range each was found in."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from net3d.errors import NetError
from net3d.handbook.table import read_table

Floats = NDArray[np.float64]


@cache
def _cylinder_table() -> tuple[Floats, Floats]:
    rows = read_table("cylinder_drag")
    reynolds = np.array([float(row["reynolds"]) for row in rows])
    return np.log(reynolds), np.log([float(row["drag_coefficient"]) for row in rows])


def cylinder_drag(reynolds: Floats) -> Floats:
    """Drag coefficient of a smooth round cylinder across the flow, on diameter times length [-].

    Straight between the rows of ``cylinder_drag.csv`` on logarithmic scales. Below its first row, Re 0.01,
    the coefficient of that row stands: the force there is too small to matter.

    Parameters
    ----------
    reynolds : Reynolds number ``U d / nu`` (k,) [-]

    Raises
    ------
    NetError
        Above Re 2e5, where the boundary layer turns turbulent and no single figure holds.

    Examples
    --------
    >>> cylinder_drag(np.array([100.0, 1000.0])).round(3).tolist()
    [1.361, 1.005]
    """
    known, coefficients = _cylinder_table()
    numbers = np.log(np.maximum(np.asarray(reynolds, dtype=float), np.exp(known[0])))
    if np.any(numbers > known[-1] + 1e-9):
        raise NetError(
            f"No drag coefficient is known here above a Reynolds number of {np.exp(known[-1]):,.0f}, and "
            f"{np.exp(numbers.max()):,.0f} is asked for: the rod is too thick for this current."
        )
    return np.asarray(np.exp(np.interp(numbers, known, coefficients)))


@dataclass(frozen=True)
class DragModel:
    """A published model of the drag of netting, its coefficients and the range it was found in."""

    name: str  # in this table
    title: str  # what it is
    form: str  # plane, outline, cylinder, twine or bag
    coefficients: tuple[float, ...]
    solidity: tuple[float, float]
    reynolds: tuple[float, float]
    source: str
    read: bool  # whether its coefficients were read, and are not from memory


@cache
def drag_models() -> dict[str, DragModel]:
    """The models of ``screen_models.csv`` by name.

    >>> drag_models()["Loland"].solidity
    (0.13, 0.317)
    """
    return {
        row["model"]: DragModel(
            row["model"],
            row["title"],
            row["form"],
            tuple(map(float, row["coefficients"].split("|"))),
            (float(row["solidity_low"]), float(row["solidity_high"])),
            (float(row["reynolds_low"] or 0.0), float(row["reynolds_high"] or "inf")),
            row["source"],
            row["mark"] == "seen",
        )
        for row in read_table("screen_models")
    }
