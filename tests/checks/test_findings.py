"""Every finding of the body: one net that gives cause for it, one that does not."""

import re
from dataclasses import replace

import pytest

from net3d import design
from net3d.checks.checks import Level
from net3d.checks.every_check import check
from net3d.spec import parse_spec, starter_spec
from net3d.statics import settle
from net3d.statics.solver import SolverLimits
from tests.nets import hoop_diameter, make

ROWS = {"diameters": (0.32,) * 3, "deep": (3, 4)}
HEAVY = {"weight": True, "pull": 0.05, "deep": (12,), "twine": "#120"}
OK, CAUTION, FAIL = Level.OK, Level.CAUTION, Level.FAIL


def findings(code, limits=None, **keys):
    net = make(**keys)
    shape = settle(net.netting, net.plan, limits)
    return [finding for finding in check(net.spec, net.plan, net.netting, shape) if finding.code == code]


def worst(code, **keys):
    found = findings(code, **keys)
    return max(found, key=lambda finding: list(Level).index(finding.level))


def on_hoops(hanging_ratio):
    return {"diameters": (hoop_diameter(16, 0.1, hanging_ratio),) * 2}


def rules(text):
    return {"extra": f"[limits]\n{text}"}


GRADED = [
    ("settled", {}, OK),
    ("settled", {"limits": SolverLimits(gap=1e-8, feasibility=1e-7, misfit=1e-3), "tail": 4}, CAUTION),
    ("settled", {"limits": SolverLimits(iterations=3), "tail": 4}, FAIL),
    ("settled", {**ROWS, "spacing": (None, 0.5)}, FAIL),
    ("out-of-reach", {**ROWS, "spacing": (None, 0.5)}, FAIL),
    ("hanging-ratio-low", on_hoops(0.21), OK),
    ("hanging-ratio-low", on_hoops(0.19), CAUTION),
    ("hanging-ratio-low", on_hoops(0.09), FAIL),
    ("hanging-ratio-high", on_hoops(0.84), OK),
    ("hanging-ratio-high", on_hoops(0.87), CAUTION),
    ("hanging-ratio-high", on_hoops(0.96), FAIL),
    ("section-slack", ROWS, OK),
    ("section-slack", {**ROWS, "spacing": (0.19, None)}, FAIL),
    ("section-slack", {**ROWS, "spacing": (0.22, None)}, CAUTION),
    ("section-slack", {**ROWS, "spacing": (0.2493, None)}, OK),
    ("section-loose", ROWS, OK),
    ("section-loose", {**ROWS, "spacing": (0.22, None)}, CAUTION),
    ("section-loose", {**ROWS, "spacing": (0.15, None)}, FAIL),
    ("section-loose", HEAVY, FAIL),
    ("section-uneven", {"weight": True}, OK),
    ("section-uneven", {**HEAVY, "pull": 0.3}, CAUTION),
    ("section-uneven", HEAVY, FAIL),
    ("rods-strain", {**ROWS, "spacing": (None, 0.3377)}, OK),
    ("rods-strain", {**ROWS, "spacing": (None, 0.339)}, OK),
    ("rods-strain", {**ROWS, "spacing": (None, 0.352)}, CAUTION),
    ("rods-strain", {**ROWS, "spacing": (None, 0.38)}, FAIL),
    ("twine-overload", {"pull": 60.0}, OK),
    ("twine-overload", {"pull": 2500.0}, CAUTION),
    ("twine-overload", {"pull": 5000.0}, FAIL),
    ("local-stretched-mesh", rules("stretched_min = 0.1"), OK),
    ("local-stretched-mesh", rules("stretched_min = 0.101"), FAIL),
    ("local-bar", rules("bar_min = 0.05"), OK),
    ("local-bar", rules("bar_min = 0.0505"), FAIL),
    ("local-largest-hoop", rules("hoop_diameter_max = 0.32"), OK),
    ("local-largest-hoop", rules("hoop_diameter_max = 0.31"), FAIL),
    ("local-length", {**rules("length_max = 0.4"), "deep": (4,)}, OK),
    ("local-length", {**rules("length_max = 0.4"), "deep": (4,), "tail": 4}, FAIL),
    ("local-hoops", rules("hoops_max = 2"), OK),
    ("local-hoops", {**ROWS, **rules("hoops_max = 2")}, FAIL),
]


@pytest.mark.parametrize(("code", "keys", "level"), GRADED)
def test_level(code, keys, level):
    finding = worst(code, **keys)
    assert finding.level is level
    assert finding.message.endswith(".")
    assert finding.source


@pytest.mark.parametrize(
    "code",
    [
        "out-of-reach",
        "rods-strain",
        "local-stretched-mesh",
        "local-bar",
        "local-largest-hoop",
        "local-length",
        "local-hoops",
    ],
)
def test_nothing_is_said_of_what_is_not_there(code):
    # No rods, no local rules: net3d ships none.
    assert not findings(code, **ROWS)


def untied(net):
    """The net with its anchor let go."""
    carriers = [replace(carrier, slides="xyz") for carrier in net.netting.carriers]
    return replace(net.netting, carriers=tuple(carriers))


def test_nothing_is_judged_of_a_shape_not_found():
    net = make(tail=4, extra="[limits]\nlength_max = 0.1")
    stopped = settle(net.netting, net.plan, SolverLimits(iterations=3))
    adrift = settle(untied(net), net.plan)
    for shape in (stopped, adrift):
        found = check(net.spec, net.plan, net.netting, shape)
        assert {finding.code for finding in found} == {"settled", "hanging-ratio-low", "hanging-ratio-high"}
        assert found[0].level is FAIL
        assert found[0].message == shape.state.sentence
        assert found[0].value == shape.residual


