"""Hoops measured and found flat hang as hoops that were never measured; turned, it is the same net."""

import numpy as np
import pytest

from tests.align.bowed import bowed_net, saddle
from tests.nets import make

pytestmark = pytest.mark.law

KEYS = {"around": 12, "diameters": (0.26, 0.24, 0.25), "deep": (3, 2.5), "tail": 3}


def test_equal_gaps_change_nothing():
    plain, flat = make(**KEYS).settled(), bowed_net([(0.02,) * 8] * 3, **KEYS).settled()
    # Two runs of the solver on programs of unlike size (symmetry, tilt): both balance to their residual.
    share = min(section.full_share for section in plain.sections)
    assert np.abs(flat.bar_tensions - plain.bar_tensions).max() < 1e-3 * share
    assert np.abs(flat.knot_positions - plain.knot_positions).max() < 1e-4 * 0.05


@pytest.mark.parametrize("turn", [1, 5])
def test_turning_all_hoops_alike_turns_the_net(turn):
    gaps = [saddle(0.004), saddle(0.004, 1.0), saddle(0.003, waves=3)]
    first, second = (bowed_net(gaps, turns, **KEYS) for turns in ((0,) * 3, (turn,) * 3))
    for one, other in zip(first.settled().sections, second.settled().sections, strict=True):
        assert other.tension_max == pytest.approx(one.tension_max, rel=1e-3)
        assert other.length == pytest.approx(one.length, rel=1e-5)
        assert other.slack_share == pytest.approx(one.slack_share, abs=1e-9)
