"""The benchmark still runs: its smallest build, and its sums. What it measures is nobody's test."""

import os

import pytest

from tests.tools.benchmarks.fresh import call
from tests.tools.benchmarks.goals import GOALS, exponent, goal_lines
from tests.tools.benchmarks.stages import STAGES


@pytest.mark.skipif(not hasattr(os, "wait4"), reason="this system does not tell what a process took")
def test_the_smallest_build_is_timed_stage_by_stage():
    seconds, run = call("stages.build", "throats", "1")
    assert seconds.keys() == STAGES.keys() | {"imports", "bars"}
    assert sum(seconds[stage] for stage in STAGES) < run.seconds
    assert run.peak > 2**20


def test_the_exponent_of_a_square_with_noise_that_cancels():
    assert exponent([1, 10, 100], [1.1, 100 / 1.21, 11000]) == pytest.approx(2.0)


def test_a_goal_is_met_missed_or_not_measured():
    first, second = GOALS[0], GOALS[3]
    lines = goal_lines({first.key: first.at_most * 1.01, second.key: second.at_least})
    assert lines[0].endswith("NOT MET")
    assert lines[3].endswith(" met")
    assert lines[1].endswith("not measured")
