"""Rope for bridles and lines: least strength by material and size, and what its ends leave of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from net3d.handbook.table import read_table
from net3d.units import Tape, read_quantity

SAME_SIZE = 1e-6  # of a diameter


@dataclass(frozen=True)
class Rope:
    """Three-strand rope: diameter [m], material, and whether its ends are knotted or spliced.

    >>> Rope(0.006).new_strength, Rope(0.006).strength, round(Rope(0.006).stiffness)
    (5000.0, 2500.0, 29520)
    """

    diameter: float
    material: str = "polypropylene"
    ends: str = "knotted"

    @property
    def new_strength(self) -> float:
        """Least breaking strength, new, dry and straight [N]."""
        return rope_strength(self.diameter, self.material)

    @property
    def strength(self) -> float:
        """The same, wet and at its ends, where it breaks [N]."""
        return self.new_strength * _material(self.material)["wet_ratio"] * kept_at_ends(self.ends)

    @property
    def stiffness(self) -> float:
        """Secant EA up to half of its strength, ``EA = k d^2`` [N]. Source: k in ``rope.csv``."""
        return _material(self.material)["stiffness_per_diameter_squared_MPa"] * 1e6 * self.diameter**2


def rope_strength(diameter: float, material: str) -> float:
    """Least breaking strength of new rope [N].

    A size of ``rope.csv`` has the strength that stands there. Between two sizes it is straight on logarithmic
    scales, and the lower of what inch and metric sizes say; thinner rope than the table's goes by d^2, which
    is low, since strength over d^2 falls with size.

    Parameters
    ----------
    diameter : d [m]
    material : one of ``rope_materials()``

    Raises
    ------
    ValueError : thicker than all rope of the table

    Examples
    --------
    >>> round(rope_strength(0.007, "polypropylene")), round(rope_strength(0.003, "polypropylene"))
    (6008, 1117)
    """
    found = [_read_off(diameter, *sizes) for sizes in _sizes(material)]
    exact = [strength for strength, is_size in found if is_size]
    return exact[0] if exact else min(strength for strength, _ in found)


def sold_sizes(material: str, tape: Tape) -> tuple[float, ...]:
    """The diameters that rope of a material is sold in, thinnest first [m].

    >>> sold_sizes("nylon", Tape("m"))[:3]
    (0.005, 0.006, 0.008)
    """
    inch, metric = _sizes(material)
    return (inch if tape.in_inches else metric)[0]


def rope_materials() -> tuple[str, ...]:
    """What rope is made of.

    >>> rope_materials()
    ('polypropylene', 'nylon', 'polyester')
    """
    return tuple(row["material"] for row in read_table("rope_materials"))


def other_rope_names() -> dict[str, str]:
    """Other names, each with the one the table goes by.

    >>> other_rope_names()["PP"]
    'polypropylene'
    """
    rows = read_table("rope_materials")
    return {other: row["material"] for row in rows for other in row["also"].split("|")}


def rope_ends() -> tuple[str, ...]:
    """How the ends of a rope can be made fast.

    >>> rope_ends()
    ('knotted', 'spliced')
    """
    return tuple(row["ends"] for row in read_table("rope_ends"))


def kept_at_ends(ends: str) -> float:
    """Part of its strength that a rope keeps at its ends [-].

    >>> kept_at_ends("spliced")
    0.85
    """
    return next(float(row["kept"]) for row in read_table("rope_ends") if row["ends"] == ends)


def thickest_rope() -> float:
    """The thickest rope whose strength is known here, whatever its material [m].

    >>> round(thickest_rope(), 4)
    0.0508
    """
    return min(max(sizes[-1] for sizes, _ in _sizes(material)) for material in rope_materials())


@cache
def _material(name: str) -> dict[str, float]:
    row = next(row for row in read_table("rope_materials") if row["material"] == name)
    return {key: float(row[key]) for key in ("wet_ratio", "stiffness_per_diameter_squared_MPa")}


@cache
def _sizes(material: str) -> tuple[tuple[tuple[float, ...], tuple[float, ...]], ...]:
    """Diameters [m] and strengths [N], inch sizes and then metric ones, thinnest first."""
    rows = [row for row in read_table("rope") if row["material"] == material]
    systems = []
    for unit in ("in", "mm"):
        own = [row for row in rows if row["size"].endswith(f" {unit}")]
        diameters = tuple(read_quantity(row["size"], "length") for row in own)
        systems.append((diameters, tuple(read_quantity(row["minimum_strength"], "force") for row in own)))
    return tuple(systems)


def _read_off(diameter: float, sizes: tuple[float, ...], strengths: tuple[float, ...]) -> tuple[float, bool]:
    """Strength of a diameter by one list of sizes [N], and whether it is one of them."""
    near = int(np.abs(np.array(sizes) - diameter).argmin())
    if abs(sizes[near] - diameter) <= SAME_SIZE * diameter:
        return strengths[near], True
    if diameter < sizes[0]:
        return strengths[0] * (diameter / sizes[0]) ** 2, False
    if diameter > sizes[-1]:
        if diameter > thickest_rope():
            raise ValueError(f"no rope in the table is so thick: {diameter}")
        return float("inf"), False  # the other list goes further, and the lower of the two counts
    return float(np.exp(np.interp(np.log(diameter), np.log(sizes), np.log(strengths)))), False
