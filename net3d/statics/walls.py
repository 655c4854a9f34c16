"""Walls: knots that stay inside other netting, each within the radius of one of its knots."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.netting.netting import Floats, Ints
from net3d.statics.matrix import Matrix, stacked
from net3d.statics.motion import Motion
from net3d.statics.program import WALL, Program


@dataclass(frozen=True, eq=False)
class Walls:
    """Knots (k,) that each stay inside another: ``|p - c| <= n . (p_j - c) + r' (x - x_j) - gap``.

    p is where a knot is across the net, (y, z).

    Source: the body's profile, straight at the knot.
    """

    knots: Ints  # (k,)
    against: Ints  # (k,) j
    directions: Floats  # (k, 2) n
    slopes: Floats  # (k,) r'
    gaps: Floats  # (k,) what is to be left between the two radii [m]
    centres: Floats  # (k, 2) c [m]
    near: tuple[Floats, float] | None = None  # distances between hoops and how far each may change now [m]

    def of_one_side(self, image: Ints) -> Walls:
        """Those of the knots that come before their mirror image (n,)."""
        kept = self.knots <= image[self.knots]
        return replace(
            self,
            knots=self.knots[kept],
            against=self.against[kept],
            directions=self.directions[kept],
            slopes=self.slopes[kept],
            gaps=self.gaps[kept],
            centres=self.centres[kept],
        )

    def and_also(self, other: Walls) -> Walls:
        """These walls and others."""
        return replace(
            self,
            knots=np.concatenate([self.knots, other.knots]),
            against=np.concatenate([self.against, other.against]),
            directions=np.concatenate([self.directions, other.directions]),
            slopes=np.concatenate([self.slopes, other.slopes]),
            gaps=np.concatenate([self.gaps, other.gaps]),
            centres=np.concatenate([self.centres, other.centres]),
        )

    def pushes(self, knot_count: int, forces: Floats) -> Floats:
        """Forces as vectors on the knots inside and on those they lie on, (n, 3) [N].

        ``forces`` (k, 3) are a wall's force and its push on its knot along y and z: inward and of the same
        size, but for a knot in the very tip of a tail, where no way is inward.
        """
        sizes, inward = forces[:, :1], forces[:, 1:]
        along = self.slopes[:, None] * sizes
        pushes = np.zeros((knot_count, 3))
        np.add.at(pushes, self.knots, np.hstack([along, inward]))
        np.add.at(pushes, self.against, np.hstack([-along, self.directions * sizes]))
        return pushes


def with_walls(program: Program, motion: Motion, walls: Walls) -> Program:
    """The program with one more cone of three rows for every knot inside a wall."""
    count, against, knots = len(walls.knots), 3 * walls.against, 3 * walls.knots
    places = WALL * np.arange(count)
    rows = Matrix(
        np.concatenate([np.tile(places, 4), places + 1, places + 2]),
        np.concatenate([against + 1, against + 2, knots, against, knots + 1, knots + 2]),
        np.concatenate([*walls.directions.T, walls.slopes, -walls.slopes, np.ones(2 * count)]),
        (WALL * count, len(motion.constant)),
    )
    bounds = rows @ motion.constant
    bounds[::WALL] -= walls.gaps + np.sum(walls.directions * walls.centres, axis=1)
    bounds[1::WALL] -= walls.centres[:, 0]
    bounds[2::WALL] -= walls.centres[:, 1]
    return replace(
        program,
        matrix=stacked([program.matrix, -rows.times(motion.matrix)]),
        bounds=np.concatenate([program.bounds, bounds / program.length_scale]),
        walls=program.walls + count,
    )
