"""Newton's steps from a shape nearby, beside the cone program, which starts from nothing."""

from dataclasses import replace

import numpy as np
import pytest

from net3d.statics import equilibrium
from net3d.statics.equilibrium import find_equilibrium, find_nearby
from net3d.statics.loads import total_loads
from net3d.statics.solver import SolverLimits, solve
from tests.nets import make

pytestmark = pytest.mark.second_route

LIMITS = SolverLimits()
THROAT = {"hoop": 1, "deep": 4, "tip": 8, "strings": {"to_hoop": 3, "points": 4, "length": 0.2}}


@pytest.fixture(scope="module")
def net():
    """Two sections, a throat, a tail and a bridle; weighed, so that slack twine hangs one way."""
    return make(
        around=20,
        stretched=0.09,
        diameters=(0.36, 0.35, 0.34),
        deep=(4, 4),
        throats=[THROAT],
        tail=4,
        weight=True,
        legs=3,
    )


def pushed(netting, share):
    """Loads of a current on every knot, backward and a little upward: a share of the pull in all."""
    loads = total_loads(netting)
    loads[:, 0] += share * netting.pull / len(loads)
    loads[:, 2] += share / 4 * netting.pull / len(loads)
    return loads


def no_cone_program(*given):
    raise AssertionError("solved as a cone program")


@pytest.fixture(scope="module")
def before(net):
    """The net as it rests under a fifth of its pull, by the cone program."""
    return find_equilibrium(net.netting, pushed(net.netting, 0.2), LIMITS)


@pytest.mark.parametrize("share", [0.25, 0.3])
def test_newtons_steps_find_what_the_cone_program_finds(net, before, share, monkeypatch):
    netting = replace(net.netting, bar_expected=before.tensions)
    loads = pushed(netting, share)
    cone = find_equilibrium(netting, loads, LIMITS)
    monkeypatch.setattr(equilibrium, "solve", no_cone_program)
    near = find_nearby(netting, loads, LIMITS, None, before)
    assert near.misfit < 1e-6
    assert np.abs(cone.positions - before.positions).max() > 1e-3  # or nothing was to be found
    assert near.positions == pytest.approx(cone.positions, abs=1e-4 * net.plan.bar)
    assert near.tensions == pytest.approx(cone.tensions, abs=1e-5 * netting.pull)
    assert near.hoop_pushes == pytest.approx(cone.hoop_pushes, abs=1e-5 * netting.pull)


def test_a_shape_far_away_is_found_by_the_cone_program(net, before):
    far = replace(net.netting, bar_expected=before.tensions)
    loads = pushed(far, -0.6)
    near = find_nearby(far, loads, LIMITS, None, before)
    assert near.misfit < 1e-6
    assert near.positions == pytest.approx(find_equilibrium(far, loads, LIMITS).positions, abs=1e-9)


def test_what_stops_short_of_balance_goes_on_from_there(monkeypatch):
    # Rods stretch the netting: what its twine bears at the most is among the bounds.
    made = make(around=12, diameters=(0.3, 0.3, 0.3), deep=(3, 4), spacing=(0.28, None))
    loads, solved = total_loads(made.netting), []

    def once(program, limits):
        solved.append(limits)
        return solve(program, limits)

    exact = find_equilibrium(made.netting, loads, LIMITS, capped=True)
    monkeypatch.setattr(equilibrium, "solve", once)
    short = replace(LIMITS, gap=1e-7, misfit=1e-8)
    found = find_equilibrium(made.netting, loads, short, capped=True)
    assert len(solved) == 1
    assert found.misfit < 1e-8
    assert found.positions == pytest.approx(exact.positions, abs=1e-5 * made.plan.bar)
    assert found.tensions == pytest.approx(exact.tensions, abs=1e-5 * made.netting.pull)
