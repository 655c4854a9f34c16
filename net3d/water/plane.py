"""Netting as plane panels at every angle to the flow, as it was measured in flumes."""

from __future__ import annotations

import numpy as np

from net3d.handbook.drag import DragModel, cylinder_drag, drag_models
from net3d.handbook.water import water_constant
from net3d.netting.netting import Floats, Netting
from net3d.water.bands import bar_normals
from net3d.water.cylinders import Cylinders, bar_widths
from net3d.water.water import Bands, Stream

PLANE = "plane netting"  # in handbook/screen_models.csv
FLAT = 1e-9  # netting square to the net's axis has no way around it that this way finds


def angle_shares(
    sines: Floats, seen: Floats, law: DragModel, along: float | None = None
) -> tuple[Floats, Floats]:
    """Drag and lift of netting at an angle over its drag across the flow (k,) [-].

        drag = max(p sin^a th, s),  lift = p sin^b th cos th

    p being the part of its twine's area that the flow sees, and s what netting along the flow has. In netting
    that lies along the flow every twine shelters the next, which no sum over all twine knows of. Source: its
    row in ``handbook/screen_models.csv``.

    Parameters
    ----------
    sines : of the angle th between flow and netting, 0 along it and 1 across (k,) [-]
    seen : p, 1 across the flow (k,) [-]
    law : its a, b and s
    along : another s [-]

    Examples
    --------
    >>> sines, seen = np.array([0.0, 0.5, 1.0]), np.array([0.71, 0.79, 1.0])
    >>> drag, lift = angle_shares(sines, seen, drag_models()[PLANE])
    >>> drag.round(2).tolist(), lift.round(2).tolist()
    ([0.3, 0.6, 1.0], [0.0, 0.24, 0.0])
    """
    power, lifting, least = law.coefficients
    drag = np.maximum(seen * sines**power, least if along is None else along)
    return drag, np.asarray(seen * sines**lifting * np.sqrt(np.maximum(1.0 - sines**2, 0.0)))


def seen_part(axes: Floats, normals: Floats, direction: Floats) -> Floats:
    """Part of the twine's area that the flow sees, mean of a bar and of the one that crosses it (k,) [-].

    The two are alike but for their side of the line along the netting, from rim to rim of its row.

    Parameters
    ----------
    axes : of the bars, of length 1 (k, 3) [-]
    normals : of the netting there, of length 1 (k, 3) [-]
    direction : where the water flows (3,), of length 1 [-]

    Examples
    --------
    >>> bar, normal = np.array([[0.8, 0.0, 0.6]]), np.array([[0.0, 1.0, 0.0]])
    >>> seen_part(bar, normal, np.array([1.0, 0.0, 0.0])).round(3).tolist()
    [0.6]
    """
    around = np.cross(np.array([1.0, 0.0, 0.0]), normals)
    lengths = np.linalg.norm(around, axis=1)
    around[lengths < FLAT] = np.cross(normals[lengths < FLAT], np.array([0.0, 0.0, 1.0]))
    around /= np.maximum(np.linalg.norm(around, axis=1), FLAT)[:, None]
    crossing = axes - 2.0 * np.sum(axes * around, axis=1)[:, None] * around
    return np.asarray(sum(np.linalg.norm(np.cross(way, direction), axis=1) for way in (axes, crossing)) / 2.0)


def plane_forces(
    twine: Cylinders, normals: Floats, direction: Floats, shares: tuple[Floats, Floats]
) -> Floats:
    """Force on the twine of plane netting (k, 3) [N], ``rho d L U^2 C(U d / nu) / 2`` times drag and lift.

    Parameters
    ----------
    twine : spans, diameters and speeds of the water there
    normals : of the netting, of length 1 (k, 3) [-]
    direction : where the water flows (3,), of length 1 [-]
    shares : drag and lift at its angle over the drag across (k,) [-]
    """
    across = cylinder_drag(twine.speeds * twine.diameters / water_constant("kinematic_viscosity"))
    lengths = np.linalg.norm(twine.spans, axis=1)
    pressure = water_constant("fresh_water_density") / 2 * twine.speeds**2
    sizes = pressure * across * twine.diameters * lengths
    drag, lift = shares
    return np.asarray(
        sizes[:, None] * (drag[:, None] * direction + lift[:, None] * _lifting(normals, direction))
    )


def netting_forces(
    netting: Netting,
    positions: Floats,
    speeds: Floats,
    flow: tuple[Bands, Stream],
    along: float | None = None,
) -> Floats:
    """Drag and lift of every bar of netting as plane netting (m, 3) [N]; 0 for strings and lines.

    Parameters
    ----------
    positions : of the knots (n, 3) [m]
    speeds : of the water at every bar (m,) [m/s]
    flow : rows of netting, and the stream
    along : drag along netting over drag across it [-]; that of the law if None
    """
    bands, stream = flow
    own = np.flatnonzero(bands.bar_bands >= 0)
    ends = positions[netting.bars[own]]
    twine = Cylinders(ends[:, 1] - ends[:, 0], netting.bar_diameters[own], speeds[own])
    normals = bar_normals(netting, positions, bands)[own]
    axes = twine.spans / np.maximum(np.linalg.norm(twine.spans, axis=1), np.finfo(float).tiny)[:, None]
    sines = np.minimum(np.abs(normals @ stream.direction), 1.0)
    shares = angle_shares(sines, seen_part(axes, normals, stream.direction), drag_models()[PLANE], along)
    forces = np.zeros((len(netting.bars), 3))
    forces[own] = plane_forces(twine, normals, stream.direction, shares)
    return np.asarray(forces * bar_widths(netting, bands, stream)[:, None])


def _lifting(normals: Floats, direction: Floats) -> Floats:
    """Across the flow, to the side that the netting looks to down the stream (k, 3), of length 1 or 0."""
    facing = normals @ direction
    sideways = np.sign(facing)[:, None] * (normals - facing[:, None] * direction)
    return np.asarray(sideways / np.maximum(np.linalg.norm(sideways, axis=1), 1e-12)[:, None])
