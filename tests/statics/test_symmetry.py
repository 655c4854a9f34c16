"""Solving one repeat of a net against solving all of it, knot by knot: the tensions are unique (derived)."""

import numpy as np
import pytest

import net3d.statics.symmetry
from net3d.statics import equilibrium
from net3d.statics.shape import Symmetry
from tests.nets import framed, make

pytestmark = pytest.mark.second_route

WEIGHED = {"weight": True, "pull": 10.0, "diameters": (0.36, 0.36), "deep": (5,), "tail": 5}

BOWED = {"diameter": 0.36, "gaps": [0.01, 0.005, 0.0, 0.005, 0.01, 0.005, 0.0, 0.005]}


def opening(kind: str, turn: float, more: str = "") -> str:
    return f'[[escape]]\nkind = "{kind}"\nbehind = 1\nwidth = 0.1\nheight = 0.13\nturn = {turn}\n{more}'


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
    "a chimney at the top": (
        {**WEIGHED, "extra": opening("chimney", 0.0, 'high = 0.2\nlift = "2 N"\n')},
        Symmetry(1, True),
    ),
    "an opening at either side, and one below": (
        {**WEIGHED, "extra": "".join(opening("hole", turn) for turn in (0.2, 0.8, 0.5))},
        Symmetry(1, True),
    ),
    "lines both ways": (
        {**WEIGHED, "pull": 60.0, "extra": '[[escape]]\nkind = "guard"\napart = 0.1\n'},
        Symmetry(1, True),
    ),
    "a frame that leans in the upright plane": (
        {**WEIGHED, "frames": ({"shape": "d", "width": 0.32, "height": 0.3, "corner": 0.03},)},
        Symmetry(1, True),
    ),
    "a hoop bowed alike left and right": ({**WEIGHED, "frames": (BOWED,)}, Symmetry(1, True)),
    "a hoop bowed otherwise left and right": (
        {**WEIGHED, "frames": ({**BOWED, "gaps": [0.0, 0.01, 0.0, 0.0, 0.0, 0.01, 0.0, 0.0]},)},
        Symmetry(),
    ),
    "rods": ({"diameters": (0.32,) * 3, "deep": (3, 4), "spacing": (None, 0.345)}, Symmetry(16, True)),
}


@pytest.mark.parametrize("name", NETS)
def test_a_repeat_stands_for_the_whole(name, monkeypatch):
    keys, symmetry = NETS[name]
    net = framed(*keys.get("frames", ()), **{key: value for key, value in keys.items() if key != "frames"})
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
