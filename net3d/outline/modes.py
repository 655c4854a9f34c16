"""Shapes in which a frame bends, each with an energy of its own: what waves are to a round hoop.

Of all ways that a frame's rod can go, modes are those that are apart both in energy and by the rod that
they move: ``K f = k M f``, K its stiffness as beams, M half of the rod to either side at every node. A mode
grown to a costs ``k a^2 / 2``. The softest bend all of the frame. What forces at a few places do beyond
them is one more shape a place: what is left of the frame's answer to it.

A mean compression N of the rod, from forces that keep their direction, softens them: ``K - N G`` is taken
apart anew, ``G = integral of f' f' ds`` across the rod. Where that has no energy left the frame folds. Around
any closed rod ``N = - sum of F . r / L``, forces F at places r. On a circle all of it is the ring's. Source:
Rayleigh and Ritz; mean stresses, Love, Mathematical Theory of Elasticity, article 123 (from memory).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from net3d.outline.beams import FREEDOMS, frame_stiffness
from net3d.outline.curves import TURN, Floats, even, joined
from net3d.outline.elastic import Rod
from net3d.outline.outline import Outline

Bools = NDArray[np.bool_]

SIDES, CORNERS = 48, 32  # nodes evenly around, and on a full turn of corners
SOFTEST = 6  # modes out of the plane, and in it
PARTED = 1e-3  # of the softest
RIGID = 3  # moves of a frame in its plane, and out of it, that do not bend it
NONE = 1e-9  # of the most that a force bends it by: nothing
REFLECTED = np.array([1.0, -1.0, 1.0])
ALIKE = 1e-3  # of a mode's height
WAYS = ((0,), (1, 2))  # moves of a node out of the plane and in it
TURNS = ((4, 5), (3,))  # and the turns that go with them


@dataclass(frozen=True, eq=False)
class Bend:
    """How far a rod has gone from where it was sewn in, at nodes around it."""

    arcs: Floats  # rising, the first at the top (p,) [rad]
    angles: Floats  # as they are seen from the middle (p,) [rad]
    moves: Floats  # (p, 3) [m]

    def at(self, arcs: Floats) -> Floats:
        """The same at arcs from the top (k,) [rad], straight from node to node (k, 3) [m].

        >>> half = np.array([0.0, np.pi])
        >>> Bend(half, half, np.eye(3)[:2]).at(np.array([np.pi / 2, -np.pi / 2])).tolist()
        [[0.5, 0.5, 0.0], [0.5, 0.5, 0.0]]
        """
        ends = np.append(self.arcs, TURN)
        own = arcs % TURN
        left = np.clip(np.searchsorted(ends, own, side="right") - 1, 0, len(self.arcs) - 1)
        share = ((own - ends[left]) / (ends[left + 1] - ends[left]))[:, None]
        return np.asarray((1 - share) * self.moves[left] + share * self.moves[(left + 1) % len(self.arcs)])

    def seen(self, angles: Floats) -> Floats:
        """The same at angles as they are seen from the middle (k,) [rad]."""
        return self.at(np.interp(angles % TURN, np.append(self.angles, TURN), np.append(self.arcs, TURN)))


@dataclass(frozen=True, eq=False)
class Modes:
    """Shapes of one frame, m of them at p nodes. SI units."""

    arcs: Floats  # (p,) [rad]
    angles: Floats  # (p,) [rad]
    shapes: Floats  # (m, p, 3) [-]
    stiffnesses: Floats  # k, of a metre of each (m,) [N/m]
    softening: Floats  # G (m, m) [1/m]
    kinds: tuple[tuple[bool, bool], ...]  # of each: out of the plane, and alike from either side

    @property
    def folding_compression(self) -> float:
        """The least compression of the rod under which it folds [N]."""
        scale = 1 / np.sqrt(self.stiffnesses)
        return float(1 / np.linalg.eigvalsh(self.softening * np.outer(scale, scale)).max())

    def under(self, compression: float) -> Modes:
        """The shapes that are apart in energy under a mean compression of the rod [N]."""
        turned = np.zeros_like(self.softening)
        stiffnesses = np.zeros_like(self.stiffnesses)
        for kind in dict.fromkeys(self.kinds):
            own = np.flatnonzero([one == kind for one in self.kinds])
            left = np.diag(self.stiffnesses[own]) - compression * self.softening[np.ix_(own, own)]
            stiffnesses[own], turned[np.ix_(own, own)] = np.linalg.eigh(left)
        shapes = np.einsum("mpi,mn->npi", self.shapes, turned)
        return replace(
            self, shapes=shapes, stiffnesses=stiffnesses, softening=turned.T @ self.softening @ turned
        )

    @property
    def mirrored(self) -> list[bool]:
        """Of each, whether it is alike from either side."""
        return [alike for _, alike in self.kinds]

    def grown(self, sizes: Mapping[int, float]) -> Bend:
        """The rod where some of them have grown so far, by number [m]."""
        moves = sum(
            (size * self.shapes[number] for number, size in sizes.items()), np.zeros((len(self.angles), 3))
        )
        return Bend(self.arcs, self.angles, moves)

    def repeats(self, number: int, turns: int) -> bool:
        """Whether a shape, by its number, looks the same after each of so many parts of a turn."""
        if turns == 1:
            return True
        own, ahead = self.shapes[number], TURN / turns
        cosine, sine = np.cos(ahead), np.sin(ahead)
        turned = Bend(self.arcs, self.angles, own).seen(self.angles + ahead) @ [
            [1, 0, 0],
            [0, cosine, -sine],
            [0, sine, cosine],
        ]
        return bool(np.abs(turned - own).max() < ALIKE * np.abs(own).max())


@lru_cache(maxsize=256)
def frame_modes(rod: Rod, outline: Outline, pulled: tuple[float, ...] = ()) -> Modes:
    """The softest modes of a frame, and what is left of its answers to forces at some places.

    Parameters
    ----------
    rod : of the frame; its ring radius is not used
    outline : around the outside of the rod, alike left and right
    pulled : arcs of places that lines pull at [rad]
    """
    arcs = _nodes(outline, np.array(pulled))
    points = outline.points(arcs, rod.diameter / 2)
    ways = np.roll(points, -1, axis=0) - points
    lengths = np.linalg.norm(ways, axis=1)
    along = ways / lengths[:, None]
    stiffness, masses = frame_stiffness(rod, points), (lengths + np.roll(lengths, 1)) / 2
    places = np.abs(np.exp(1j * np.array(pulled)[:, None]) - np.exp(1j * arcs)).argmin(axis=1)
    forces = np.zeros((len(places), *points.shape))  # along the net, and to its middle
    forces[np.arange(len(places)), places] = np.array([1.0, 0.0, 0.0]) - points[places]
    parts = [_part(stiffness, masses, way, forces) for way in (0, 1)]
    shapes = np.concatenate([shapes for _, shapes, _ in parts])
    seen = np.arctan2(-points[:, 1], points[:, 2])
    heights = np.linalg.norm(shapes, axis=2).max(axis=1)
    shapes /= heights[:, None, None]
    steps = np.roll(shapes, -1, axis=1) - shapes
    steps -= np.sum(steps * along, axis=2)[..., None] * along
    return Modes(
        arcs=arcs,
        angles=seen + TURN * np.rint((arcs - seen) / TURN),
        shapes=shapes,
        stiffnesses=np.concatenate([own for own, _, _ in parts]) / heights**2,
        softening=np.einsum("mpi,npi,p->mn", steps, steps, 1 / lengths),
        kinds=tuple((way == 0, bool(even)) for way, (_, _, sides) in enumerate(parts) for even in sides),
    )


def _nodes(outline: Outline, pulled: Floats) -> Floats:
    """Arcs of the nodes, alike left and right (p,) [rad]."""
    return joined(joined(outline.stations(CORNERS), np.append(pulled, -pulled)), even(SIDES))


def _part(stiffness: Floats, masses: Floats, way: int, pulled: Floats) -> tuple[Floats, Floats, Bools]:
    """Modes in the plane or out of it: stiffnesses (m,), shapes (m, p, 3), which are alike left and right.

    Over lengths times the root of mass, K is what is left of it once turns are free, and its eigenvectors are
    modes; the reflection, a hair of which is added, keeps apart what is alike left and right and what is not.
    """
    count, axes = len(masses), WAYS[way]
    nodes = FREEDOMS * np.arange(count)[:, None]
    own, turns = (nodes + axes).ravel(), (nodes + TURNS[way]).ravel()
    roots = np.sqrt(np.repeat(masses, len(axes)))
    gives = np.linalg.solve(stiffness[np.ix_(turns, turns)], stiffness[np.ix_(turns, own)])
    left = (stiffness[np.ix_(own, own)] - stiffness[np.ix_(own, turns)] @ gives) / np.outer(roots, roots)
    mirror = np.kron(np.roll(np.eye(count)[::-1], 1, axis=0), np.diag(REFLECTED[list(axes)]))
    parted = PARTED * np.linalg.eigvalsh(left)[RIGID] * mirror
    modes = np.linalg.eigh(left + parted)[1][:, RIGID:]
    energies = np.sum(modes * (left @ modes), axis=0)
    soft, rest = modes[:, :SOFTEST], modes[:, SOFTEST:]
    found = [(energies[:SOFTEST], soft, np.sum(soft * (mirror @ soft), axis=0) > 0)]
    forces = pulled[:, :, list(axes)].reshape(len(pulled), count * len(axes)).T / roots[:, None]
    for sign in (1.0, -1.0):
        answers = rest.T @ (forces + sign * mirror @ forces)
        given, shares = np.linalg.eigh(answers.T @ (answers / energies[SOFTEST:, None]))
        kept = given > NONE * given.max(initial=0.0)
        shapes = rest @ (answers / energies[SOFTEST:, None]) @ shares[:, kept]
        found.append((given[kept], shapes, np.full(kept.sum(), sign > 0)))
    shapes = np.zeros((sum(len(own) for own, _, _ in found), count, 3))
    every = np.hstack([shapes for _, shapes, _ in found]) / roots[:, None]
    shapes[:, :, list(axes)] = every.T.reshape(-1, count, len(axes))
    return np.concatenate([one for one, _, _ in found]), shapes, np.concatenate([one for _, _, one in found])