@pytest.mark.parametrize(
    ("code", "ratio", "pattern"),
    [
        ("hanging-ratio-low", 0.15, r"Use (\d+) meshes around or fewer"),
        ("hanging-ratio-high", 0.9, r"Use (\d+) meshes around or more"),
    ],
)
def test_the_meshes_around_it_advises_just_cure_it(code, ratio, pattern):
    keys = on_hoops(ratio)
    advised = int(re.search(pattern, worst(code, **keys).message)[1])
    nearer = advised + (1 if code.endswith("low") else -1)
    assert worst(code, **keys, around=advised).level is OK
    assert worst(code, **keys, around=nearer).level is CAUTION


def test_the_rod_lengths_it_advises_cure_slack_and_strain():
    for code, rod in (("section-slack", 0.22), ("rods-strain", 0.37)):
        message = worst(code, **ROWS, spacing=(rod, None) if rod < 0.3 else (None, rod)).message
        advised = float(re.search(r"would hang ([\d.]+) m long", message)[1])
        section = 0 if rod < 0.3 else 1
        spacing = [None, None]
        spacing[section] = advised
        assert make(**ROWS, spacing=spacing).settled().sections[section].looseness_twentieth < 0.01
        assert worst(code, **ROWS, spacing=spacing).level is OK


def test_any_rod_of_the_range_it_tells_does_and_one_past_either_end_does_not():
    """Shorter by a quarter of a bar of 50 mm, longer by what strains twine to a twentieth of its strength."""
    told = worst("rods-strain", **ROWS, spacing=(None, 0.34)).message
    ends = [float(end) for end in re.search(r"from ([\d.]+) m to ([\d.]+) m they do", told).groups()]
    hangs = make(**ROWS).settled().sections[1].length
    assert ends[0] == pytest.approx(hangs - 0.0125, abs=0.001)
    tried = {
        rod: {worst(code, **ROWS, spacing=(None, rod)).level for code in ("section-slack", "rods-strain")}
        for rod in (ends[0] - 0.003, ends[0] + 0.001, ends[1] - 0.001, ends[1] + 0.003)
    }
    assert list(tried.values()) == [{CAUTION, OK}, {OK}, {OK}, {CAUTION, OK}]


def test_rods_are_blamed_only_in_the_section_that_has_them():
    """A throat tied back too short carries the pull past a section; the rods stand elsewhere."""
    throat = {"hoop": 1, "deep": 3, "tip": 6, "strings": {"to_hoop": 3, "length": 0.05}}
    keys = {"diameters": (0.3,) * 4, "deep": (4, 4, 4), "spacing": (None, None, 0.3), "throats": [throat]}
    slack = findings("section-slack", **keys)[1]
    assert slack.level is FAIL
    assert "rods" not in slack.message
    assert "Throat 1 carries the pull past it" in slack.message


def test_the_twine_it_advises_is_strong_enough():
    finding = worst("twine-overload", pull=5000.0)
    advised = float(re.search(r"breaks at ([\d.]+) N or more", finding.message)[1])
    net = make(pull=5000.0)
    assert net.settled().bar_tensions[net.netting.bars_of(finding.part)].max() / advised == pytest.approx(
        0.2, rel=0.01
    )


@pytest.mark.parametrize(
    ("keys", "where", "remedy"),
    [
        ({**ROWS, "spacing": (None, 0.4)}, "hoops 2 to 3", "deeper"),
    ],
)
def test_what_is_too_short_for_its_place_is_not_cured_by_stronger_twine(keys, where, remedy):
    # Derived: rods of 0.4 m, and meshes between those hoops that hang shorter.
    finding = max(findings("twine-overload", **keys), key=lambda finding: finding.value)
    assert (finding.where, finding.level is OK) == (where, False)
    assert "stretched over more than it reaches" in finding.message
    assert f"Make it {remedy}" in finding.message


def test_messages_speak_the_units_of_the_spec():
    inch = 0.0254
    finding = worst(
        "section-slack",
        units="in",
        stretched=4.0,
        rod=0.5 * inch,
        diameters=(13, 13, 13),
        deep=(3, 4),
        spacing=(9, None),
    )
    assert re.search(r"hang \d+( \d+/\d+)? in long", finding.message)


def test_the_spec_s_own_limit_overrides_the_handbook_s():
    own = rules("hanging_ratio_high = { caution = 0.4, fail = 0.5 }")
    assert worst("hanging-ratio-high", **on_hoops(0.6)).level is OK
    finding = worst("hanging-ratio-high", **on_hoops(0.6), **own)
    assert (finding.level, finding.limit) == (FAIL, 0.5)
    assert "spec" in finding.source


def test_where_names_hoops_as_the_maker_counts_them():
    found = findings("section-slack", **ROWS, spacing=(None, 0.28))
    assert [(finding.where, finding.level) for finding in found] == [
        ("hoops 1 to 2", OK),
        ("hoops 2 to 3", FAIL),
    ]
    assert "Hoops 2 to 3" in found[1].message


def test_a_fully_quiet_net():
    net = make(diameters=(0.32, 0.31, 0.3), deep=(4, 4.5), tail=6, legs=3, weight=True)
    found = check(net.spec, net.plan, net.netting, net.settled())
    assert {finding.level for finding in found} == {OK}


def test_the_rods_that_the_starter_shows_pass_as_typed():
    text = starter_spec("River net").replace("# spacing = ", "spacing = ")
    made = design(parse_spec(text))
    assert made.spec.sections.spacing[2:] == pytest.approx([18.5 * 0.0254, 17.25 * 0.0254])
    assert [finding for finding in made.findings if finding.level is not OK] == []
