"""What anchor and line a pull needs."""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, cos, sqrt, tan

from net3d.handbook.anchors import Holding, find_holding, holdings
from net3d.handbook.rope import rope_strength
from net3d.handbook.water import water_constant


@dataclass(frozen=True)
class AnchorLine:
    """The anchor line under a pull. SI units."""

    tension: float
    rise: float  # angle over the bottom [rad]
    scope: float  # its length over the height it climbs
    strength: float  # breaking load
    needed_strength: float  # with the safety factor
    needed_diameter: float  # of rope of the table

    @property
    def factor(self) -> float:
        """Breaking load over tension."""
        return self.strength / self.tension if self.tension > 0 else float("inf")


@dataclass(frozen=True)
class AnchorNeed:
    """The weight in air [kg] of one type of anchor that holds a pull on a bottom, safety factor included."""

    holding: Holding
    weight: float  # at the least that it holds
    weight_at_best: float  # at the most


def line_rise(length: float, height: float) -> float:
    """Angle over the bottom of a straight line to a net's middle, ``sin a = h / l`` [rad].

    A line that is shorter than that stands upright, pi / 2.

    >>> round(line_rise(3.0, 0.4), 4)
    0.1337
    """
    return asin(min(height / length, 1.0))


def line_under(pull: float, length: float, height: float, diameter: float) -> AnchorLine:
    """The anchor line under a pull along the bottom [N]: ``T = H / cos a``.

    Parameters
    ----------
    pull : H along the bottom [N]
    length : of the line [m]
    height : from the bottom to the net's middle [m]
    diameter : of the rope [m]
    """
    rise = line_rise(length, height)
    tension = pull / max(cos(rise), 1e-9)
    needed = water_constant("safety_line") * tension
    return AnchorLine(
        tension=tension,
        rise=rise,
        scope=length / height if height > 0 else float("inf"),
        strength=rope_strength(diameter),
        needed_strength=needed,
        needed_diameter=sqrt(needed / rope_strength(1.0)),
    )


def needed_weight(pull: float, rise: float, holding: Holding, efficiency: float) -> float:
    """Weight in air of an anchor that holds a pull with the safety factor s [kg].

    Deadweight, friction on what is left of its weight in water after the line's lift:
    ``W = s (H / mu + H tan a) / (g (1 - rho_w / rho))``; others ``W = s H / (e g)``.

    Parameters
    ----------
    pull : H along the bottom [N]
    rise : a of the line over the bottom [rad]
    efficiency : friction mu, or holding over weight in air e

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
    """What every type of anchor on every bottom of the table must weigh to hold a pull."""
    return tuple(
        AnchorNeed(
            holding,
            needed_weight(pull, rise, holding, holding.least),
            needed_weight(pull, rise, holding, holding.most),
        )
        for holding in holdings()
    )


def holding_factor(pull: float, rise: float, anchor: tuple[str, str, float]) -> float | None:
    """What an anchor of a type, on a bottom, of a weight in air [kg] holds at the least over a pull [N].

    None where the table has no figure for it.

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
