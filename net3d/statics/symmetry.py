"""What repeats around a net, found by its knots' rings and angles and verified bar by bar."""

from __future__ import annotations

from functools import reduce
from math import gcd, pi

import numpy as np

from net3d.netting.netting import FREE, Bools, Carrier, Floats, Ints, Netting
from net3d.statics.shape import Symmetry

MIRROR = np.diag([1.0, -1.0, 1.0])
CLOSE = 1e-9
TURN = 2 * pi
NEAR = 1e-6  # rad: knots of a ring so near to where an image would be are it


def turn_about_axis(angle: Floats | float) -> Floats:
    """Matrices (..., 3, 3) that turn by ``angle`` [rad], clockwise seen from the mouth."""
    cosine, sine = np.cos(angle), np.sin(angle)
    zero, one = np.zeros_like(cosine), np.ones_like(cosine)
    rows = [[one, zero, zero], [zero, cosine, -sine], [zero, sine, cosine]]
    return np.moveaxis(np.array(rows), (0, 1), (-2, -1))


def find_symmetry(netting: Netting, loads: Floats) -> Symmetry:
    """The symmetry that netting, seats and ``loads`` (n, 3) [N] all have; verified bar by bar.

    Of carriers that mirror each other, such as frames of ways out, each moves as the other does.
    """
    counts = np.bincount(netting.knot_rings)
    turns = reduce(gcd, [int(count) for count in counts if count > 1], 0) or 1
    if not (turns > 1 and _maps_onto_itself(netting, loads, turn_about_axis(TURN / turns))):
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
    turns = [(turn_about_axis(TURN / symmetry.turns), symmetry.turns)] if symmetry.turns > 1 else []
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
    return knots_at(netting, np.arctan2(-turned[:, 1], turned[:, 2]))


def knots_at(netting: Netting, angles: Floats) -> Ints:
    """The knot (n,) of each one's ring at an angle (n,) [rad], or -1; one on the axis is at every angle."""
    keys, asked = _keys(netting, netting.knot_angles), _keys(netting, angles)
    order = np.argsort(keys)
    keys = keys[order]
    places = np.searchsorted(keys, asked - NEAR / 2).clip(max=len(keys) - 1)
    return np.where(np.abs(keys[places] - asked) < NEAR / 2, order[places], -1)


def _keys(netting: Netting, angles: Floats) -> Floats:
    """Numbers (n,) in the order of knots' rings, and within one in that of angles (n,) [rad]."""
    around = np.where(on_axis(netting), 0.0, (angles + NEAR) % TURN)
    return np.asarray(2 * TURN * netting.knot_rings + around)


def on_axis(netting: Netting) -> Bools:
    """Which knots (n,) are the only one of their ring, and of no side."""
    return np.asarray((np.bincount(netting.knot_rings)[netting.knot_rings] == 1) & (netting.knot_angles == 0))


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
    if not _carriers_map(netting, image, in_pairs=operation is MIRROR):
        return False
    scale = max(float(np.abs(loads).max()), netting.pull, np.finfo(float).tiny)
    return np.allclose(
        netting.knot_seats @ operation.T, netting.knot_seats[image], atol=1e-9
    ) and np.allclose(loads @ operation.T, loads[image], rtol=0.0, atol=CLOSE * scale)


def carrier_image(netting: Netting, image: Ints) -> Ints:
    """The carrier (carriers,) that each is carried to, its knots being carried to others (n,)."""
    carriers = np.arange(len(netting.carriers))
    riding = np.flatnonzero(netting.knot_carriers != FREE)
    carriers[netting.knot_carriers[riding]] = netting.knot_carriers[image[riding]]
    return carriers


def _carriers_map(netting: Netting, image: Ints, in_pairs: bool) -> bool:
    """Whether carriers stay where they are as knots are carried to others (n,), or swap ``in_pairs``."""
    carriers = carrier_image(netting, image)
    if not np.array_equal(netting.knot_carriers[image], np.append(carriers, FREE)[netting.knot_carriers]):
        return False
    swapped = [(number, other) for number, other in enumerate(carriers.tolist()) if number != other]
    alike = all(_alike(netting.carriers[one], netting.carriers[other]) for one, other in swapped)
    return alike and (in_pairs or not swapped)


def _alike(one: Carrier, other: Carrier) -> bool:
    """Whether two carriers move alike, each by itself."""
    alone = one.follows is None and one.bends is None and other.follows is None and other.bends is None
    return alone and (one.slides, one.tilts) == (other.slides, other.tilts)
