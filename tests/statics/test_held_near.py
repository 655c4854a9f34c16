"""Hoops that may go only so far in a round end within it, and what holds them there is told, either way."""

import numpy as np
import pytest

from net3d.statics.equilibrium import find_equilibrium
from net3d.statics.settle import total_loads
from net3d.statics.solver import SolverLimits
from net3d.statics.walls import Walls
from tests.nets import make

pytestmark = pytest.mark.law

REACH = 0.002  # m
NONE = np.zeros(0, dtype=int)


def distances(near=None):
    netting = make(diameters=(0.32, 0.32, 0.30), deep=(4, 4), tail=5, pull=60.0).netting
    walls = near and Walls(NONE, NONE, np.zeros((0, 2)), np.zeros(0), np.zeros(0), np.zeros((0, 2)), near)
    found = find_equilibrium(netting, total_loads(netting), SolverLimits(), walls)
    return np.diff(found.hoop_positions), found.held_near


@pytest.mark.parametrize(("part", "side"), [(0.9, 1.0), (1.02, -1.0)])
def test_hoops_go_as_far_as_they_are_let(part, side):
    free, _ = distances()
    found, held = distances((part * free, REACH))
    assert found == pytest.approx(part * free + side * REACH, abs=1e-5)
    assert held


def test_what_would_go_no_further_is_not_held():
    free, held = distances()
    assert not held
    found, held = distances((free, REACH))
    assert found == pytest.approx(free, abs=1e-5)
    assert not held
