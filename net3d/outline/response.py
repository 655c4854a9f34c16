"""What forces around a hoop do to it: how far it bows and goes out of round, and what that stresses it."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np
from numpy.typing import NDArray

from net3d.outline.elastic import Rod, across_stiffness, within_stiffness

Floats = NDArray[np.float64]
WAVES = np.arange(2, 201)  # moments fall with the square of the number
STATIONS = 720  # places around at which bow and stress are looked at


@dataclass(frozen=True)
class Bent:
    """A hoop as forces bend it, beyond how it lay. SI units."""

    bow: float  # from its lowest to its highest point along the net [m]
    oval: float  # from its least to its largest radius [m]
    stress: float  # the largest in bending and twisting, sqrt(s^2 + 3 t^2) [Pa]


def bent(rod: Rod, angles: Floats, forces: Floats, inward: float = 0.0) -> Bent:
    """Bow, oval and stress of a ring under forces at places around it that balance, but for a shift or tilt.

    A wave of forces ``F_n = sum f cos n t`` makes one of the ring, ``a_n = F_n / K_n``. Out of the plane, k =
    E I / G J, the rod bends and twists with

        M_n = E I a_n n^2 (n^2 - 1) / (R^2 (n^2 + k)),   T_n = E I a_n n (n^2 - 1) / (R^2 (n^2 + k))

    and in the plane it bends with ``M_n = E I c_n (n^2 - 1) / R^2``. The stresses are
    ``s = sqrt(M^2 + M_in^2) d / 2 I`` and ``t = T d / 4 I``. Source: the energies in ``elastic``, derived.

    Parameters
    ----------
    angles : where the forces are, from the top (k,) [rad]
    forces : along the net, outward, and around toward growing angles (k, 3) [N]
    inward : q, an even inward load that softens it [N/m]

    Examples
    --------
    >>> from net3d.handbook.hoops import hoop_materials
    >>> places = 2 * pi * np.arange(144) / 144
    >>> forces = np.zeros((144, 3))
    >>> forces[:, 0] = 60.0 / 144  # an even pull of 60 N against three legs
    >>> forces[::48, 0] -= 20.0
    >>> round(bent(Rod(0.45, 0.012, hoop_materials()["fibreglass"]), places, forces).bow * 1000, 1)
    2.6
    """
    squares = WAVES**2
    turned = np.exp(-1j * np.outer(WAVES, angles))
    along, outward, around = forces.T
    across_forces = turned @ along
    within_forces = turned @ outward + (turned * -1j / WAVES[:, None]) @ around
    across = across_forces / [across_stiffness(rod, int(number), inward) for number in WAVES]
    within = within_forces / [within_stiffness(rod, int(number), inward) for number in WAVES]
    waves = np.exp(1j * np.outer(2 * pi * np.arange(STATIONS) / STATIONS, WAVES))
    bend = rod.bending_stiffness / rod.ring_radius**2
    curved = bend * (squares - 1) / (squares + rod.bending_stiffness / rod.twisting_stiffness)
    bending = (waves @ (curved * squares * across)).real
    twisting = (waves @ (curved * WAVES * across * 1j)).real
    in_plane = (waves @ (bend * (squares - 1) * within)).real
    edge = rod.diameter / (2.0 * rod.inertia)
    normal, shear = np.hypot(bending, in_plane) * edge, twisting * edge / 2.0
    return Bent(
        bow=float(np.ptp((waves @ across).real)),
        oval=float(np.ptp((waves @ within).real)),
        stress=float(np.sqrt(normal**2 + 3.0 * shear**2).max()),
    )
