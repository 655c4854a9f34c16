"""How much twine a piece of netting takes, its knots counted."""

from __future__ import annotations

from net3d.handbook.knots import knot_factor
from net3d.plan.decreases import Piece


def twine_length(around: int, deep: float, stretched: float, diameter: float) -> float:
    """Twine in a tube of netting, its knots counted [m].

    ``L = 2 M N (m + K d)``, K of the single sheet bend. Source: lecture notes after Fridman, Calculations for
    Fishing Gear Designs, FAO 1986.

    Parameters
    ----------
    around : M meshes
    deep : N [meshes]
    stretched : stretched mesh m [m]
    diameter : d of the twine [m]

    >>> round(twine_length(100, 10, 0.1, 0.001), 3)
    232.0
    """
    return 2.0 * around * deep * (stretched + knot_factor() * diameter)


def piece_twine(piece: Piece, bar: float, diameter: float) -> float:
    """Twine in a piece that may lose or gain meshes: ``bars b + knots K d`` [m].

    Where it does neither it comes to ``twine_length``.

    Parameters
    ----------
    piece : its bars and knots
    bar : b [m]
    diameter : d of the twine [m]
    """
    return piece.bars * bar + piece.knots * knot_factor() * diameter
