"""Rope for bridles and lines: strength and stretch by diameter."""

from __future__ import annotations

import csv
from importlib.resources import files


def rope_stiffness(diameter: float, fibre: str = "polypropylene") -> float:
    """Secant stiffness EA of a rope at half its strength [N].

    ``EA = 0.5 F / elongation_half``, ``F = k d^2``, with k and the elongation at half load from
    ``rope.csv``; ``diameter`` d in [m].

    >>> round(rope_stiffness(0.006))
    29520
    """
    with files("net3d.handbook").joinpath("rope.csv").open(encoding="utf-8") as table:
        row = next(row for row in csv.DictReader(table) if row["fibre"] == fibre)
    strength = float(row["strength_per_diameter_squared_MPa"]) * 1e6 * diameter**2
    return 0.5 * strength / float(row["elongation_half"])


def rope_strength(diameter: float, fibre: str = "polypropylene") -> float:
    """Breaking strength of a rope, ``F = k d^2`` [N]; ``diameter`` d in [m].

    >>> round(rope_strength(0.006))
    5904
    """
    with files("net3d.handbook").joinpath("rope.csv").open(encoding="utf-8") as table:
        row = next(row for row in csv.DictReader(table) if row["fibre"] == fibre)
    return float(row["strength_per_diameter_squared_MPa"]) * 1e6 * diameter**2
