"""Measures that are hardly meant are told, and those of common nets are not."""

from pathlib import Path

import pytest

from net3d.checks.doubts import check_doubts
from net3d.spec import parse_spec, read_spec, starter_spec, vary

SAMPLES = sorted((Path(__file__).parents[2] / "specs").glob("*.toml"))
STARTER = starter_spec("Backwater")  # inches; hoops of 36 to 34 in, 44 meshes of 3 1/2 in, twine #15


def codes(changes):
    return {finding.code for finding in check_doubts(vary(parse_spec(STARTER), changes))}


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"hoop.1.rod": 12}, "doubt-rod"),  # 12 mm
        ({"hoop.3.diameter": 38}, "doubt-hoop"),  # among 35 and 34
        ({"hoop.3.diameter": 31}, "doubt-hoop"),
        ({"hoop.1.diameter": 33}, "doubt-mouth"),
        ({"hoop": [5, 4, 3, 2, 1]}, "doubt-mouth"),
        ({"fish.girth": [6, 20]}, "doubt-fish"),  # a mesh of 3 1/2 in is 7 in around
        ({"netting.twine": "210/6", "netting.stretched": 12, "throat.1": None}, "doubt-twine"),
        ({"units": "mm", "rigging.rope": 6, "netting.twine": "210/6"}, "doubt-units doubt-twine"),
    ],
)
def test_what_is_hardly_meant_is_told(changes, code):
    assert codes(changes) == set(code.split())


@pytest.mark.parametrize(
    "changes",
    [{}, {"hoop.1.rod": "12 mm"}, {"hoop.3.diameter": "34 1/4"}, {"fish.girth": [7, 20]}],
)
def test_what_may_be_meant_is_not_doubted(changes):
    assert codes(changes) == set()


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples_are_not_doubted(path):
    assert check_doubts(read_spec(path)) == []
