"""Netting that pulls inward makes a hoop softer: the waves of a ring are held by less, as 1 - q / q_n."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from net3d.netting.netting import Floats, Netting
from net3d.statics.balance import bar_pulls, knot_forces

COUNTS = 0.02  # of what the least wave bears: less changes what is left of a bow by less than a fiftieth


def softened(netting: Netting, positions: Floats, tensions: Floats) -> Netting:
    """The net with its hoops as soft as what pulls them inward in a shape makes them.

    ``q = sum of inward pulls / (2 pi R)``, R of the rod's middle line. Source: their mean around the ring.
    On a frame every pull counts by its arm over R, as it presses the rod: see ``outline/modes.py``.

    Parameters
    ----------
    positions : of the knots (n, 3) [m]
    tensions : of the bars (m,) [N]
    """
    if all(carrier.bends is None for carrier in netting.carriers):
        return netting
    forces = knot_forces(netting, np.zeros_like(positions), bar_pulls(netting, positions, tensions))
    carriers = list(netting.carriers)
    for number, carrier in enumerate(netting.carriers):
        if carrier.bends is not None:
            riding = netting.knot_carriers == number
            seats = netting.knot_seats[riding, 1:]
            rod, arms = carrier.bends.rod, np.maximum(np.linalg.norm(seats, axis=1), np.finfo(float).tiny)
            outward = seats / (rod.ring_radius if carrier.bends.modes else arms[:, None])
            inward = -float(np.sum(forces[riding, 1:] * outward))
            load = inward / rod.ring_length
            carriers[number] = replace(carrier, bends=replace(carrier.bends, inward=load))
    return replace(netting, carriers=tuple(carriers))


def differ(one: Netting, other: Netting) -> bool:
    """Whether the hoops of two nets that are otherwise alike differ in softness by what counts."""
    return any(
        abs(a.bends.inward - b.bends.inward) > COUNTS * a.bends.folding_load
        for a, b in zip(one.carriers, other.carriers, strict=True)
        if a.bends is not None and b.bends is not None
    )


def folds(netting: Netting) -> bool:
    """Whether a hoop is pulled inward by more than it bears."""
    return any(
        carrier.bends.inward >= carrier.bends.folding_load for carrier in netting.carriers if carrier.bends
    )
