"""A net sketched while it is typed stands where the whole chain finds it, for the price of one solve."""

import numpy as np
import pytest

from net3d.chain import design, sketch
from net3d.spec import parse_spec
from net3d.statics import equilibrium
from tests.nets import spec_text

FIRST = {"hoop": 2, "deep": 3.5, "tip": 8, "strings": {"to_hoop": 3, "length": "fit"}}
NETS = {
    "throat": {"around": 20, "diameters": (0.5, 0.49, 0.48), "deep": (4, 5), "throats": [FIRST], "tail": 6},
    "rods": {"diameters": (0.32, 0.32), "deep": (4,), "spacing": (0.3,), "tail": 4},
    "plain": {"diameters": (0.32, 0.32, 0.3), "deep": (4, 4), "weight": True, "tail": 4},
}


@pytest.mark.parametrize("kind", NETS)
def test_hoops_stand_within_a_tenth_of_a_millimetre(kind, monkeypatch):
    solves, solve = [], equilibrium.solve
    monkeypatch.setattr(equilibrium, "solve", lambda *given: solves.append(given) or solve(*given))
    spec = parse_spec(spec_text(**NETS[kind]))
    sketched = sketch(spec)
    assert len(solves) == 1
    whole = design(spec)
    np.testing.assert_allclose(sketched.shape.hoop_positions, whole.shape.hoop_positions, rtol=0, atol=1e-4)
    assert sketched.string_lengths == pytest.approx(whole.string_lengths, abs=1e-4)
    assert (sketched.loads, sketched.working, sketched.findings) == ((), None, ())
