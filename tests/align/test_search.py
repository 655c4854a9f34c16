"""The estimate and the search against every turn there is, and against full solves."""

from itertools import product

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from net3d.align import align
from net3d.align.estimate import Turn, best_picks, estimate, even_share, section_costs
from net3d.align.lines import lines_of
from net3d.align.search import bare_body, try_way
from net3d.align.ways import Way, all_turns, as_they_stand
from net3d.errors import SpecError
from net3d.plan import lay_out
from net3d.spec import parse_spec
from tests.align.bowed import bowed_spec, saddle
from tests.nets import each_hoop, spec_text

pytestmark = pytest.mark.second_route

SMALL = 3e-3  # m; a sixteenth of a bar
THREE = {"around": 8, "diameters": (0.17, 0.17, 0.17), "deep": (2, 2.5)}
GAPS = [saddle(0.002), saddle(0.0025, 0.6), saddle(0.001, waves=3)]


def costs_of(spec, flips=False):
    """Estimates of a net's sections, and the choices they are for."""
    plan = lay_out(spec)
    choices = all_turns(plan, flips)
    return section_costs(plan.hoops, lines_of(spec, plan), choices), choices


def trial(spec, turns):
    """A way solved in full, with what the estimate says of it."""
    costs, choices = costs_of(spec)
    picks = tuple(choices.index(turn) for turn in turns)
    return try_way(spec, Way(as_they_stand(spec), turns, estimate(costs, picks)))


def test_no_way_pulls_more_evenly_than_the_best_found():
    spec = bowed_spec(GAPS, **THREE)
    found = align(spec)
    ways = [(Turn(), Turn(one), Turn(two)) for one, two in product(range(8), repeat=2)]
    best = min(trial(spec, way).tension_ratio for way in ways)
    assert found.best.tension_ratio <= 1.1 * best  # ways are ranked within a tenth, and that is told
    assert found.in_line.tension_ratio >= found.best.tension_ratio
    assert found.worst.tension_ratio >= found.in_line.tension_ratio


@pytest.mark.parametrize("worst", [False, True])
@pytest.mark.parametrize("flips", [False, True])
def test_best_picks_are_those_of_all_picks(flips, worst):
    four = THREE | {"diameters": (0.17,) * 4, "deep": (2, 2.5, 2)}
    costs, choices = costs_of(bowed_spec([*GAPS, saddle(0.003, 1.1)], **four), flips)
    everything = (estimate(costs, (0, *rest)) for rest in product(range(len(choices)), repeat=3))
    wanted = max(everything) if worst else min(everything)
    assert estimate(costs, best_picks(costs, 0, worst)) == pytest.approx(wanted, rel=1e-12)


@given(
    waves=st.tuples(*[st.integers(2, 3)] * 2),
    starts=st.tuples(*[st.floats(0, 6)] * 2),
    heights=st.tuples(*[st.floats(0.3, 1)] * 2),
    turns=st.tuples(*[st.integers(0, 11)] * 2),
    deep=st.sampled_from([2, 2.5, 3]),
)
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
def test_small_bows_rank_as_the_full_solve_does(waves, starts, heights, turns, deep):
    gaps = [saddle(SMALL * h, s, w) for h, s, w in zip(heights, starts, waves, strict=True)]
    spec = bowed_spec(gaps, around=12, diameters=(0.26, 0.26), deep=(deep,))
    one, other = (trial(spec, (Turn(), Turn(turn))) for turn in turns)
    assume(abs(np.log(one.way.estimate / other.way.estimate)) > 0.1)
    assert (one.way.estimate < other.way.estimate) == (one.tension_ratio < other.tension_ratio)


def test_turns_that_the_spec_gives_are_forgotten():
    spec = bowed_spec(GAPS, (1, 3, 2), **THREE)
    again = bare_body(each_hoop(spec, flip=True))
    assert again == bare_body(bowed_spec(GAPS, **THREE))


def test_estimate_does_not_feel_all_hoops_turned_alike():
    costs, _ = costs_of(bowed_spec(GAPS, **THREE))
    assert estimate(costs, (3, 4, 6)) == pytest.approx(estimate(costs, (0, 1, 3)), rel=1e-9)


def test_hoops_that_nobody_measured_are_refused():
    with pytest.raises(SpecError, match="no hoop has gaps or across"):
        align(parse_spec(spec_text()))


def test_pulls_of_lines_are_those_of_another_solver():
    """Twine that pulls and cannot push, drawn out until it bears its load: scipy's root finder."""
    stretches = np.random.default_rng(2).normal(0.0, 3.0, (5, 40))
    for some, give in zip(stretches, (0.01, 0.1, 1.0, 3.0, 30.0), strict=True):

        def missing(shift, some=some, give=give):
            return np.maximum(some + shift, 0).sum() - 40 * give

        shift = brentq(missing, -999, 999, xtol=1e-13)
        np.testing.assert_allclose(even_share(some, give), np.maximum(some + shift, 0) / give, atol=1e-9)


def test_the_estimate_is_the_tightest_pull_within_a_tenth():
    inch = 0.0254
    gaps = [saddle(height * inch, start) for height, start in ((0.25, 0.0), (0.12, 1.0), (0.2, 2.0))]
    spec = bowed_spec(
        gaps, around=40, stretched=3.5 * inch, diameters=(30 * inch,) * 3, deep=(4, 6), rod=0.5 * inch
    )
    for turns in ((0, 0), (10, 0), (5, 20), (33, 7)):
        found = trial(spec, (Turn(), *map(Turn, turns)))
        assert found.unevenness > 0.5  # far from even: lines hang slack
        assert found.way.estimate == pytest.approx(found.tension_ratio, rel=0.1)
