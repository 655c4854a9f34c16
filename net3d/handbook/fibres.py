"""Fibres: density, what water and a knot take from their strength, and how far they stretch."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from net3d.handbook.table import read_table


@dataclass(frozen=True)
class Fibre:
    """A fibre that netting twine is made of."""

    key: str  # ISO 1043 letters, such as PA
    name: str
    density: float  # kg/m^3
    wet_ratio: float  # wet strength / dry strength
    knot_ratio: float  # strength with a single sheet bend / straight
    half_elongation: float  # stretch at half of the wet knotted strength, as a share of the length
    source: str

    def wet_knotted_strength(self, strength: float) -> float:
        """From the straight, dry breaking strength [N]."""
        return strength * self.wet_ratio * self.knot_ratio

    def stiffness(self, wet_knotted_strength: float) -> float:
        """Secant EA between no load and half of the wet knotted strength [N]."""
        return 0.5 * wet_knotted_strength / self.half_elongation


@cache
def fibres() -> dict[str, Fibre]:
    """The fibres by their letters.

    Examples
    --------
    >>> fibres()["PA"].density
    1140.0
    """
    return {row["fibre"]: _fibre(row) for row in read_table("fibres")}


def _fibre(row: dict[str, str]) -> Fibre:
    return Fibre(
        key=row["fibre"],
        name=row["name"],
        density=float(row["density_kg_m3"]),
        wet_ratio=float(row["wet_ratio"]),
        knot_ratio=float(row["knot_ratio"]),
        half_elongation=float(row["half_elongation"]),
        source=row["source"],
    )
