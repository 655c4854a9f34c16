"""What repeats around a net: solving one repeat of it, exactly, where netting and loads do repeat.

A net that looks the same turned by 1/g of a turn (``turns`` = g) or mirrored in the upright plane
through its axis has an equilibrium that does too: the program is convex and its tensions are unique.
Knots that are images of one another then share coordinates and bars that are share one cone.
"""

from __future__ import annotations

from dataclasses import replace
from functools import reduce
from math import gcd, pi

import numpy as np

from net3d.netting.netting import FREE, Floats, Ints, Netting
from net3d.statics.bending import Wave
from net3d.statics.matrix import Matrix
from net3d.statics.motion import AXES, Motion
from net3d.statics.shape import Symmetry

MIRROR = np.diag([1.0, -1.0, 1.0])
CLOSE = 1e-9


def turn_about_axis(angle: Floats | float) -> Floats:
    """Matrices (..., 3, 3) that turn by ``angle`` [rad], clockwise seen from the mouth."""
    cosine, sine = np.cos(angle), np.sin(angle)
    zero, one = np.zeros_like(cosine), np.ones_like(cosine)
    rows = [[one, zero, zero], [zero, cosine, -sine], [zero, sine, cosine]]
    return np.moveaxis(np.array(rows), (0, 1), (-2, -1))


def find_symmetry(netting: Netting, loads: Floats) -> Symmetry:
    """The symmetry that netting, seats and ``loads`` (n, 3) [N] all have; verified bar by bar.

    Hoops that tilt, since they are bowed, are taken to have none.
    """
    if any(carrier.tilts for carrier in netting.carriers):
        return Symmetry()
    counts = np.bincount(netting.knot_rings)
    turns = reduce(gcd, [int(count) for count in counts if count > 1], 0) or 1
    if not (turns > 1 and _maps_onto_itself(netting, loads, turn_about_axis(2 * pi / turns))):
        turns = 1
    return Symmetry(turns, _maps_onto_itself(netting, loads, MIRROR))


def mirror_image(netting: Netting) -> Ints:
    """The knot (n,) on the other side of each knot, or -1."""
    return _knot_image(netting, MIRROR)


def bar_orbits(netting: Netting, symmetry: Symmetry) -> tuple[Ints, Ints]:
    """Orbit number of every bar (m,), and one bar of every orbit (orbits,)."""
    firsts = np.arange(len(netting.bars))
    for operation, order in _generators(symmetry):
        image = _bar_image(netting, _knot_image(netting, operation))
        assert image is not None, "a symmetry that was verified"
        firsts = _least_along(firsts, image, order)
    bars, orbits = np.unique(firsts, return_inverse=True)
    return orbits, bars


def _generators(symmetry: Symmetry) -> list[tuple[Floats, int]]:
    """The turn and the mirror, and after how many of each all is back in its place; the turn comes first.

    A mirror carries turns of a bar to turns of its image, so that the least number of a bar and its turns,
    and then of that and its image's, is the least of the whole orbit.
    """
    turns = [(turn_about_axis(2 * pi / symmetry.turns), symmetry.turns)] if symmetry.turns > 1 else []
    return turns + ([(MIRROR, 2)] if symmetry.mirrored else [])


def _least_along(numbers: Ints, image: Ints, order: int) -> Ints:
    """The least of the numbers that each place is carried to, 0 to ``order`` - 1 times."""
    reach = 1
    while reach < order:  # twice as far each time
        numbers = np.minimum(numbers, numbers[image])
        image = image[image]
        reach *= 2
    return numbers


def _knot_image(netting: Netting, operation: Floats) -> Ints:
    """The knot (n,) that each knot is carried to, or -1."""
    turned = _directions(netting.knot_angles) @ operation.T
    angles = np.arctan2(-turned[:, 1], turned[:, 2])
    counts = np.bincount(netting.knot_rings)
    firsts = np.searchsorted(netting.knot_rings, np.arange(len(counts)))
    ring_counts = counts[netting.knot_rings]
    first_angles = netting.knot_angles[firsts][netting.knot_rings]
    places = (angles - first_angles) * ring_counts / (2 * pi)
    nearest = np.rint(places)
    image = firsts[netting.knot_rings] + nearest.astype(int) % ring_counts
    return np.where((np.abs(places - nearest) < 1e-6) | (ring_counts == 1), image, -1)


def _directions(angles: Floats) -> Floats:
    return np.stack([np.zeros_like(angles), -np.sin(angles), np.cos(angles)], axis=1)


def _bar_image(netting: Netting, knot_image: Ints) -> Ints | None:
    """The bar (m,) that each bar is carried to; None where a bar is carried to where none is."""
    before = np.sort(netting.bars, axis=1)
    after = np.sort(knot_image[netting.bars], axis=1)
    kind = np.stack(
        [
            netting.bar_lengths,
            netting.bar_stiffnesses,
            netting.bar_stiffening,
            netting.bar_weights,
            netting.bar_fits,
            netting.bar_runs,
        ]
    )
    order = np.lexsort((*kind, before[:, 1], before[:, 0]))
    order_after = np.lexsort((*kind, after[:, 1], after[:, 0]))
    same = np.array_equal(before[order], after[order_after])
    if not (same and np.allclose(kind[:, order], kind[:, order_after], rtol=CLOSE, atol=0.0)):
        return None
    image = np.empty(len(order), dtype=int)
    image[order_after] = order
    return image


