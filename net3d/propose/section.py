"""A section of netting between two equal hoops in closed form: how long it hangs and how far it necks in.

Without weight and stretch, with b the bar, N meshes around, ``c = pi / N``, waist w and knots' radius R, n
meshes deep: ``n = (1 / c) integral_w^R sqrt(b^2 - c^2 w^2) / sqrt((b^2 - c^2 r^2) (r^2 - w^2)) dr`` and
``length = (2 / c) integral_w^R sqrt(b^2 - c^2 r^2) / sqrt(r^2 - w^2) dr``. Source: balance of a shell.
"""

from __future__ import annotations

from functools import lru_cache
from math import acosh, asin, pi, sqrt, tanh

import numpy as np
from scipy.optimize import brentq
from scipy.special import ellipkinc

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
NARROWEST = 0.05  # waist over knots' radius that is looked at


@lru_cache(maxsize=65536)
def section_form(radius: float, around: int, bar: float, deep: float) -> tuple[float, float]:
    """Length and waist radius of a section [m], between equal hoops.

    Parameters
    ----------
    radius : of the knots on the hoops [m]
    bar : one side of a mesh [m]
    deep : meshes [-]

    Source: balance of a shell.

    >>> length, waist = section_form(0.4, 44, 0.04445, 6)
    >>> round(length, 3), round(waist, 3)
    (0.417, 0.367)
    """
    c = pi / around

    def rows(waist: float) -> float:
        # sinh u = tan g turns the integral into F(g | 1 + k^2); the reciprocal modulus keeps it below 1.
        a = sqrt(bar**2 - (c * waist) ** 2)
        arc = asin(min(1.0, bar / a * tanh(acosh(radius / waist))))
        return float(a / bar * ellipkinc(arc, (a / bar) ** 2) / c)

    least = NARROWEST * radius
    if rows(least) < deep:
        return 2 * deep * bar, least  # so deep that it hangs as a rope
    waist = float(brentq(lambda w: rows(w) - deep, least, radius * (1 - 1e-12), xtol=1e-12))
    top = acosh(radius / waist)
    places = top * (_NODES + 1) / 2
    heights = np.sqrt(bar**2 - (c * waist * np.cosh(places)) ** 2)
    return float(top * (_WEIGHTS * heights).sum() / c), waist


def reach_form(radius: float, around: int, bar: float) -> float:
    """Length along the netting of a mesh on a hoop [m]: ``2 sqrt(b^2 - (pi R / N)^2)``. Source: geometry.

    Parameters
    ----------
    radius : of the knots [m]
    bar : one side of a mesh [m]
    """
    return 2 * sqrt(max(bar**2 - (pi * radius / around) ** 2, 0.0))
