"""What a hoop that bends adds to a least-energy program, written out anew for other solvers.

Energies as in Love, Mathematical Theory of Elasticity, article 293, and the loads at which they vanish as in
Timoshenko and Gere, Theory of Elastic Stability (from memory); a frame program has them too, see
tests/outline/test_elastic.py.
"""

import numpy as np


def wave_moves(netting, inward=None):
    """How all knots move by each wave's metre, (n, 3, waves), and what half a squared metre costs (waves,).

    ``inward`` are the loads that soften the hoops [N/m]; what the netting says of them unless given.
    """
    moves, stiffnesses = [np.zeros((len(netting.knot_carriers), 3, 0))], []
    for number, carrier in enumerate(netting.carriers):
        if carrier.bends is None:
            continue
        rod, load = carrier.bends.rod, carrier.bends.inward if inward is None else inward[number]
        radius, bend = rod.ring_radius, rod.bending_stiffness
        softer = bend / rod.twisting_stiffness
        riding = netting.knot_carriers == number
        _, y, z = netting.knot_seats.T
        angles = np.arctan2(-y, z)
        for n in carrier.bends.numbers:
            across = np.pi * (n**2 * (n**2 - 1) ** 2 / (n**2 + softer) * bend / radius**3 - n**2 * load)
            within = np.pi * (n**2 - 1) ** 2 * (bend / radius**3 - load / n**2)
            for wave, along in ((np.cos, -np.sin(n * angles) / n), (np.sin, np.cos(n * angles) / n)):
                out, nothing = wave(n * angles), np.zeros_like(angles)
                ahead = np.stack([out, nothing, nothing], axis=1)
                outward = np.stack(
                    [
                        nothing,
                        -out * np.sin(angles) - along * np.cos(angles),
                        out * np.cos(angles) - along * np.sin(angles),
                    ],
                    axis=1,
                )
                moves.append(np.stack([ahead, outward], axis=2) * riding[:, None, None])
                stiffnesses += [across, within]
    return np.concatenate(moves, axis=2), np.array(stiffnesses)