def _maps_onto_itself(netting: Netting, loads: Floats, operation: Floats) -> bool:
    image = _knot_image(netting, operation)
    if np.any(image < 0) or _bar_image(netting, image) is None:
        return False
    scale = max(float(np.abs(loads).max()), netting.pull, np.finfo(float).tiny)
    return (
        np.array_equal(netting.knot_carriers[image], netting.knot_carriers)
        and np.allclose(netting.knot_seats @ operation.T, netting.knot_seats[image], atol=1e-9)
        and np.allclose(loads @ operation.T, loads[image], rtol=0.0, atol=CLOSE * scale)
    )


def reduce_motion(netting: Netting, motion: Motion, symmetry: Symmetry) -> Motion:
    """The same motion with one set of coordinates for all knots that are images of one another."""
    if symmetry == Symmetry():
        return _in_own_frames(netting, motion)
    kept = _kept_carrier_coordinates(motion, symmetry)
    free = np.flatnonzero(netting.knot_carriers == FREE)
    values, columns = _shared_coordinates(netting, free, symmetry)
    columns[columns >= 0] += len(kept)
    rows = motion.carrier_coordinate_count + np.arange(3 * len(free)).reshape(-1, 3, 1)
    rows, columns = np.broadcast_arrays(rows, columns[:, None, :])
    used = columns >= 0
    width = max(len(kept), int(columns.max(initial=-1)) + 1)
    waves = [place for place, wave in enumerate(motion.waves) if _is_kept(wave, symmetry)]
    last = motion.matrix.shape[1] - len(motion.waves)
    sharing = Matrix(
        np.concatenate([kept, rows[used], last + np.array(waves, dtype=int)]),
        np.concatenate([np.arange(len(kept)), columns[used], width + np.arange(len(waves))]),
        np.concatenate([np.ones(len(kept)), values[used], np.ones(len(waves))]),
        (motion.matrix.shape[1], width + len(waves)),
    )
    return _shared(motion, sharing, tuple(motion.waves[place] for place in waves))


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


def _shared(motion: Motion, sharing: Matrix, waves: tuple[Wave, ...]) -> Motion:
    return replace(
        motion,
        matrix=motion.matrix.times(sharing),
        stiffnesses=sharing.T @ motion.stiffnesses,
        waves=waves,
        sharing=sharing,
    )


def _is_kept(wave: Wave, symmetry: Symmetry) -> bool:
    """Only waves that repeat in a turn, and look the same from either side, are drawn by what does."""
    return wave.number % symmetry.turns == 0 and not (symmetry.mirrored and wave.sine)


def _kept_carrier_coordinates(motion: Motion, symmetry: Symmetry) -> Ints:
    """Carriers stay on the axis of a net that repeats in a turn, in the upright plane of a mirrored one."""
    axes = "x" if symmetry.turns > 1 else "xz"
    columns = motion.carrier_columns[:, [AXES.index(axis) for axis in axes]]
    return np.unique(columns[columns >= 0])


def _shared_coordinates(netting: Netting, free: Ints, symmetry: Symmetry) -> tuple[Floats, Ints]:
    """For each free knot the directions (k, 3, 3) of its coordinates and their numbers (k, 3), or -1."""
    representatives, operations = _representatives(netting, symmetry)
    chosen = np.unique(representatives[free])
    bases, dimensions = _bases(netting, chosen, symmetry)
    firsts = np.concatenate([[0], np.cumsum(dimensions)[:-1]])
    numbers = firsts[:, None] + np.arange(3)
    numbers[np.arange(3) >= dimensions[:, None]] = -1
    which = np.searchsorted(chosen, representatives[free])
    return operations[free] @ bases[which], numbers[which]


def _representatives(netting: Netting, symmetry: Symmetry) -> tuple[Ints, Floats]:
    """The knot (n,) that each knot is an image of, and the turn or mirror (n, 3, 3) that carries it there."""
    sector = 2 * pi / symmetry.turns
    counts = np.bincount(netting.knot_rings)
    ring_counts = counts[netting.knot_rings]
    alone = ring_counts == 1
    turns = np.floor(netting.knot_angles / sector + 1e-9)
    angles = netting.knot_angles - turns * sector
    flipped = symmetry.mirrored & (angles > sector / 2 + 1e-9) & ~alone
    angles = np.where(flipped, sector - angles, angles)
    operations = turn_about_axis(np.where(alone, 0.0, (turns + flipped) * sector))
    operations[flipped] = operations[flipped] @ MIRROR
    firsts = np.searchsorted(netting.knot_rings, np.arange(len(counts)))[netting.knot_rings]
    places = np.rint((angles - netting.knot_angles[firsts]) * ring_counts / (2 * pi)).astype(int)
    return np.where(alone, firsts, firsts + places % ring_counts), operations


def _bases(netting: Netting, knots: Ints, symmetry: Symmetry) -> tuple[Floats, Ints]:
    """Directions (k, 3, 3), as columns, in which a knot may move, and how many of them count (k,)."""
    alone = np.bincount(netting.knot_rings)[netting.knot_rings[knots]] == 1
    angles = np.where(alone, 0.0, netting.knot_angles[knots])
    half_sectors = angles / (pi / symmetry.turns)
    in_plane = symmetry.mirrored & (np.abs(half_sectors - np.rint(half_sectors)) < 1e-6)
    bases = turn_about_axis(angles)[:, :, [0, 2, 1]]
    dimensions = np.where(alone & (symmetry.turns > 1), 1, np.where(in_plane, 2, 3))
    return bases, dimensions
