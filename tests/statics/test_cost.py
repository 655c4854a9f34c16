"""What a solve costs, counted in entries of the solver's factor: seconds depend on who else is at work.

A net that mirrors itself is solved as half of it; the whole is cut in two halves along two lines of knots, so
that its factor should have about twice the entries (nested dissection: George, Nested Dissection of a Regular
Finite Element Mesh, SIAM J. Numer. Anal. 10 (1973), from memory).
"""

import clarabel
import pytest

from net3d.statics import equilibrium
from net3d.statics.loads import total_loads
from net3d.statics.shape import Symmetry
from net3d.statics.solver import SolverLimits, _cones, _settings
from tests.nets import make


class StatedError(Exception):
    """A program, before it is solved."""


def factor_entries(net, monkeypatch):
    def stop(program, limits):
        raise StatedError(program)

    monkeypatch.setattr(equilibrium, "solve", stop)
    with pytest.raises(StatedError) as stated:
        equilibrium.find_equilibrium(net, total_loads(net), SolverLimits())
    (program,) = stated.value.args
    solver = clarabel.DefaultSolver(
        program.quadratic.compressed,
        program.linear,
        program.matrix.compressed,
        program.bounds,
        _cones(program),
        _settings(SolverLimits(iterations=1)),
    )
    solver.solve()
    return solver.get_info().linsolver.nnzL


@pytest.mark.newest  # an older solver does not say how large its factor is
def test_a_net_without_a_mirror_costs_about_two_halves(monkeypatch):
    net = make(around=48, diameters=(0.8,) * 4, deep=(6, 6, 6), weight=True).netting
    half = factor_entries(net, monkeypatch)
    monkeypatch.setattr(equilibrium, "find_symmetry", lambda netting, loads: Symmetry())
    whole = factor_entries(net, monkeypatch)
    assert 1.8 * half < whole < 3.2 * half
