"""What anchor and line a pull needs."""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, cos, tan

from net3d.handbook.anchors import Holding, find_holding, holdings
from net3d.handbook.rope import Rope
from net3d.handbook.water import water_constant

GENTLE_SCOPE = 3.0  # a line of less length over height pulls steeply; common practice, no source


@dataclass(frozen=True)
class AnchorLine:
    """The anchor line under a pull along the bottom. SI units.

    A straight line to the net's middle: ``sin a = h / l``, ``T = H / cos a``; one that is shorter than that
    height stands upright. Source: balance.

    Examples
    --------
    >>> line = AnchorLine(pull=100.0, length=5.0, height=3.0, rope=Rope(0.006))
    >>> round(line.tension, 6), line.factor, line.as_made(length=10.0).scope
    (125.0, 20.0, 3.3333333333333335)
    """

    pull: float  # H
    length: float  # l
    height: float  # h, from the bottom to the net's middle
    rope: Rope
    rope_drag: float = 0.0  # the part of H that the water has on the ropes

    @property
    def rise(self) -> float:
        """Angle a over the bottom [rad]."""
        return asin(min(self.height / self.length, 1.0))

    @property
    def scope(self) -> float:
        """Its length over the height it climbs [-]."""
        return self.length / self.height if self.height > 0 else float("inf")

    @property
    def tension(self) -> float:
        """T [N]."""
        return self.pull / max(cos(self.rise), 1e-9)

    @property
    def needed_strength(self) -> float:
        """Breaking load that it takes, wet and at its ends, safety factor included [N]."""
        return water_constant("safety_line") * self.tension

    @property
    def factor(self) -> float:
        """Breaking load, wet and at its ends, over tension [-]."""
        return self.rope.strength / self.tension if self.tension > 0 else float("inf")

    @property
    def is_steep(self) -> bool:
        """Whether it lifts what it is made fast to more than it should."""
        return self.scope < GENTLE_SCOPE

    @property
    def gentle_length(self) -> float:
        """The length at which it is not steep [m]."""
        return GENTLE_SCOPE * self.height

    def as_made(self, length: float | None = None, rope: Rope | None = None) -> AnchorLine:
        """The line of another length [m] or rope, with the drag that more rope has."""
        length, rope = length or self.length, rope or self.rope
        more = rope.diameter / self.rope.diameter * length / self.length
        pull = self.pull + self.rope_drag * max(more - 1.0, 0.0)
        return AnchorLine(pull, length, self.height, rope, self.rope_drag * max(more, 1.0))


@dataclass(frozen=True)
class AnchorNeed:
    """What one type of anchor must weigh to hold a pull on a bottom, safety factor included."""

    holding: Holding
    weight: float  # in air, were it to hold no more than the least of its kind [kg]


def needed_weight(pull: float, rise: float, holding: Holding, efficiency: float) -> float:
    """Weight in air of an anchor that holds a pull with the safety factor s [kg].

    Deadweight, friction on what is left of its weight in water after the line's lift:
    ``W = s (H / mu + H tan a) / (g (1 - rho_w / rho))``; others ``W = s H / (e g)``. Source: friction and
    balance; the figures of ``anchors.csv``.

    Parameters
    ----------
    pull : H along the bottom [N]
    rise : a of the line over the bottom [rad]
    efficiency : friction mu, or holding over weight in air e [-]

    Examples
    --------
    >>> from net3d.handbook.anchors import find_holding
    >>> round(needed_weight(100.0, 0.0, find_holding("concrete block", "sand"), 0.5), 1)
    71.0
    """
    gravity, safety = water_constant("gravity"), water_constant("safety_anchor")
    if holding.deadweight:
        return safety * (pull / efficiency + pull * tan(rise)) / (gravity * holding.in_water)
    return safety * pull / (efficiency * gravity)


def anchor_needs(pull: float, rise: float) -> tuple[AnchorNeed, ...]:
    """What every type of anchor on every bottom of the table must weigh to hold a pull.

    Parameters
    ----------
    pull : along the bottom [N]
    rise : of the line over the bottom [rad]
    """
    return tuple(
        AnchorNeed(holding, needed_weight(pull, rise, holding, holding.least)) for holding in holdings()
    )


def holding_factor(pull: float, rise: float, anchor: tuple[str, str, float]) -> float | None:
    """What an anchor holds at the least over a pull [-]; None where the table has no figure for it.

    Parameters
    ----------
    pull : along the bottom [N]
    rise : of the line over the bottom [rad]
    anchor : its type, the bottom, its weight in air [kg]

    >>> round(holding_factor(100.0, 0.0, ("concrete block", "sand", 71.0)), 2)
    2.0
    """
    kind, bottom, weight = anchor
    holding = find_holding(kind, bottom)
    if holding is None:
        return None
    force = weight * water_constant("gravity")
    if holding.deadweight:
        return max(force * holding.in_water / pull - tan(rise), 0.0) * holding.least
    return force * holding.least / pull
