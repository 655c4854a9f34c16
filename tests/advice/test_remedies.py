"""A remedy that is told is typed into the file, and the finding is gone; where none is, the cause is told."""

import ast
import sys
from functools import cache
from pathlib import Path

import pytest

import net3d.checks
from net3d import design
from net3d.advice import KINDS, advise
from net3d.checks.checks import Level
from net3d.spec import parse_spec
from net3d.spec.rewriting import rewritten
from tests.advice.faulty import FAULTY, strings, throats
from tests.nets import hoop_diameter, spec_text

pytestmark = pytest.mark.law

RANKS = list(Level)
UNTRIED = {  # why no key of the spec is proposed
    "doubt-twine": "which of twine and mesh is meant, no one knows but the maker",
    "doubt-fish": "a smaller mesh changes every count",
    "mesh-passes": "a smaller mesh changes every count",
    "mesh-wedges": "a smaller mesh changes every count",
    "local-fish": "a larger mesh changes every count, and rings are a matter of taste",
    "escape-girth": "what lets others out lets these fish out",
    "escape-seam": "what thread holds is tried, not chosen",
    "escape-trial": "trials are told, not judged",
    "doubt-hoop": "only measuring again tells",
    "built-length": "the net is tied already; measuring helps",
    "hole-opening": "holes are mended, and net3d mend says how",
    "hole-rest": "holes are mended, and net3d mend says how",
    "hole-bar": "holes are mended, and net3d mend says how",
    "strength-left": "worn netting is knitted anew",
    "bow-measured": "the hoop or the measuring is at fault",
    "bow-slack": "net3d align finds turns, with many solves",
    "bow-uneven": "net3d align finds turns, with many solves",
    "river-shape": "nothing is judged of a net that is not at rest",
    "guide-twine": "lines bear what netting hung on them does not: heavier twine is the maker's choice",
    "guide-rest": "nothing is judged of a wing or leader that is not at rest",
    "drag-range": "the published models differ; measuring helps",
}
ALIKE = {"hoop-stress", "hoops-touch"}  # proposed for as hoop-bow and section-slack are, and seldom alone


@cache
def advised(text):
    return advise(design(parse_spec(text)))


def levels(made):
    return {(one.code, one.where): RANKS.index(one.level) for one in made.findings}


def odd(made, code):
    return [one for one in made.findings if one.code == code and one.level is not Level.OK]


@pytest.mark.parametrize("code", FAULTY)
def test_what_is_told_sets_it_right_once_it_is_typed(code):
    text = FAULTY[code]
    before = advised(text)
    finding = next(one for one in odd(before, code) if one.remedies)
    for remedy in finding.remedies:
        typed = rewritten(text, remedy.changes)
        assert typed.startswith("# my net\n")
        after = design(parse_spec(typed))
        assert after.shape.at_rest
        now, was = levels(after), levels(before)
        assert now.get((finding.code, finding.where), 0) == 0
        judged = before.shape.at_rest
        assert all(rank <= was.get(key, 0 if judged else 2) for key, rank in now.items())


def test_every_kind_has_a_net_or_a_reason():
    assert set(FAULTY) | set(UNTRIED) | ALIKE == set(KINDS)
    assert {code for code, kind in KINDS.items() if kind.proposed is None} == set(UNTRIED)


