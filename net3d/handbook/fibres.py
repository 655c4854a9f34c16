"""Fibres: density, what water and a knot take from their strength, and how far they stretch."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from statistics import linear_regression

from net3d.handbook.table import read_table
from net3d.units import unit_factor

NETTING_LAY = "twisted"  # netting twine; the table's other lay tells how far twines of one fibre differ


@dataclass(frozen=True)
class Fibre:
    """A fibre that netting twine is made of."""

    key: str  # ISO 1043 letters, such as PA
    name: str
    density: float  # kg/m^3
    wet_ratio: float  # wet strength / dry strength
    knot_ratio: float  # strength with a single sheet bend / straight
    half_elongation: float  # stretch at half of the wet knotted strength, as a share of the length
    stiffening: float  # B, how much of EA every newton adds, from measured rows; 0 where there are none [-]
    source: str

    def wet_knotted_strength(self, strength: float) -> float:
        """From the straight, dry breaking strength [N]."""
        return strength * self.wet_ratio * self.knot_ratio

    def stiffness(self, wet_knotted_strength: float) -> float:
        """EA as the twine begins to pull, A of ``T / e = A + B T`` [N].

        ``A = F (1 / h - B)``, so that half of the wet knotted strength, F, stretches it by h. Without
        measured rows B is 0, and A the secant up to there. Source: h of ``fibres.csv``, B of
        ``twine_stretch.csv``.
        """
        return 0.5 * wet_knotted_strength * (1.0 / self.half_elongation - self.stiffening)


@cache
def fibres() -> dict[str, Fibre]:
    """The fibres by their letters.

    Examples
    --------
    >>> fibres()["PA"].density
    1140.0
    """
    return {row["fibre"]: _fibre(row) for row in read_table("fibres")}


def stiffening(fibre: str, lay: str = NETTING_LAY) -> float:
    """B of ``T / e = A + B T``, a straight line through the rows of ``twine_stretch.csv`` [-].

    Source: fitted to these rows. 0 for a fibre that has none there. A goes with how thick twine is, B does
    not, where twines of a fibre differ by the number of their yarns only.

    Parameters
    ----------
    fibre : its letters, such as ``"PA"``
    lay : how the twine is made, ``"twisted"`` or ``"braided"``

    Examples
    --------
    >>> round(stiffening("PA"), 2), stiffening("PE")
    (3.98, 0.0)
    """
    rows = [row for row in read_table("twine_stretch") if (row["fibre"], row["lay"]) == (fibre, lay)]
    if not rows:
        return 0.0
    newton = float(unit_factor("lbf")[0])
    loads = [float(row["load_lbf"]) * newton for row in rows]
    secants = [load / float(row["stretch"]) for load, row in zip(loads, rows, strict=True)]
    return linear_regression(loads, secants).slope


def _fibre(row: dict[str, str]) -> Fibre:
    return Fibre(
        key=row["fibre"],
        name=row["name"],
        density=float(row["density_kg_m3"]),
        wet_ratio=float(row["wet_ratio"]),
        knot_ratio=float(row["knot_ratio"]),
        half_elongation=float(row["half_elongation"]),
        stiffening=stiffening(row["fibre"]),
        source=row["source"],
    )
