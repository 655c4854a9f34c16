"""What finding a throat that lies on the body costs, in solves: seconds depend on who else is at work.

The net rests in one place, however it is found, as its energy is convex (Rockafellar, Convex Analysis, 1970,
from memory), but for how far the walls may be taken straight from where they are: ``INSIDE``.
"""

import sys

import numpy as np
import pytest

from net3d.statics import contact
from net3d.statics.settle import GOOD, settle_quickly
from tests.nets import make

settle = sys.modules["net3d.statics.settle"]  # its name in the package is the function's
LOOSE, EXACT = contact.LOOSELY, settle.QUICK


def pulled(pull, share=0.01):
    """A net whose throat sags the more, the less of the pull [N] its strings take."""
    throat = {"hoop": 1, "deep": 5, "tip": 12, "strings": {"to_tail": True, "share": share}}
    return make(
        around=24, diameters=(0.4,) * 3, deep=(5, 5), tail=4, weight=True, throats=(throat,), pull=pull
    )


@pytest.fixture
def solves(monkeypatch):
    """The limits of every solve, and whether there were walls."""
    done = []

    def noted(find):
        def solve(netting, loads, limits, walls=None, *more, **keys):
            done.append((limits, walls is not None))
            return find(netting, loads, limits, walls, *more, **keys)

        return solve

    for module, name in ((contact, "find_nearby"), (settle, "find_nearby"), (settle, "find_equilibrium")):
        monkeypatch.setattr(module, name, noted(getattr(module, name)))
    return done


@pytest.mark.parametrize(
    ("pull", "expected"),
    [
        (10.0, [(LOOSE, False), (EXACT, True)]),
        (2.0, [(LOOSE, False), (LOOSE, True), (EXACT, True)]),  # it hangs far below the body
    ],
)
@pytest.mark.second_route
def test_a_throat_that_lies_on_the_body_is_solved_exactly_once(pull, expected, solves, monkeypatch):
    net = pulled(pull)
    shape = settle_quickly(net.netting, net.plan)
    assert shape.state in GOOD
    assert solves == expected
    monkeypatch.setattr(settle, "will_lie_on_body", lambda netting, plan: False)
    again = settle_quickly(net.netting, net.plan)
    assert np.linalg.norm(shape.knot_pushes, axis=1).sum() > 0
    assert np.abs(again.knot_positions - shape.knot_positions).max() < contact.INSIDE


def test_a_throat_that_hangs_free_after_all_has_the_net_solved_exactly(solves):
    net = pulled(30.0)
    shape = settle_quickly(net.netting, net.plan)
    assert shape.state in GOOD
    assert not shape.knot_pushes.any()
    assert solves == [(LOOSE, False), (EXACT, False)]


def test_a_throat_that_is_held_taut_costs_one_solve(solves):
    net = pulled(30.0, share=0.1)
    assert settle_quickly(net.netting, net.plan).state in GOOD
    assert solves == [(EXACT, False)]
