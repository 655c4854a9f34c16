"""What is advised for lines and anchors, done: worked out again with it, nothing is left to say."""

import re

import pytest

from net3d.chain import design, loads_of
from net3d.checks.checks import Level
from net3d.checks.river import check_river
from net3d.spec import parse_spec, vary
from tests.nets import spec_text

KEYS = {"diameters": (0.32, 0.32), "deep": (4,), "tail": 5, "legs": 3, "pull": 20.0}
SIZE = re.compile(r"Take rope of (.+?) or thicker")
LENGTH = re.compile(r"[Mm]ake (?:it|the line) (.+?) long")
WEIGHT = re.compile(r"[Tt]ake one of (.+?) or more")
OTHER = re.compile(r"(?:Take|or) a ([a-z ]+) of (.+?) or more")
ANCHOR = '[anchor]\ntype = "{}"\nweight = "{}"\n[water]\nbottom = "{}"'


def spec_of(changes, extra="", **keys):
    return vary(parse_spec(spec_text(**{**KEYS, **keys}, extra=extra)), changes)


def finding(spec, code, where, speed=0.5):
    made = design(spec)
    (loads,) = loads_of(made, (speed,))
    found = [*made.findings, *check_river(spec, made.plan, loads)]
    return next(one for one in found if (one.code, one.where) == (code, where))


def advised(message):
    """The changes that a sentence asks for, by key."""
    changes = {}
    if size := SIZE.search(message):
        changes["rigging.rope"] = size[1]
    if length := LENGTH.search(message):
        changes["rigging.line"] = length[1]
    if weight := WEIGHT.search(message):
        changes["anchor.weight"] = weight[1]
    return changes


THIN = {"rigging.rope": "2 mm"}
SHORT = {"rigging.line": "0.165 m"}
LINES = [
    ("line-load", THIN, {"pull": 100.0}),
    (
        "line-load",
        {"rigging.rope": "1/4 in"},
        {"pull": 900.0, "units": "in", "diameters": (12.6, 12.6), "stretched": 4, "leg": 20},
    ),
    ("line-load", SHORT, {"pull": 120.0}),
    ("line-load", {**THIN, **SHORT}, {"pull": 120.0}),
    ("line-load", {"rigging.rope_material": "nylon"}, {"pull": 800.0}),
    ("line-load", {"rigging.rope_ends": "spliced"}, {"pull": 1200.0}),
    ("twine-overload", THIN, {"pull": 200.0}),
    ("twine-overload", {}, {"pull": 900.0}),
]


@pytest.mark.parametrize(("code", "changes", "keys"), LINES)
def test_an_anchor_line_that_is_made_as_advised_passes(code, changes, keys):
    spec = spec_of(changes, **keys)
    before = finding(spec, code, "anchor line")
    assert before.level is not Level.OK
    asked = advised(before.message)
    assert set(asked) <= {"rigging.rope", "rigging.line"}
    assert asked
    assert finding(vary(spec, asked), code, "anchor line").level is Level.OK


def test_steep_legs_that_are_made_as_advised_pass():
    # Legs of 0.2 m to a hoop of 0.3 m slant, and each bears more than its third of the pull: H / cos a.
    spec = spec_of(THIN, pull=2200.0, leg=0.2)
    asked = advised(finding(spec, "twine-overload", "bridle").message)
    made = {"rigging.rope": asked["rigging.rope"], "rigging.bridle.length": asked["rigging.line"]}
    assert finding(vary(spec, made), "twine-overload", "bridle").level is Level.OK


def test_a_thin_line_is_not_told_to_be_longer_nor_a_short_one_to_be_thicker():
    assert set(advised(finding(spec_of(THIN, pull=100.0), "line-load", "anchor line").message)) == {
        "rigging.rope"
    }
    assert set(advised(finding(spec_of(SHORT, pull=120.0), "line-load", "anchor line").message)) == {
        "rigging.line"
    }


def test_spliced_ends_are_told_of_where_they_do():
    spec = spec_of({}, pull=700.0)
    assert "splice eyes" in finding(spec, "line-load", "anchor line").message
    assert finding(vary(spec, {"rigging.rope_ends": "spliced"}), "line-load", "anchor line").level is Level.OK


def test_no_rope_that_bears_it_is_said_so():
    spec = spec_of({}, extra="[limits]\nline_hold = { caution = 1e5, fail = 9e4 }")
    message = finding(spec, "line-load", "anchor line").message
    assert "No polypropylene that is sold bears that" in message
    assert not advised(message)


def test_bridle_legs_that_are_made_as_advised_pass():
    spec = spec_of({"rigging.rope": "2 mm"}, pull=300.0)
    before = finding(spec, "twine-overload", "bridle")
    assert before.level is not Level.OK
    assert finding(vary(spec, advised(before.message)), "twine-overload", "bridle").level is Level.OK


ANCHORS = [
    ("concrete block", "5 kg", "sand", {}, {}),
    (
        "concrete block",
        "11 lb",
        "sand",
        {},
        {"units": "in", "diameters": (12.6, 12.6), "stretched": 4, "leg": 20},
    ),
    ("grapnel", "2 kg", "mud", {}, {}),
    ("sandbag", "8 kg", "clay", SHORT, {}),
]


@pytest.mark.parametrize(("kind", "weight", "bottom", "changes", "keys"), ANCHORS)
def test_an_anchor_of_the_weight_advised_passes(kind, weight, bottom, changes, keys):
    spec = spec_of(changes, ANCHOR.format(kind, weight, bottom), **keys)
    before = finding(spec, "anchor-light", "anchor")
    assert before.level is not Level.OK
    asked = advised(before.message)
    assert "anchor.weight" in asked
    assert finding(vary(spec, asked), "anchor-light", "anchor").level is Level.OK


@pytest.mark.parametrize(("kind", "bottom"), [("concrete block", "sand"), ("fluke", "rock")])
def test_another_kind_of_the_weight_advised_passes(kind, bottom):
    spec = spec_of({}, ANCHOR.format(kind, "5 kg", bottom))
    other, weight = OTHER.search(finding(spec, "anchor-light", "anchor").message).groups()
    changed = vary(spec, {"anchor.type": other, "anchor.weight": weight})
    assert finding(changed, "anchor-light", "anchor").level is Level.OK


def test_weights_are_those_that_are_sold():
    spec = spec_of({}, ANCHOR.format("concrete block", "5 kg", "sand"))
    weight = advised(finding(spec, "anchor-light", "anchor").message)["anchor.weight"]
    assert float(weight.removesuffix(" kg")) % 5 == 0
