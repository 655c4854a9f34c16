"""A rod in the wake of another: hoops that stand one behind the other shelter each other."""

from __future__ import annotations

from dataclasses import dataclass
from math import log, pi, sqrt

import numpy as np

from net3d.handbook.drag import cylinder_drag
from net3d.handbook.water import water_constant
from net3d.netting.netting import Floats
from net3d.water.cylinders import Cylinders

GAUSS = sqrt(pi / log(2.0))  # area under a bell curve over its height and half-width


@dataclass(frozen=True, eq=False)
class Ring:
    """A hoop as straight pieces in the flow, and where their middles are (k, 3) [m]."""

    pieces: Cylinders
    middles: Floats


def wake(drag_length: Floats, distances: Floats, offsets: Floats) -> Floats:
    """How much slower the water is behind a rod, over its speed ahead (k,).

        dent = u e^(-ln 2 (y / w)^2),  w = 0.227 sqrt(c x),  u = c / (2 w sqrt(pi / ln 2))

    The width is measured far behind a cylinder; the depth follows from its drag, which is the momentum that
    the wake lacks: ``c = 2 integral u dy``.

    Parameters
    ----------
    drag_length : c, drag coefficient times diameter (k,) [m]
    distances : x, down the stream (k,) [m]
    offsets : y, beside the middle of the wake (k,) [m]

    Examples
    --------
    >>> wake(np.array([1.0]), np.array([44.0]), np.array([0.0])).round(2).tolist()
    [0.16]
    """
    width = water_constant("wake_width") * np.sqrt(drag_length * distances)
    depth = drag_length / (2.0 * GAUSS * width)
    return np.asarray(depth * np.exp(-log(2.0) * (offsets / width) ** 2))


def sheltered_shares(places: Floats, rings: list[Ring], flow: tuple[Floats, float]) -> Floats:
    """Speed of the water at some places behind hoops over that without them (k,).

    Every hoop dents it by the wake of its piece that is nearest to straight up the stream. Dents of several
    hoops add as their squares, since the momentum that they lack adds; nearer than ten diameters a wake is
    taken as it is there.

    Parameters
    ----------
    places : (k, 3) [m]
    rings : the hoops up the stream
    flow : where the water flows (3,), of length 1, and the speed of the open river [m/s]
    """
    squares = np.zeros(len(places))
    for ring in rings:
        squares += _dents(places, ring, flow) ** 2
    return np.maximum(1.0 - np.sqrt(squares), 0.0)


def _dents(places: Floats, ring: Ring, flow: tuple[Floats, float]) -> Floats:
    direction, speed = flow
    lengths = np.linalg.norm(ring.pieces.spans, axis=1)
    axes = ring.pieces.spans / lengths[:, None]
    sines = np.linalg.norm(np.cross(axes, direction), axis=1)
    distances, offsets = _from_pieces(places, ring, direction)
    nearest = np.where(distances > 0, offsets, np.inf).argmin(axis=1)
    rows = np.arange(len(places))
    down, beside = distances[rows, nearest], offsets[rows, nearest]
    diameters, speeds = ring.pieces.diameters[nearest], ring.pieces.speeds[nearest]
    coefficient = cylinder_drag(speeds * sines[nearest] * diameters / water_constant("kinematic_viscosity"))
    drag_length = coefficient * diameters * (sines[nearest] * speeds / speed) ** 2
    begins = water_constant("wake_begins") * diameters
    behind = (down > 0) & (drag_length > 0)
    dents = wake(np.maximum(drag_length, 1e-9), np.maximum(down, begins), beside)
    return np.asarray(np.where(behind, dents, 0.0))


def _from_pieces(places: Floats, ring: Ring, direction: Floats) -> tuple[Floats, Floats]:
    """How far each place is down the stream of each piece, and beside it as the flow sees it (k, p)."""
    to_places = places[:, None] - ring.middles
    distances = to_places @ direction
    beside = to_places - distances[..., None] * direction
    spans = ring.pieces.spans - np.outer(ring.pieces.spans @ direction, direction)
    squares = np.maximum(np.sum(spans**2, axis=1), 1e-18)
    along = np.clip(np.einsum("kpi,pi->kp", beside, spans) / squares, -0.5, 0.5)
    return distances, np.linalg.norm(beside - along[..., None] * spans, axis=2)
