"""Anchors: what holds on which bottom, as ranges."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from net3d.handbook.table import read_table
from net3d.handbook.water import water_constant


@dataclass(frozen=True)
class Holding:
    """What a type of anchor holds on a bottom, over its weight: in water for a deadweight, else in air."""

    type: str
    bottom: str
    deadweight: bool
    least: float
    most: float
    density: float  # kg/m^3
    source: str
    mark: str

    @property
    def in_water(self) -> float:
        """Part of its weight that is left in fresh water [-]."""
        return 1.0 - water_constant("fresh_water_density") / self.density


@cache
def holdings() -> tuple[Holding, ...]:
    """All rows of the anchor table.

    Examples
    --------
    >>> holdings()[0].type, holdings()[0].bottom, holdings()[0].least
    ('concrete block', 'sand', 0.5)
    """
    return tuple(
        Holding(
            row["type"],
            row["bottom"],
            row["kind"] == "deadweight",
            float(row["least"]),
            float(row["most"]),
            float(row["density_kg_m3"]),
            row["source"],
            row["mark"],
        )
        for row in read_table("anchors")
    )


def anchor_types() -> tuple[str, ...]:
    """The types of anchor.

    >>> anchor_types()[-1]
    'fluke'
    """
    return tuple(dict.fromkeys(holding.type for holding in holdings()))


def bottoms() -> tuple[str, ...]:
    """The kinds of bottom.

    >>> bottoms()[:2]
    ('sand', 'mud')
    """
    return tuple(dict.fromkeys(holding.bottom for holding in holdings()))


def find_holding(type_: str, bottom: str) -> Holding | None:
    """What a type of anchor holds on a bottom; None where the table has no figure for it.

    >>> find_holding("fluke", "rock") is None
    True
    """
    return next((h for h in holdings() if (h.type, h.bottom) == (type_, bottom)), None)
