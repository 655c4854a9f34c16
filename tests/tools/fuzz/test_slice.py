"""A slice of the fuzzer's run: no file ends in anything but a reason or a net."""

import re
import tomllib
from collections import Counter

import pytest

from tests.tools.fuzz.judge import BUILD, READ, REFUSED, TROUBLE, judge
from tests.tools.fuzz.judge_list import judge_list
from tests.tools.fuzz.mutate import LISTS, SAMPLES, SMALL, lot, mutant
from tests.tools.fuzz.toml_text import toml_text

SEED, FILES, LISTED = 0, 400, 120


def test_a_slice_of_all_files():
    seen = Counter()
    for number in range(FILES):
        verdict = judge(mutant(SEED, number), lot(SEED, number), (800, 40), lambda stage: None)
        assert verdict.kind != TROUBLE, f"file {number}: {verdict.detail}"
        seen[verdict.kind] += 1
    assert 0 < seen[REFUSED] < FILES  # neither all refused nor none


def test_a_slice_of_all_wanted_lists():
    seen = Counter()
    for number in range(LISTED):
        verdict = judge_list(
            mutant(SEED, number, lists=True), lot(SEED, number), (800, 24), lambda stage: None
        )
        assert verdict.kind != TROUBLE, f"file {number}: {verdict.detail}"
        seen[verdict.kind] += 1
    assert 0 < seen[REFUSED] < LISTED


@pytest.mark.parametrize("path", LISTS, ids=lambda path: path.stem)
def test_the_lists_that_the_fuzzer_starts_from_are_read(path):
    assert judge_list(path.read_bytes(), 1, (0, 10**9), lambda stage: None).kind == READ


def test_a_file_is_told_by_its_number():
    assert mutant(SEED, 7) == mutant(SEED, 7) != mutant(SEED + 1, 7)
    assert mutant(SEED, 7, lists=True) == mutant(SEED, 7, lists=True) != mutant(SEED, 7)


@pytest.mark.parametrize("path", [*SMALL, *SAMPLES], ids=lambda path: path.stem)
def test_what_the_fuzzer_starts_from_is_read(path):
    assert judge(path.read_bytes(), 1, (0, 10**9), lambda stage: None).kind.startswith("accepted")


def test_a_seed_is_built_with_all_writers():
    stages = []
    verdict = judge((SMALL[-1]).read_bytes(), 0, (1500, 1), stages.append)
    assert verdict.written == (BUILD[0],)
    assert stages == ["spec", "changes", "plan", "design", "build"]


def test_trouble_is_told(monkeypatch):
    def fails(path):
        raise IndexError(path)

    monkeypatch.setattr("tests.tools.fuzz.judge.read_spec", fails)
    verdict = judge(b"", 0, (0, 1), lambda stage: None)
    assert verdict.kind == TROUBLE
    assert re.search("IndexError", verdict.detail)


def test_text_of_tables_says_the_same():
    """Read back by tomllib."""
    for path in (*SMALL, *SAMPLES):
        document = tomllib.loads(path.read_text("utf-8"))
        assert tomllib.loads(toml_text(document)) == document
