"""A hoop as an elastic ring: squeezed by the netting, bent and twisted by the legs of a bridle."""

from __future__ import annotations

from math import pi, sin, tan

import numpy as np

from net3d.handbook.hoops import HoopMaterial
from net3d.netting.netting import Floats
from net3d.outline.elastic import Rod

WAVES = 200  # terms of the bow's series, which falls with the fourth power
STATIONS = 181  # places between a leg and the middle at which stress is looked at


def sprung_rod(material: HoopMaterial, diameter: float, share: float) -> float:
    """The thickest rod that carries a part of its strength sprung into a hoop, ``d = s S D / (E + s S)`` [m].

    Parameters
    ----------
    material : strength S, modulus E
    diameter : D of the hoop, outside [m]
    share : s of its strength

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


def leg_moments(pull: float, radius: float, legs: int, angles: Floats) -> tuple[Floats, Floats]:
    """Bending and twisting moments of a ring held at some points against an even axial pull (k,) [N m].

    With ``n`` legs, ``a = pi / n`` and t the angle from a leg to the next (0 to 2 a),

        M = P R / (2 pi) (1 - a cos(a - t) / sin a)
        T = P R / (2 pi) (a sin(a - t) / sin a - (a - t))

    Balance and the even spacing alone decide them, whatever the ring is made of: they are the sums of
    ``cos(k t) / (k^2 - 1)`` and ``sin(k t) / (k (k^2 - 1))`` over k = n, 2 n, 3 n ..., times P R / pi.

    Parameters
    ----------
    pull : P, of all legs together along the net [N]
    radius : R of the ring [m]
    legs : n, 2 or more
    angles : t (k,) [rad]

    Examples
    --------
    >>> bending, _ = leg_moments(1.0, 1.0, 2, np.array([0.0]))
    >>> round(float(bending[0]) * 2 * pi, 6)
    1.0
    """
    half = pi / legs
    scale = pull * radius / (2.0 * pi)
    bending = scale * (1.0 - half * np.cos(half - angles) / sin(half))
    twisting = scale * (half * np.sin(half - angles) / sin(half) - (half - angles))
    return np.asarray(bending), np.asarray(twisting)


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


def inward_moments(force: float, radius: float, legs: int, angles: Floats) -> Floats:
    """In-plane bending moment of a ring under equal inward forces at its legs (k,) [N m].

    ``M = F R / 2 (cos(a - t) / sin a - 1 / a)``, a = pi / n, t from one leg to the next. Source: Roark's
    Formulas for Stress and Strain, table of circular rings, two or more equal radial loads (from memory).

    >>> inward_moments(1.0, 1.0, 2, np.array([0.0])).round(4).tolist()
    [-0.3183]
    """
    half = pi / legs
    return np.asarray(force * radius / 2.0 * (np.cos(half - angles) / sin(half) - 1.0 / half))


def leg_stress(pull: float, inward: float, rod: Rod, legs: int) -> float:
    """Largest stress that the legs of a bridle bring into a ring, ``sqrt(s^2 + 3 t^2)`` [Pa].

    ``s = sqrt(M^2 + M_in^2) d / (2 I)``, ``t = T d / (4 I)``, the worst place from a leg to half-way.

    Parameters
    ----------
    pull : of all legs together along the net [N]
    inward : of one leg toward the middle [N]
    """
    angles = np.linspace(0.0, pi / legs, STATIONS)
    bending, twisting = leg_moments(pull, rod.ring_radius, legs, angles)
    in_plane = inward_moments(inward, rod.ring_radius, legs, angles)
    edge = rod.diameter / (2.0 * rod.inertia)
    normal, shear = np.hypot(bending, in_plane) * edge, twisting * edge / 2.0
    return float(np.sqrt(normal**2 + 3.0 * shear**2).max())


def leg_inward(pull: float, radius: float, legs: int, length: float) -> float:
    """Force of one leg toward the middle, ``P / n tan b``, sin b = radius over the leg's length [N].

    >>> round(leg_inward(60.0, 0.4, 3, 0.8), 2)
    11.55
    """
    return pull / legs * tan(np.arcsin(radius / length))