def test_every_finding_that_a_check_makes_is_a_kind():
    made = set()
    for path in Path(net3d.checks.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            called = getattr(getattr(node, "func", None), "id", "")
            if called in {"Finding", "graded"} and isinstance(node.args[0], ast.Constant):
                made.add(node.args[0].value)
    assert made - set(KINDS) == {
        "bow-left",
        "built-meshes",
        "escape-cut",
        "guide-pair",
    }  # which are always ok


def test_a_finding_says_which_part_it_is_about():
    found = advised(FAULTY["strings-carry-pull"]).findings
    general = {"net", "whole net", "hoops", "anchor", "netting", "body"}
    assert {one.where for one in found if one.part is None} <= general
    assert all(str(number) in one.where for one in found if one.part for number in one.part.numbers)
    assert {one.part.word for one in found if one.part} >= {"hoop", "section", "tail", "throat", "strings"}


def test_a_sound_net_costs_no_solves(monkeypatch):
    sound = design(parse_spec(spec_text()))
    monkeypatch.setattr("net3d.advice.trying.design", None)
    assert advise(sound).findings == sound.findings


def test_a_large_net_is_tried_less_often(monkeypatch):
    """As a net with as many bars as may be worked out for all its findings together."""
    faulty, made = design(parse_spec(FAULTY["opening-wide"].replace("[0.07, 0.2]", "[0.03, 0.4]"))), []
    monkeypatch.setattr(sys.modules["net3d.advice.advise"], "MOST_BARS", len(faulty.netting.bars))
    monkeypatch.setattr("net3d.advice.trying.design", lambda spec: made.append(spec) or faulty)
    (finding,) = odd(advise(faulty), "opening-wide")
    assert len(made) == 1
    assert "two nets" in finding.cause


def test_where_nothing_helps_the_cause_is_told():
    # girths of 30 mm to 400 mm: a tip that opens 400 mm is more than three times 30 mm around
    text = FAULTY["opening-wide"].replace("[0.07, 0.2]", "[0.03, 0.4]")
    (finding,) = odd(advised(text), "opening-wide")
    assert not finding.remedies
    assert "two nets" in finding.cause


def test_what_was_never_judged_is_told_once_the_net_rests():
    # strings of 0.1 m from a tip that hangs half a metre before their hoop: nothing can hold so
    text = FAULTY["no-string-fits"].replace("deep = 8", "deep = 4").replace('"to_hoop": 3', "")
    text = text.replace("{ to_hoop = 3 }", "{ to_hoop = 3, length = 0.1 }")
    (finding,) = odd(advised(text), "settled")
    (remedy,) = finding.remedies
    assert remedy.changes == {"throat.1.strings.length": "fit"}
    assert any("more to set right" in also for also in remedy.also)


def test_one_remedy_has_one_number():
    made = advised(FAULTY["strings-carry-pull"])
    numbered = {}
    for finding in made.findings:
        for remedy in finding.remedies:
            assert numbered.setdefault(remedy.number, remedy.changes) == remedy.changes
    assert list(numbered) == list(range(1, len(numbered) + 1))


def test_what_sets_most_right_is_told_of_all_that_it_sets_right():
    # E1 = girth / (N m) rises as N falls: so few meshes as the most crowded hoop asks for do for all three.
    sizes = [hoop_diameter(16, 0.4, ratio) for ratio in (0.19, 0.185, 0.18)]
    text = spec_text(around=16, stretched=0.4, diameters=sizes, deep=(4, 4))
    made = advised(text)
    told = [one.remedies[0] for one in odd(made, "hanging-ratio-low")]
    assert [remedy.number for remedy in told] == [1, 1, 1]
    assert all("sets all else right too" in remedy.also for remedy in told)


@pytest.mark.parametrize("tip", [8, 9])
def test_a_finger_tip_that_lets_fish_out_is_cured_by_a_line_through_it(tip):
    # A line of 0.2 m / 0.9 lets the largest fish in, and is 2.8 times the smallest around: 3 let it out.
    # Four strings part 8 meshes evenly and 9 not.
    text = spec_text(**throats({"tip": tip, **strings(to_tail=True)}, fish=(0.08, 0.2)))
    (finding,) = odd(advised(text), "opening-wide")
    told = [remedy.changes for remedy in finding.remedies]
    even = {"throat.1.tip": 8} if tip == 9 else {}
    square = {"throat.1.style": "square", **even, "throat.1.line": 0.223}
    assert square in told
    assert not odd(design(parse_spec(rewritten(text, square))), "opening-wide")
