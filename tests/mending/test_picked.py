"""Bars that were picked from a net are told so that reading them again gives the same bars."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from net3d.mending import HoleError, lattice_of
from net3d.mending.picked import picked_tears
from net3d.mending.torn import parts_of, pieces_of, torn_bars
from net3d.netting import tie
from net3d.plan import lay_out
from net3d.spec import parse_spec
from net3d.spec.holes import KnotRun
from tests.nets import spec_text


@cache
def net():
    spec = parse_spec(spec_text(around=16, diameters=(0.36, 0.36), deep=(6,), extra=""))
    plan = lay_out(spec)
    return plan, tie(spec, plan)


def own_bars(throat=None):
    plan, netting = net()
    return np.concatenate([netting.bars_of(part) for part in parts_of(plan, throat)])


@pytest.mark.law
@settings(max_examples=40)
@given(st.sets(st.integers(0, 10**6), min_size=1, max_size=60), st.booleans())
def test_what_is_picked_reads_as_what_was_picked(numbers, swapped):
    plan, netting = net()
    own = own_bars()
    picked = frozenset(number % len(own) for number in numbers)
    ends = netting.bars[own[sorted(picked)]]
    (tear,) = picked_tears(plan, netting, ends[:, ::-1] if swapped else ends)
    lattice = lattice_of(*pieces_of(plan, None))
    read = torn_bars(lattice, tear)
    knots = {frozenset(pair) for pair in lattice.ends[sorted(picked)].tolist()}
    assert {frozenset(pair) for pair in lattice.ends[sorted(read)].tolist()} == knots
    assert read >= picked  # of two bars between the same knots, both


def test_knots_are_told_as_knots_and_runs_of_them_as_runs():
    plan, netting = net()
    lattice = lattice_of(*pieces_of(plan, None))
    knots = {lattice.knot(5, place) for place in (2, 3, 4, 15)} | {lattice.knot(6, 0)}
    ends = netting.bars[own_bars()[sorted(lattice.bars_at(knots))]]
    (tear,) = picked_tears(plan, netting, ends)
    assert tear.knots == (KnotRun(5, 3, 5), KnotRun(5, 16, 16), KnotRun(6, 1, 1))
    assert tear.bars == ()


def test_what_is_no_netting_cannot_be_torn():
    plan, netting = net()
    for ends in (np.array([[0, 0]]), np.zeros((0, 2), int), np.array([[0, 10**9]])):
        with pytest.raises(HoleError, match="mark some of those"):
            picked_tears(plan, netting, ends)
