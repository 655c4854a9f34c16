"""The river at a net: which currents, and how fast the water runs at the bottom where the net lies."""

from __future__ import annotations

from math import log, radians, sqrt

from net3d.handbook.table import read_table
from net3d.handbook.water import water_constant
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.water.water import Stream


def currents_of(spec: NetSpec) -> tuple[float, ...]:
    """Currents that the spec names, slowest first [m/s]; none unless it does."""
    named = {*spec.water.currents, *([spec.rigging.current] if spec.rigging.current else [])}
    return tuple(sorted(named))


def usual_currents() -> tuple[float, ...]:
    """Currents for a table where the spec names none [m/s].

    >>> usual_currents()[0], usual_currents()[-1]
    (0.25, 2.0)
    """
    return tuple(float(row["speed_mps"]) for row in read_table("currents"))


def stream_of(spec: NetSpec, plan: Plan, current: float) -> Stream:
    """The river of a spec at a net, in a current as the spec means it [m/s]."""
    return Stream(
        speed=current * share_at_net(spec, plan),
        toward=-1.0 if spec.rigging.anchor == "tail" else 1.0,
        angle=radians(spec.water.angle),
        blocked=spec.water.blocked,
        caught=spec.water.caught,
    )


def share_at_net(spec: NetSpec, plan: Plan) -> float:
    """Speed of the water at the net over the current that the spec names [-]; 1 where that is at the net."""
    water = spec.water
    if water.current_at == "net" or water.depth is None:
        return 1.0
    height = max(top - foot for foot, top in (hoop.outline.reach for hoop in plan.hoops))
    named = surface_speed(water.depth) if water.current_at == "surface" else mean_speed(water.depth)
    return speed_up_to(min(height, water.depth), water.depth) / named


def surface_speed(depth: float) -> float:
    """Speed at the surface over 2.5 friction speeds [-], ``ln(h / z0)``, h the depth [m].

    The logarithmic law ``u = ln(z / z0)`` over a bed whose friction length z0 is a thousandth of the depth.
    Source: ``handbook/water.csv``.

    >>> round(mean_speed(2.0) / surface_speed(2.0), 2)
    0.86
    """
    return log(depth / friction_length(depth))


def mean_speed(depth: float) -> float:
    """Mean over the depth [m], ``ln(h / z0) - 1 + z0 / h``, over the same [-]."""
    length = friction_length(depth)
    return log(depth / length) - 1.0 + length / depth


def speed_up_to(height: float, depth: float) -> float:
    """The speed whose square is the mean of the squares from the bottom up to a height, over the same [-].

    ``u^2 = L^2 - 2 L + 2 - 2 z0 / D``, L = ln(D / z0): drag goes by the square of speed. Source:
    integral of that law.

    Parameters
    ----------
    height : D, of the net [m]
    depth : h, of the water [m]

    Examples
    --------
    >>> round((speed_up_to(0.5, 2.0) / mean_speed(2.0)) ** 2, 2)
    0.61
    """
    length = friction_length(depth)
    over = log(max(height / length, 1.0))
    return sqrt(max(over**2 - 2.0 * over + 2.0 - 2.0 * length / height, 0.0))


def friction_length(depth: float) -> float:
    """z0, the height over the bed at which the logarithmic law has no speed left [m]."""
    return water_constant("friction_length") * depth
