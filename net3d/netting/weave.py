"""Knotting a piece of netting, row by row, from the knots it hangs from."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from net3d.netting.fabric import UNSEATED, Bars, Cord, Fabric, Ring, Seat
from net3d.netting.netting import Ints
from net3d.parts import Part
from net3d.plan.decreases import Piece


@dataclass(frozen=True)
class Cloth:
    """What a piece is knotted of: the part it is, the bar [m] and the twine."""

    part: Part
    bar: float
    cord: Cord
    row: int = 0  # number of the row of knots that it hangs from


def weave(fabric: Fabric, cloth: Cloth, piece: Piece, above: Ints, hem: Seat = UNSEATED) -> Ints:
    """Knot a piece below the knots ``above``, its last row seated on ``hem``; returns that row's knots."""
    for step, join in enumerate(piece.joins):
        last = step == len(piece.changes) - 1
        seat = hem if last else UNSEATED
        ring = Ring(cloth.part, cloth.row + step + 1, join.below.angles(), seat)
        below = fabric.add_ring(ring)
        upper, lower = join.bars()
        ends = np.stack([above[upper], below[lower]], axis=1)
        fabric.add_bars(Bars(cloth.part, step, ends, cloth.bar, cloth.cord))
        above = below
    return above
