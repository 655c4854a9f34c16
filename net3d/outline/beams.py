"""A frame in bending: straight beams along its rod's middle line, stiffly joined, closed to a ring.

Beams of Euler and Bernoulli with torsion, exact under forces at their ends. Nothing holds a frame but what
pulls at it, so what does not balance is taken off as a rigid rod would take it, every metre of it alike, and
its own rigid moves are left out. The rod's mean compression softens it, as in ``modes.py``. Source: matrix
structural analysis, Przemieniecki, Theory of Matrix Structural Analysis, 5.6 (from memory).
"""

from __future__ import annotations

import numpy as np

from net3d.outline.curves import TURN, Floats, joined
from net3d.outline.elastic import Rod
from net3d.outline.outline import Outline
from net3d.outline.response import Bent

FINE = 64  # nodes on a full turn of corners
FREEDOMS = 6  # of a node: three ways, three turns


def bent_frame(rod: Rod, outline: Outline, arcs: Floats, forces: Floats) -> Bent:
    """How far forces bend a frame out of its plane and in it, and what that stresses it by.

    Parameters
    ----------
    rod : of the frame; its ring radius is not used
    outline : around the outside of the rod
    arcs : where the forces are, from the top (k,) [rad]
    forces : along the net, to the left and up (k, 3) [N]
    """
    nodes, owners = _nodes(outline, arcs)
    points = outline.points(nodes, rod.diameter / 2)
    rigid, carried = _rigid_moves(points)
    loads = np.zeros((len(nodes), FREEDOMS))
    np.add.at(loads[:, :3], owners, forces)
    sides = np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1)
    pressed = -float(np.sum(points[owners, 1:] * forces[:, 1:])) / float(sides.sum())
    local, turned = _beams(rod, points, pressed)
    stiffness = _assembled(local, turned)
    flat = loads.ravel() - carried @ (rigid.T @ loads.ravel())
    held = float(np.abs(stiffness.diagonal()).mean())
    moved = np.asarray(np.linalg.solve(stiffness + held * carried @ carried.T, flat), dtype=np.float64)
    ends = local @ (turned @ moved[_places(len(nodes))][..., None])
    return _told(rod, moved.reshape(-1, FREEDOMS), ends[..., 0])


def frame_stiffness(rod: Rod, points: Floats) -> Floats:
    """Forces and moments at the nodes of a frame over their moves and turns (6 n, 6 n) [N/m, N, N m].

    Parameters
    ----------
    rod : of the frame
    points : of its middle line, one behind the other around it (n, 3) [m]
    """
    return _assembled(*_beams(rod, points))


def _assembled(local: Floats, turned: Floats) -> Floats:
    """Stiffness of all beams together, each by the freedoms of its two ends (6 n, 6 n)."""
    size, places = FREEDOMS * len(local), _places(len(local))
    stiffness = np.zeros((size, size))
    np.add.at(stiffness, (places[:, :, None], places[:, None]), turned.transpose(0, 2, 1) @ local @ turned)
    return stiffness


def _told(rod: Rod, moved: Floats, ends: Floats) -> Bent:
    """What a maker sees of moved nodes: out of their best plane, across, and the beams' stress."""
    return Bent(
        bow=float(np.ptp(moved[:, 0])),
        oval=float(np.linalg.norm(moved[:, 1:3], axis=1).max()),
        stress=float(_stresses(rod, ends).max()),
    )


def _stresses(rod: Rod, ends: Floats) -> Floats:
    """``sqrt(s^2 + 3 t^2)``, s = N / A + M d / 2 I and t = T d / 4 I, at the worse end of beams (n,) [Pa].

    Source: a round rod in tension, bending and torsion.
    """
    pulls, twists = np.abs(ends[:, 0]), np.abs(ends[:, 3])
    moments = np.maximum(np.hypot(ends[:, 4], ends[:, 5]), np.hypot(ends[:, 10], ends[:, 11]))
    edge = rod.diameter / (2.0 * rod.inertia)
    return np.asarray(np.hypot(pulls / rod.area + moments * edge, np.sqrt(3.0) * twists * edge / 2.0))


def _nodes(outline: Outline, arcs: Floats) -> tuple[Floats, np.ndarray]:
    """Arcs of the nodes, where forces are and as corners ask for, and the node of every force."""
    nodes = joined(arcs, outline.stations(FINE))
    ways = np.abs((arcs[:, None] - nodes + TURN / 2) % TURN - TURN / 2)
    return nodes, ways.argmin(axis=1)


def _rigid_moves(points: Floats) -> tuple[Floats, Floats]:
    """Six moves of all nodes, and what the rod resists each with, square to the others (6 n, 6).

    Each node stands for half of the rod to either side.
    """
    count = len(points)
    lengths = np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1)
    rods = np.zeros((count, FREEDOMS, 1))
    rods[:, :3, 0] = ((lengths + np.roll(lengths, 1)) / 2)[:, None]
    moves = np.zeros((count, FREEDOMS, FREEDOMS))
    moves[:] = np.eye(FREEDOMS)
    for axis in range(3):
        moves[:, :3, 3 + axis] = np.cross(np.eye(3)[axis], points)
    every, resisted = moves.reshape(-1, FREEDOMS), (rods * moves).reshape(-1, FREEDOMS)
    return every, np.asarray(np.linalg.solve(every.T @ resisted, resisted.T).T)


def _places(count: int) -> np.ndarray:
    """Numbers of the freedoms of every beam's two ends (n, 12)."""
    own = FREEDOMS * np.arange(count)[:, None] + np.arange(FREEDOMS)
    return np.hstack([own, np.roll(own, -1, axis=0)])


def _beams(rod: Rod, points: Floats, pressed: float = 0.0) -> tuple[Floats, Floats]:
    """Of every node to the next a beam: stiffness in its own directions, and how they lie in the net's.

    Both (n, 12, 12). Pressed by N [N] it is pushed further aside by N / L times what its ends are apart
    across it.
    """
    ways = np.roll(points, -1, axis=0) - points
    length = np.linalg.norm(ways, axis=1)
    along = ways / length[:, None]
    side = np.cross(along, [1.0, 0.0, 0.0])  # beams lie across the net, more or less
    side /= np.linalg.norm(side, axis=1)[:, None]
    turned = np.zeros((len(points), 12, 12))
    for first in (0, 3, 6, 9):
        turned[:, first : first + 3, first : first + 3] = np.stack(
            [along, side, np.cross(along, side)], axis=1
        )
    local = np.zeros((len(points), 12, 12))
    stretch, twist = rod.material.modulus * rod.area / length, rod.twisting_stiffness / length
    for first, stiff in ((0, stretch), (3, twist), (1, -pressed / length), (2, -pressed / length)):
        for here, there, sign in ((0, 0, 1.0), (6, 6, 1.0), (0, 6, -1.0), (6, 0, -1.0)):
            local[:, first + here, first + there] = sign * stiff
    bend, every = rod.bending_stiffness / length**3, np.arange(len(points))
    one, square = np.ones_like(length), length**2
    for places, sign in (([1, 5, 7, 11], 1.0), ([2, 4, 8, 10], -1.0)):
        half = sign * 6 * length
        block = np.array(
            [
                [12 * one, half, -12 * one, half],
                [half, 4 * square, -half, 2 * square],
                [-12 * one, -half, 12 * one, -half],
                [half, 2 * square, -half, 4 * square],
            ]
        )
        local[np.ix_(every, np.array(places), np.array(places))] += (bend * block).transpose(2, 0, 1)
    return local, turned
