"""Hoops in each other's places: every order there is, by arithmetic and by full solves."""

from itertools import permutations, product

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from net3d.align import align
from net3d.align.estimate import Turn, estimate, section_costs
from net3d.align.lines import lines_of
from net3d.align.search import bare_body, try_way
from net3d.align.sequence import best_orders
from net3d.align.ways import Way, all_turns, may_stand
from net3d.errors import SpecError
from net3d.plan import lay_out
from tests.align.bowed import bowed_spec, saddle

AROUND = 8
NET = {"around": AROUND, "diameters": (0.17, 0.17), "deep": (2.5,)}
GAPS = [saddle(0.002), saddle(0.0012, 0.5, 3)]


def spare(spec, gaps, diameter=0.17, name="spare"):
    """A hoop like the net's own, on the pile."""
    return spec.hoops[0].model_copy(
        update={"gaps": gaps, "diameter": diameter, "name": name, "within": 0.0, "across": ()}
    )


@pytest.fixture(scope="module")
def spec():
    spec = bowed_spec(GAPS, **NET)
    hoops = tuple(
        hoop.model_copy(update={"name": f"hoop {n}", "within": 0.004}) for n, hoop in enumerate(spec.hoops, 1)
    )
    return spec.model_copy(update={"hoops": hoops, "pile": (spare(spec, saddle(0.0018, 0.4)),)})


def test_no_order_pulls_more_evenly_than_the_best_found(spec):
    found = align(spec, order=True)
    body = bare_body(spec, order=True)
    every = (*body.hoops, *body.pile)
    ways = [
        Way(hoops, (Turn(), Turn(meshes)), 0.0)
        for hoops in permutations(every, 2)
        for meshes in range(AROUND)
    ]
    best = min(try_way(body, way).unevenness for way in ways)
    assert found.reordered.unevenness == pytest.approx(best, rel=1e-6)
    assert "spare" in [hoop.name for hoop in found.reordered.way.hoops]  # its bow is most like hoop 1's
    assert found.reordered.unevenness < found.best.unevenness


@pytest.mark.parametrize("flips", [False, True])
def test_best_order_is_that_of_all_orders(flips):
    shapes = [*GAPS, saddle(0.003, 1.1), saddle(0.001, 0.2), saddle(0.002, 1.9, 3)]
    five = bowed_spec(shapes, around=6, diameters=(0.13,) * 5, deep=(2, 2.5, 2, 2))
    plan, few = lay_out(five), bowed_spec(shapes[:3], around=6, diameters=(0.13,) * 3, deep=(2, 2.5))
    lines = lines_of(few, lay_out(few))
    allowed = np.ones((3, 5), bool)
    allowed[0, 1] = allowed[2, 4] = False
    choices = all_turns(plan, flips)

    def least(order):
        hoops = tuple(plan.hoops[number] for number in order)
        costs = section_costs(hoops, lines, choices)
        return min(estimate(costs, picks) for picks in product(range(len(choices)), repeat=3))

    orders = [
        order
        for order in permutations(range(5), 3)
        if all(allowed[place, hoop] for place, hoop in enumerate(order))
    ]
    found = best_orders(plan.hoops, allowed, lines, flips, 4)
    assert found.exact
    assert found.picks[0] == min(orders, key=least)


def test_a_hoop_takes_a_place_only_as_far_as_its_diameter_allows(spec):
    wider, close = spare(spec, (), 0.1745), spare(spec, (), 0.1735)
    assert not may_stand(spec, 0, wider)
    assert may_stand(spec, 0, close)
    tight = spec.model_copy(
        update={"hoops": (spec.hoops[0].model_copy(update={"within": 1.0}), spec.hoops[1])}
    )
    # 8 meshes of 100 mm reach around 800 mm: a knot circle of 255 mm.
    assert may_stand(tight, 0, spare(spec, (), 0.254))
    assert not may_stand(tight, 0, spare(spec, (), 0.28))


def test_as_many_hoops_as_nobody_has_are_refused(spec):
    many = spec.model_copy(update={"pile": spec.pile * 39})
    with pytest.raises(SpecError, match="41 hoops"):
        align(many, order=True)


def test_a_pile_that_was_measured_is_enough(spec):
    true = tuple(hoop.model_copy(update={"gaps": ()}) for hoop in spec.hoops)
    found = align(spec.model_copy(update={"hoops": true}), order=True)
    assert found.reordered == found.best  # true hoops are the best there are
    with pytest.raises(SpecError):
        align(spec.model_copy(update={"hoops": true}))


@given(
    starts=st.tuples(*[st.floats(0, 3)] * 2),
    heights=st.tuples(*[st.floats(0.3, 1)] * 2),
    turns=st.tuples(*[st.integers(0, 11)] * 2),
    deep=st.sampled_from([2, 2.5, 3]),
)
@settings(max_examples=12, deadline=None)
def test_small_ovals_rank_as_the_full_solve_does(starts, heights, turns, deep):
    small, stations = 1e-4, np.pi * np.arange(6) / 6
    spec = bowed_spec([(), ()], around=12, diameters=(0.26, 0.26), deep=(deep,))
    hoops = tuple(
        hoop.model_copy(update={"across": tuple(0.26 + 2 * small * height * np.cos(2 * (stations - start)))})
        for hoop, height, start in zip(spec.hoops, heights, starts, strict=True)
    )
    spec = spec.model_copy(update={"hoops": hoops})
    plan = lay_out(spec)
    choices = all_turns(plan, False)
    costs = section_costs(plan.hoops, lines_of(spec, plan), choices)
    ways = [Way(hoops, (Turn(), Turn(turn)), estimate(costs, (0, turn))) for turn in turns]
    one, other = (try_way(spec, way) for way in ways)
    assume(min(one.way.estimate, other.way.estimate) > 0)
    assume(abs(np.log(one.way.estimate / other.way.estimate)) > 0.1)
    assert (one.way.estimate < other.way.estimate) == (one.unevenness < other.unevenness)
