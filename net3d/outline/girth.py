"""How far it is around a round hoop: the one place that knows pi D."""

from __future__ import annotations

from math import pi


def girth_of(diameter: float) -> float:
    """Around a circle, ``pi D`` [m]; ``diameter`` D in [m].

    >>> round(girth_of(1.0), 6)
    3.141593
    """
    return pi * diameter


def diameter_of(girth: float) -> float:
    """Diameter of the circle that is so long around, ``D = C / pi`` [m]; ``girth`` C in [m].

    Source: geometry.

    >>> round(diameter_of(girth_of(0.9)), 12)
    0.9
    """
    return girth / pi
