"""Solving one repeat of a net against solving all of it, knot by knot: the tensions are unique (derived)."""

import numpy as np
import pytest

import net3d.statics.symmetry
from net3d.statics import equilibrium
from net3d.statics.shape import Symmetry
from tests.nets import make

pytestmark = pytest.mark.second_route

NETS = {
    "turns and mirror": ({"diameters": (0.32, 0.3, 0.28), "deep": (2.5, 3), "tail": 4}, Symmetry(16, True)),
    "three legs": (
        {"around": 12, "diameters": (0.24, 0.22), "deep": (3.5,), "tail": 3, "legs": 3},
        Symmetry(3, True),
    ),
    "legs that divide nothing": (
        {"around": 10, "diameters": (0.2, 0.2), "deep": (3,), "legs": 3, "anchor": "mouth"},
        Symmetry(1, True),
    ),
    "weight": ({"weight": True, "pull": 10.0, "tail": 3.5, "legs": 4}, Symmetry(1, True)),
    "an odd number around": ({"around": 13, "diameters": (0.26, 0.26), "deep": (3.5,)}, Symmetry(13, True)),
    "rods": ({"diameters": (0.32,) * 3, "deep": (3, 4), "spacing": (None, 0.345)}, Symmetry(16, True)),
}


@pytest.mark.parametrize("name", NETS)
def test_a_repeat_stands_for_the_whole(name, monkeypatch):
    keys, symmetry = NETS[name]
    net = make(**keys)
    shape = net.settled()
    monkeypatch.setattr(equilibrium, "find_symmetry", lambda netting, loads: Symmetry())
    whole = net.settled()
    assert (shape.symmetry, whole.symmetry) == (symmetry, Symmetry())
    share = min(section.full_share for section in shape.sections)
    assert np.abs(shape.bar_tensions - whole.bar_tensions).max() < 1e-3 * share
    assert np.abs(shape.knot_positions - whole.knot_positions).max() < 1e-4 * net.plan.bar
    assert shape.hoop_positions == pytest.approx(whole.hoop_positions, abs=1e-6 * net.plan.bar)


def test_a_load_on_one_side_leaves_no_symmetry():
    net = make()
    loads = net.netting.knot_loads.copy()
    loads[40, 1] += 1.0
    assert net3d.statics.symmetry.find_symmetry(net.netting, net.netting.knot_loads).turns == 16
    assert net3d.statics.symmetry.find_symmetry(net.netting, loads) == Symmetry()
