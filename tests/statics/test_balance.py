"""Balance recomputed knot by knot in a plain loop: statics, nothing else (derived)."""

from math import sqrt

import numpy as np
import pytest

from net3d.statics.shape import EndState
from tests.nets import make, straight

pytestmark = pytest.mark.second_route

NETS = {
    "sliding hoops": {"diameters": (0.34, 0.32, 0.3), "deep": (3, 3.5), "tail": 4, "legs": 3},
    "weight": {
        "diameters": (0.34, 0.32, 0.3),
        "deep": (3, 3.5),
        "tail": 4,
        "legs": 3,
        "weight": True,
        "pull": 12.0,
    },
    "anchored at the mouth": {"anchor": "mouth", "legs": 2, "tail": 5, "weight": True},
    "anchored at the mouth hoop": {"anchor": "mouth", "weight": True},
    "anchored at the last hoop": {"weight": True, "diameters": (0.3, 0.32, 0.36), "deep": (2, 5)},
    "wide meshes": {"around": 9, "diameters": (0.24, 0.22), "deep": (2,), "tail": 2.5, "weight": True},
}
RODS = {
    "too short": {"diameters": (0.32,) * 3, "deep": (3, 4), "spacing": (0.22, None), "weight": True},
    "a little long": {"diameters": (0.32,) * 3, "deep": (3, 4), "spacing": (None, 0.345), "weight": True},
    "held hoop": {"diameters": (0.32,) * 3, "deep": (3, 4), "spacing": (0.25, 0.34), "tail": 3},
}


def left_over(netting, shape):
    """Force left over on every free knot [N], and on every group of hoops that rods join, along its slide."""
    forces = [list(load) for load in netting.knot_loads]
    for number, (upper, lower) in enumerate(netting.bars):
        span = [b - a for a, b in zip(shape.knot_positions[upper], shape.knot_positions[lower], strict=True)]
        distance = sqrt(sum(part * part for part in span))
        for axis in range(3):
            pull = shape.bar_tensions[number] * span[axis] / distance
            forces[upper][axis] += pull
            forces[lower][axis] -= pull
        for knot in (upper, lower):
            forces[knot][2] -= netting.bar_weights[number] / 2
    return forces


def carrier_sums(netting, forces):
    """Forces of all knots that ride on a carrier or on one that rods join to it, by the first of them."""
    first, slides = list(range(len(netting.carriers))), [carrier.slides for carrier in netting.carriers]
    for number, carrier in enumerate(netting.carriers):
        if carrier.follows is not None:
            first[number] = first[carrier.follows]
            slides[first[number]] = "".join(a for a in slides[first[number]] if a in carrier.slides)
    sums = [[0.0] * 3 for _ in first]
    for knot, carrier in enumerate(netting.knot_carriers):
        if carrier >= 0:
            for axis in range(3):
                sums[first[carrier]][axis] += forces[knot][axis]
    return [sums[number]["xyz".index(axis)] for number in sorted(set(first)) for axis in slides[number]]


@pytest.mark.parametrize("keys", [*NETS.values(), *RODS.values()], ids=[*NETS, *RODS])
def test_every_knot_and_every_hoop_balances(keys):
    net = make(**keys)
    shape = net.settled()
    assert shape.state is EndState.SETTLED
    forces = left_over(net.netting, shape)
    free = [forces[knot] for knot in np.flatnonzero(net.netting.knot_carriers < 0)]
    worst = max(abs(part) for force in free for part in force)
    worst_carrier = max(map(abs, carrier_sums(net.netting, forces)), default=0.0)
    assert max(worst, worst_carrier) < 1e-6 * net.netting.pull
    told = shape.residual * net.netting.pull  # of waves of hoops, too, where they bend
    assert max(worst, worst_carrier) <= told * (1 + 1e-3) + 1e-12 * net.netting.pull
    if all(carrier.bends is None for carrier in net.netting.carriers):
        assert max(worst, worst_carrier) == pytest.approx(told, rel=1e-3, abs=1e-12 * net.netting.pull)


@pytest.mark.parametrize("keys", [*NETS.values(), *RODS.values()], ids=[*NETS, *RODS])
def test_no_bar_is_longer_than_its_tension_makes_it_and_none_pushes(keys):
    net = straight(make(**keys))
    netting, shape = net.netting, net.settled()
    spans = shape.knot_positions[netting.bars[:, 1]] - shape.knot_positions[netting.bars[:, 0]]
    stretched = netting.bar_lengths * (1 + shape.bar_tensions / netting.bar_stiffnesses)
    gaps = (np.linalg.norm(spans, axis=1) - stretched) / netting.bar_lengths
    taut = shape.bar_tensions > 1e-3 * netting.pull / len(netting.bars)
    assert np.all(shape.bar_tensions >= 0)
    assert gaps.max() < 1e-6
    assert np.abs(gaps[taut]).max() < 1e-6


@pytest.mark.parametrize("keys", NETS.values(), ids=NETS)
def test_the_pull_runs_through_every_cut(keys):
    # Loads along the net act only at its two ends, so whatever an upright plane between them cuts off is in
    # balance only if the bars through the plane pull along the net with the pull.
    net = make(**keys)
    netting, shape = net.netting, net.settled()
    ends = shape.knot_positions[netting.bars, 0]
    cosines = np.diff(shape.knot_positions[netting.bars], axis=1)[:, 0]
    cosines = cosines[:, 0] / np.linalg.norm(cosines, axis=1)
    if netting.carriers[-1].name == "anchor":
        first, last = shape.knot_positions[:, 0].min(), shape.knot_positions[:, 0].max()
    else:
        first, last = shape.hoop_positions[[0, -1]]
    for place in np.linspace(first, last, 25)[1:-1] + 1e-7:
        through = (ends.min(axis=1) < place) & (place < ends.max(axis=1))
        total = (shape.bar_tensions * np.abs(cosines))[through].sum()
        assert total == pytest.approx(netting.pull, rel=2e-6)
