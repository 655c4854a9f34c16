"""A hoop as an elastic ring: what holds its waves, and how netting that pulls inward lets them grow.

A ring of radius R bends by waves n = 2, 3 ... (0 moves all of it, 1 tilts or shifts it). Out of its plane,
``u = a cos n t``, the rod bends and twists; the twist taken such that the energy ``K a^2 / 2`` is least,

    K_n = pi E I n^2 (n^2 - 1)^2 / ((n^2 + E I / G J) R^3)

In its plane, ``w = c cos n t`` outward and along the rod ``v' = -w``, so that it keeps its length,

    K_n = pi E I (n^2 - 1)^2 / R^3

An inward load of q a metre of rod, which keeps its direction, gains as the wave draws the ring together:
by ``q pi n^2 a^2 / 2`` out of the plane, since the mean radius shrinks by ``n^2 a^2 / 4 R``, and by
``q pi (n^2 - 1)^2 c^2 / 2 n^2`` in it, by ``(n^2 - 1)^2 c^2 / 4 n^2 R``. So K falls as 1 - q / q_n with

    q_n = E I (n^2 - 1)^2 / ((n^2 + E I / G J) R^3)    out of its plane
    q_n = E I n^2 / R^3                                in its plane

Where the load turns with the netting, the netting's own bars tell that. Source: derived; the same critical
loads (9 E I / (4 + E I / G J) R^3 and 4 E I / R^3 for n = 2) are in Timoshenko and Gere, Theory of Elastic
Stability, articles 7.3 and 7.5, and the energies in Love, Mathematical Theory of Elasticity, article 293
(from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from net3d.handbook.hoops import HoopMaterial
from net3d.handbook.water import submerged_weight


@dataclass(frozen=True)
class Rod:
    """A round rod or tube bent to a ring. SI units."""

    ring_radius: float  # of its middle line [m]
    diameter: float  # [m]
    material: HoopMaterial

    @property
    def bore(self) -> float:
        """Diameter of the hollow, 0 for a solid rod [m]."""
        return self.diameter * (1.0 - 2.0 * self.material.wall_share)

    @property
    def ring_length(self) -> float:
        """Around its middle line, ``2 pi R`` [m]."""
        return 2 * pi * self.ring_radius

    @property
    def area(self) -> float:
        """Cross-section [m^2]."""
        return pi / 4 * (self.diameter**2 - self.bore**2)

    @property
    def weight(self) -> float:
        """A metre of it in water, which is in its hollow too [N/m]."""
        return submerged_weight(self.area * self.material.density, self.material.density)

    @property
    def inertia(self) -> float:
        """Second moment of area I, ``pi (d^4 - b^4) / 64`` [m^4]; twice as much in torsion."""
        return pi / 64 * (self.diameter**4 - self.bore**4)

    @property
    def bending_stiffness(self) -> float:
        """E I [N m^2]."""
        return self.material.modulus * self.inertia

    @property
    def twisting_stiffness(self) -> float:
        """G J = 2 G I [N m^2]."""
        return 2.0 * self.material.shear_modulus * self.inertia

    @property
    def sprung_stress(self) -> float:
        """Bending stress of a straight rod sprung into the ring, ``E d / (2 R)`` [Pa]."""
        return self.material.modulus * self.diameter / (2.0 * self.ring_radius)


def across_stiffness(rod: Rod, number: int, inward: float = 0.0) -> float:
    """What holds a wave out of the ring's plane, K_n less what the inward load gives [N/m].

    Parameters
    ----------
    number : n, 2 or more waves around
    inward : q of the netting, a metre of rod [N/m]

    Examples
    --------
    >>> from net3d.handbook.hoops import hoop_materials
    >>> rod = Rod(0.45, 0.0127, hoop_materials()["fibreglass"])
    >>> [round(across_stiffness(rod, number)) for number in (2, 3, 4)]
    [5829, 58540, 240505]
    """
    square, bend, twist = number**2, rod.bending_stiffness, rod.twisting_stiffness
    free = pi * bend * square * (square - 1) ** 2 / ((square + bend / twist) * rod.ring_radius**3)
    return free - pi * square * inward


def within_stiffness(rod: Rod, number: int, inward: float = 0.0) -> float:
    """The same of a wave in the ring's plane [N/m].

    >>> from net3d.handbook.hoops import hoop_materials
    >>> rod = Rod(0.45, 0.0127, hoop_materials()["fibreglass"])
    >>> round(within_stiffness(rod, 2)), round(within_stiffness(rod, 2, 4 * 434.3), -1)
    (12283, 0.0)
    """
    square = number**2
    free = pi * rod.bending_stiffness * (square - 1) ** 2 / rod.ring_radius**3
    return free - pi * (square - 1) ** 2 / square * inward


def least_load(rod: Rod, number: int) -> float:
    """The inward load under which a wave, out of the ring's plane or in it, grows by itself, q_n [N/m].

    >>> from net3d.handbook.hoops import hoop_materials
    >>> round(least_load(Rod(0.45, 0.0127, hoop_materials()["fibreglass"]), 2))
    464
    """
    square, bend, twist = number**2, rod.bending_stiffness, rod.twisting_stiffness
    across = (square - 1) ** 2 / (square + bend / twist)
    return min(across, square) * bend / rod.ring_radius**3
