"""Lacing: how the hoops are sewn in, hoop by hoop, and the twine and hitches that it takes."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from net3d.handbook.allowances import allowance
from net3d.handbook.twine import Twine
from net3d.parts import Part
from net3d.plan.plan import HoopPlan, Plan
from net3d.spec.spec import LacingSpec


@dataclass(frozen=True)
class Lacing:
    """One row of netting sewn to a hoop."""

    hoop: int
    body: bool  # whether the lacing takes the body
    throats: tuple[Part, ...]  # that it takes, in the same hitches
    knots: int
    hitches_per_knot: int
    twine: Twine
    length: float  # of lacing twine [m]

    @property
    def hitches(self) -> int:
        """Hitches all around."""
        return self.knots * self.hitches_per_knot


def hitch_length(rod: float, diameter: float) -> float:
    """Twine in one half hitch around a rod and the netting's knot on it [m].

    ``pi (rod + d) + c d``: once around along the middle of the twine, and c diameters where it crosses itself
    and is drawn tight (handbook, common practice).

    Parameters
    ----------
    rod : its diameter [m]
    diameter : d of the twine [m]

    >>> round(hitch_length(0.0127, 0.002), 4)
    0.0542
    """
    return pi * (rod + diameter) + allowance("hitch_diameters") * diameter


def lacing_length(hoop: HoopPlan, knots: int, hitches: int, diameter: float) -> float:
    """Lacing twine all around a hoop: its hitches, and once along the knots inside the rod [m].

    ``N h (pi (rod + d) + c d) + C``, N knots of h hitches, C around the knots.
    """
    return knots * hitches * hitch_length(hoop.rod_diameter, diameter) + hoop.knot_girth


def lace(plan: Plan, lacing: LacingSpec) -> tuple[Lacing, ...]:
    """Every row of netting that is sewn to a hoop, mouth first; a throat at its own marks after the body."""
    rows = []
    for hoop in plan.hoops:
        throats = [throat for throat in plan.throats if throat.hoop == hoop.number]
        shared = tuple(throat.part for throat in throats if not throat.own_marks)
        rows.append(_row(hoop, (True, shared), hoop.meshes_around, lacing))
        rows += [
            _row(hoop, (False, (throat.part,)), throat.piece.rows[0].count, lacing)
            for throat in throats
            if throat.own_marks
        ]
    return tuple(rows)


def _row(hoop: HoopPlan, layers: tuple[bool, tuple[Part, ...]], knots: int, lacing: LacingSpec) -> Lacing:
    hitches = lacing.mouth if hoop.number == 1 else lacing.hitches
    length = lacing_length(hoop, knots, hitches, lacing.twine.diameter)
    return Lacing(hoop.number, *layers, knots, hitches, lacing.twine, length)
