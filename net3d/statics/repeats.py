"""One repeat of a net in place of all of it, exactly, where netting and loads do repeat.

A net that looks the same turned by 1/g of a turn (``turns`` = g) or mirrored in the upright plane
through its axis has an equilibrium that does too: the program is convex and its tensions are unique.
Knots and carriers that are images of one another then share coordinates, and bars that are share one cone.
"""

from __future__ import annotations

from dataclasses import replace
from math import pi

import numpy as np

from net3d.netting.netting import FREE, Floats, Ints, Netting
from net3d.netting.sorting import distinct
from net3d.statics.bending import Mode, Wave
from net3d.statics.matrix import Matrix, side_by_side
from net3d.statics.motion import Motion
from net3d.statics.shape import Symmetry
from net3d.statics.symmetry import (
    MIRROR,
    TURN,
    carrier_image,
    knots_at,
    mirror_image,
    on_axis,
    turn_about_axis,
)

SHIFTS = np.array([1.0, -1.0, 1.0])  # of what is mirrored, over what is there
TURNS = -SHIFTS  # about the axes: a turn is a pseudovector


def reduce_motion(netting: Netting, motion: Motion, symmetry: Symmetry) -> Motion:
    """The same motion, knots and carriers that are images of one another sharing their coordinates."""
    if symmetry == Symmetry():
        return _in_own_frames(netting, motion)
    height = motion.matrix.shape[1]
    waves = [place for place, wave in enumerate(motion.waves) if wave.repeats(symmetry)]
    last = height - len(motion.waves) + np.array(waves, dtype=int)
    bent = Matrix(last, np.arange(len(waves)), np.ones(len(waves)), (height, len(waves)))
    blocks = [
        _shared_by_carriers(netting, motion, symmetry),
        _shared_by_knots(netting, motion, symmetry),
        bent,
    ]
    return _shared(motion, side_by_side(blocks), tuple(motion.waves[place] for place in waves))


def _in_own_frames(netting: Netting, motion: Motion) -> Motion:
    """The same motion with every free knot's coordinates along the net, around it and outward.

    Along y and z a coordinate is in four rows of the program only: the solver would take it out before the
    rows, and its factors would have twice as many entries.
    """
    frames = turn_about_axis(netting.knot_angles[netting.knot_carriers == FREE])
    first, width = motion.carrier_coordinate_count, motion.matrix.shape[1]
    own = first + np.arange(3 * len(frames)).reshape(-1, 3)
    rest = np.concatenate([np.arange(first), np.arange(first + own.size, width)])
    sharing = Matrix(
        np.concatenate([np.repeat(own, 3), rest]),
        np.concatenate([np.repeat(own, 3, axis=0).ravel(), rest]),
        np.concatenate([frames.ravel(), np.ones(len(rest))]),
        (width, width),
    )
    return _shared(motion, sharing, motion.waves)


def _shared(motion: Motion, sharing: Matrix, waves: tuple[Wave | Mode, ...]) -> Motion:
    return replace(
        motion,
        matrix=motion.matrix.times(sharing),
        stiffnesses=sharing.T @ motion.stiffnesses,
        waves=waves,
        sharing=sharing,
    )


def _shared_by_carriers(netting: Netting, motion: Motion, symmetry: Symmetry) -> Matrix:
    """What carriers are moved by: those of a pair alike, those in the upright plane within it.

    Of a net that repeats in a turn they stay on its axis, and twist about it where it has no mirror.
    """
    columns = np.hstack([motion.carrier_columns, motion.tilt_columns])
    if symmetry.turns > 1:
        axes = [0] if symmetry.mirrored else [0, 3]
        kept = distinct(columns[:, axes])
        numbers = np.arange(len(kept))
        return Matrix(kept, numbers, np.ones(len(kept)), (motion.matrix.shape[1], len(kept)))
    other = columns[carrier_image(netting, mirror_image(netting))]
    signs = np.where(columns <= other, 1.0, np.hstack([SHIFTS, TURNS]))
    moves = (columns >= 0) & ((columns != other) | (np.hstack([SHIFTS, TURNS]) > 0))
    rows, firsts = np.unique(columns[moves], return_index=True)  # carriers that rods join share theirs
    kept, numbers = np.unique(np.minimum(columns, other)[moves][firsts], return_inverse=True)
    return Matrix(rows, numbers, signs[moves][firsts], (motion.matrix.shape[1], len(kept)))


def _shared_by_knots(netting: Netting, motion: Motion, symmetry: Symmetry) -> Matrix:
    """The free knots' coordinates by those of the knots that they are images of."""
    free = np.flatnonzero(netting.knot_carriers == FREE)
    values, columns = _shared_coordinates(netting, free, symmetry)
    rows = motion.carrier_coordinate_count + np.arange(3 * len(free)).reshape(-1, 3, 1)
    rows, columns = np.broadcast_arrays(rows, columns[:, None, :])
    used = columns >= 0
    shape = (motion.matrix.shape[1], int(columns.max(initial=-1)) + 1)
    return Matrix(rows[used], columns[used], values[used], shape)


def _shared_coordinates(netting: Netting, free: Ints, symmetry: Symmetry) -> tuple[Floats, Ints]:
    """For each free knot the directions (k, 3, 3) of its coordinates and their numbers (k, 3), or -1."""
    representatives, operations = _representatives(netting, symmetry)
    chosen = distinct(representatives[free])
    bases, dimensions = _bases(netting, chosen, symmetry)
    firsts = np.concatenate([[0], np.cumsum(dimensions)[:-1]])
    numbers = firsts[:, None] + np.arange(3)
    numbers[np.arange(3) >= dimensions[:, None]] = -1
    which = np.searchsorted(chosen, representatives[free])
    return operations[free] @ bases[which], numbers[which]


def _representatives(netting: Netting, symmetry: Symmetry) -> tuple[Ints, Floats]:
    """The knot (n,) that each knot is an image of, and the turn or mirror (n, 3, 3) that carries it there."""
    sector, alone = TURN / symmetry.turns, on_axis(netting)
    turns = np.floor(netting.knot_angles / sector + 1e-9)
    angles = netting.knot_angles - turns * sector
    flipped = symmetry.mirrored & (angles > sector / 2 + 1e-9) & ~alone
    angles = np.where(flipped, sector - angles, angles)
    operations = turn_about_axis(np.where(alone, 0.0, (turns + flipped) * sector))
    operations[flipped] = operations[flipped] @ MIRROR
    return knots_at(netting, angles), operations


def _bases(netting: Netting, knots: Ints, symmetry: Symmetry) -> tuple[Floats, Ints]:
    """Directions (k, 3, 3), as columns, in which a knot may move, and how many of them count (k,)."""
    alone = on_axis(netting)[knots]
    angles = np.where(alone, 0.0, netting.knot_angles[knots])
    half_sectors = angles / (pi / symmetry.turns)
    in_plane = symmetry.mirrored & (np.abs(half_sectors - np.rint(half_sectors)) < 1e-6)
    bases = turn_about_axis(angles)[:, :, [0, 2, 1]]
    dimensions = np.where(alone & (symmetry.turns > 1), 1, np.where(in_plane, 2, 3))
    return bases, dimensions
