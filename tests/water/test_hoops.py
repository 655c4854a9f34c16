"""What the netting does to a hoop, by a second route: the work it takes to widen the hoop a little."""

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from net3d.statics.equilibrium import find_equilibrium
from net3d.statics.loads import total_loads
from net3d.statics.softening import softened
from net3d.statics.solver import SolverLimits
from net3d.water.hoops import hoop_loads, leg_pull
from tests.nets import framed, make, rigid

pytestmark = pytest.mark.second_route

WIDER = 1e-4  # m


def energy(netting):
    """Stretch of the bars less the work of the loads, at rest [J]."""
    loads = total_loads(netting)
    found = find_equilibrium(netting, loads, SolverLimits())
    stretches = found.tensions * netting.bar_lengths / netting.bar_stiffnesses
    return float(np.sum(found.tensions * stretches) / 2 - np.sum(loads * found.positions))


def widened(netting, hoop, by):
    """The netting with the seats of one hoop moved outward [m]."""
    seats = netting.knot_seats.copy()
    riding = netting.knot_carriers == hoop
    seats[riding, 1:] *= 1 + by / np.linalg.norm(seats[riding, 1:], axis=1)[:, None]
    return replace(netting, knot_seats=seats)


@pytest.mark.parametrize("hoop", [0, 1])
def test_the_inward_load_is_the_energy_it_takes_to_widen_the_hoop(hoop):
    net = make(diameters=(0.32, 0.30), deep=(4,), tail=5, weight=True)
    shape = net.settled()
    load = hoop_loads(net.netting, net.plan, shape.knot_positions, shape.bar_tensions, None)[hoop]
    radius = (net.plan.hoops[hoop].outside_diameter - net.plan.hoops[hoop].rod_diameter) / 2
    taken = (energy(widened(net.netting, hoop, WIDER)) - energy(widened(net.netting, hoop, -WIDER))) / (
        2 * WIDER
    )
    assert load.line_load * 2 * pi * radius == pytest.approx(taken, rel=5e-3)
    assert load.compression == pytest.approx(load.line_load * radius)


def test_what_squeezes_a_frame_is_the_energy_it_takes_to_make_it_larger():
    """All of it by the same part: the mean compression times the rod's length, by part of a metre."""
    square = {"shape": "square", "width": 0.27, "corner": 0.03}
    net = framed(square, diameters=(0.32, 0.30), deep=(4,), tail=5)
    netting = replace(rigid(net.netting), bar_stiffening=0 * net.netting.bar_stiffening)
    found = find_equilibrium(netting, total_loads(netting), SolverLimits())
    load = hoop_loads(netting, net.plan, found.positions, found.tensions, None)[0]

    def larger(times):
        seats = netting.knot_seats.copy()
        seats[netting.knot_carriers == 0, 1:] *= times
        return energy(replace(netting, knot_seats=seats))

    rod = net.plan.hoops[0].outline.inner_girth(net.plan.hoops[0].rod_diameter / 2)
    taken = (larger(1 + WIDER) - larger(1 - WIDER)) / (2 * WIDER)
    assert load.compression * rod == pytest.approx(taken, rel=5e-3)
    soft = softened(net.netting, found.positions, found.tensions).carriers[0].bends
    assert soft.inward * soft.rod.ring_radius == pytest.approx(load.compression, rel=1e-6)


def test_the_legs_together_pull_what_the_net_is_pulled_with():
    net = make(diameters=(0.32, 0.32), deep=(4,), tail=5, legs=3)
    shape = net.settled()
    assert leg_pull(net.netting, shape.knot_positions, shape.bar_tensions) == pytest.approx(60.0, rel=1e-3)
