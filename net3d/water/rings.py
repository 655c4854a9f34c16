"""A hoop as an elastic ring: squeezed by the netting, bent and twisted by the legs of a bridle."""

from __future__ import annotations

from math import asin, hypot, pi, tan

import numpy as np

from net3d.handbook.hoops import HoopMaterial
from net3d.outline.elastic import Rod

WAVES = 200  # terms of the bow's series, which falls with the fourth power


def sprung_rod(material: HoopMaterial, diameter: float, share: float) -> float:
    """The thickest rod that carries a part of its strength sprung into a hoop, ``d = s S D / (E + s S)`` [m].

    Source: bending of a straight rod to a circle, ``stress = E d / (D - d)``.

    Parameters
    ----------
    material : strength S, modulus E
    diameter : D of the hoop, outside [m]
    share : s of its strength [-]

    Examples
    --------
    >>> from net3d.handbook.hoops import hoop_materials
    >>> round(sprung_rod(hoop_materials()["fibreglass"], 0.9144, 0.8), 4)
    0.0116
    """
    allowed = share * material.strength
    return allowed * diameter / (material.modulus + allowed)


def buckling_load(rod: Rod) -> float:
    """Even inward load at which a ring buckles in its plane, ``q = 3 E I / R^3`` [N/m].

    For a load that keeps square to the ring, the least of the classic cases; netting that pulls to one
    direction or to the middle lets it bear a third to a half more. Source: Timoshenko and Gere, Theory of
    Elastic Stability, 1961, article 7.3 (from memory).

    >>> from net3d.handbook.hoops import hoop_materials
    >>> round(buckling_load(Rod(0.45, 0.008, hoop_materials()["steel"])))
    1324
    """
    return 3.0 * rod.bending_stiffness / rod.ring_radius**3


def leg_moment(pull: float, radius: float, legs: int) -> float:
    """Bending moment at the legs of a ring held there against an even axial pull [N m].

    With ``n`` legs and ``a = pi / n``, ``M = P R / (2 pi) (1 - a / tan a)``. Balance and the even spacing
    alone decide it, whatever the ring is made of. Between two legs it bends less, the other way, and twists:
    the moments there are the sums of ``cos(k t) / (k^2 - 1)`` and ``sin(k t) / (k (k^2 - 1))`` over
    k = n, 2 n ..., times P R / pi. Source: balance of a curved
    beam in bending and twist.

    Parameters
    ----------
    pull : P, of all legs together along the net [N]
    radius : R of the ring [m]
    legs : n, 2 or more

    Examples
    --------
    >>> round(leg_moment(1.0, 1.0, 2) * 2 * pi, 6)
    1.0
    """
    half = pi / legs
    return pull * radius / (2.0 * pi) * (1.0 - half / tan(half))


def leg_bow(pull: float, rod: Rod, legs: int) -> float:
    """How far a ring bows between its legs, from a leg to the middle between two, along the net [m].

        bow = 2 P R^3 / pi  sum_k (E I + G J k^2) / (E I G J k^2 (k^2 - 1)^2),  k = n, 3 n, 5 n ...

    Each wave's height is the work of the legs over twice its energy in bending and twisting, the twist of the
    rod taken such that the energy is least.

    Parameters
    ----------
    pull : P, of all legs together along the net [N]
    legs : n, 2 or more

    Examples
    --------
    >>> from net3d.handbook.hoops import hoop_materials
    >>> hoop = Rod(0.45, 0.012, hoop_materials()["fibreglass"])
    >>> [round(leg_bow(60.0, hoop, legs) * 1000, 1) for legs in (2, 3, 4)]
    [25.9, 2.6, 0.6]
    """
    bend, twist, radius = rod.bending_stiffness, rod.twisting_stiffness, rod.ring_radius
    waves = legs * (2.0 * np.arange(WAVES) + 1.0)
    heights = (bend + twist * waves**2) / (bend * twist * waves**2 * (waves**2 - 1.0) ** 2)
    return float(2.0 * pull * radius**3 / pi * heights.sum())


def inward_moment(force: float, radius: float, legs: int) -> float:
    """In-plane bending moment at the legs of a ring under equal inward forces there [N m].

    ``M = F R / 2 (1 / a - 1 / tan a)``, a = pi / n; half-way between two legs it is less, and the other way.
    Source: Roark's Formulas for Stress and Strain, table of circular rings, two or more equal radial loads.

    Parameters
    ----------
    force : F, of one leg toward the middle [N]
    radius : R of the ring [m]
    legs : n, 2 or more

    Examples
    --------
    >>> round(inward_moment(1.0, 1.0, 2), 4)
    0.3183
    """
    half = pi / legs
    return force * radius / 2.0 * (1.0 / half - 1.0 / tan(half))


def leg_stress(pull: float, inward: float, rod: Rod, legs: int) -> float:
    """Largest stress that the legs of a bridle bring into a ring, ``sqrt(M^2 + M_in^2) d / (2 I)`` [Pa].

    It is at the legs, where both moments are largest and the rod does not twist: the twist half-way brings
    less than half of that, also as ``sqrt(s^2 + 3 t^2)`` counts it.

    Parameters
    ----------
    pull : of all legs together along the net [N]
    inward : of one leg toward the middle [N]
    """
    across = leg_moment(pull, rod.ring_radius, legs)
    in_plane = inward_moment(inward, rod.ring_radius, legs)
    return hypot(across, in_plane) * rod.diameter / (2.0 * rod.inertia)


def leg_inward(pull: float, radius: float, legs: int, length: float) -> float:
    """Force of one leg toward the middle, ``P / n tan b``, sin b = radius over the leg's length [N].

    Parameters
    ----------
    pull : P, of all legs along the net [N]
    radius : of the ring [m]
    legs : n
    length : of a leg [m]

    >>> round(leg_inward(60.0, 0.4, 3, 0.8), 2)
    11.55
    """
    return pull / legs * tan(asin(radius / length))
