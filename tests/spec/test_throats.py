"""Every way a throat, its strings, the fish or a net that cannot be put together is refused.

The expected places and figures are arithmetic on the starter spec's own text; the wording is ours.
"""

import re

import numpy as np
import pytest
from scipy.optimize import brentq

from net3d.errors import SpecError
from net3d.plan import lay_out
from net3d.spec import parse_spec, starter_spec
from net3d.spec.schema import spec_schema

STARTER = re.sub(r"(?s)\[\[throat\]\].*\[tail\]", "[tail]", starter_spec("River net"))
DEEP = "deep = [5, 5, 7, 6.5] "
BARE = "[[throat]]\nhoop = 2\ndeep = 8\ntip = 12\n"


def with_throat(*lines, throat=BARE, body=STARTER):
    return body.replace("[tail]", throat + "".join(f"{line}\n" for line in lines) + "\n[tail]", 1)


def problems_of(text):
    with pytest.raises(SpecError) as caught:
        parse_spec(text)
    return {problem.key: problem for problem in caught.value.problems}


CASES = {
    "hoop that is the last": ("hoop = 2", "hoop = 5", "hoop", ["hoop 5", "1 to 4"]),
    "no such hoop": ("hoop = 2", "hoop = 0", "hoop", ["0", "counted from 1"]),
    "no depth": ("deep = 8\n", "", "deep", ["missing", "tip"]),
    "thirds of a mesh": ("deep = 8", "deep = 8.3", "deep", ["8.3", "halves"]),
    "wider tip than hoop": ("tip = 12", "tip = 45", "tip", ["45", "44 or fewer"]),
    "unknown style": ("tip = 12", 'tip = 12\nstyle = "round"', "style", ['"round"', '"square"']),
    "unknown twine": ("tip = 12", 'tip = 12\ntwine = "#1500"', "twine", ["#1500", "[twine.NAME]"]),
    "two mesh sizes": ("tip = 12", "tip = 12\nbar = 1\nstretched = 2", "bar", ["stretched"]),
    "unknown taper": ("tip = 12", 'tip = 12\ntaper = "slow"', "taper", ['"slow"', '"late"']),
    "rows that lose too few": ("tip = 12", "tip = 12\ndecreases = [2, 2]", "decreases", ["4 meshes", "32"]),
    "a line on a finger throat": ("tip = 12", 'tip = 12\nline = "20 in"', "line", ["square"]),
    "unknown key": ("tip = 12", "tip = 12\nstring = 3", "string", ["strings"]),
    "ties ahead of it": ("tip = 12", "tip = 12\nstrings = { to_hoop = 2 }", "strings.to_hoop", ["3 to 5"]),
    "ties to two things": (
        "tip = 12",
        "tip = 12\nstrings = { to_hoop = 4, to_tail = true }",
        "strings.to_tail",
        ["leave one out"],
    ),
    "more ties than meshes": (
        "tip = 12",
        "tip = 12\nstrings = { points = 13 }",
        "strings.points",
        ["13", "12"],
    ),
    "a share that slackens the body": (
        "tip = 12",
        "tip = 12\nstrings = { share = 1.0 }",
        "strings.share",
        ["1.0", "0.2"],
    ),
    "a share that holds nothing": (
        "tip = 12",
        "tip = 12\nstrings = { share = 0 }",
        "strings.share",
        ["0", "0.01"],
    ),
    "past the next tie": (
        "tip = 12",
        "tip = 12\nstrings = { turn = 1.5 }",
        "strings.turn",
        ["1.5", "0 to 1"],
    ),
    "ties behind the net": ("tip = 12", "tip = 12\nstrings = { to_hoop = 6 }", "strings.to_hoop", ["3 to 5"]),
    "unknown key of strings": (
        "tip = 12",
        "tip = 12\nstrings = { to_hop = 4 }",
        "strings.to_hop",
        ["to_hoop?"],
    ),
    "taper past late": ("tip = 12", "tip = 12\ntaper = 1.5", "taper", ["1.5", "0 to 1"]),
    # Derived: hoop 2 is 35 in of 1/2 in rod, so its knots stand on pi 34 = 106.8 in; 3 1/2 in meshes go into
    # it 30.5 times, 2 in meshes 53.4 times.
    "too few meshes around": ("tip = 12", "tip = 12\naround = 30", "around", ["hoop 2", "31 meshes around"]),
    "too small a mesh": ("tip = 12", "tip = 12\nbar = 1", "bar", ["44 meshes of 2 in", "54 meshes around"]),
    # Derived: 4 x 44 meshes x 3000 deep; the body has 124 x 44 = 5,456 bars more.
    "too many bars": ("deep = 8\n", "deep = 1000\naround = 1200\n", "deep", ["4,800,000", "4,805,544"]),
    "neither fit nor a length": (
        "tip = 12",
        'tip = 12\nstrings = { length = "tight" }',
        "strings.length",
        ['"tight"', "a length"],
    ),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_a_fault_of_a_throat_is_told_with_its_place_and_remedy(case):
    old, new, key, words = case
    text = with_throat(throat=BARE.replace(old, new))
    problems = problems_of(text)
    problem = problems[f"throat[1].{key}"]
    assert problem.line is not None
    for word in words:
        assert word in problem.message


def test_a_throat_that_just_reaches_around_is_read():
    assert parse_spec(with_throat("around = 31")).throats[0].around == 31


def test_fewer_tip_meshes_than_the_usual_ties_are_no_fault():
    assert parse_spec(with_throat(throat=BARE.replace("12", "3"))).throats[0].strings.points == 3


@pytest.mark.parametrize("share", [0.01, 0.1, 0.2])
def test_a_share_between_hanging_loose_and_taking_the_pull(share):
    assert parse_spec(with_throat(f"strings = {{ share = {share} }}")).throats[0].strings.share == share


def test_a_throat_gains_meshes_only_where_its_rows_say_so():
    rows = [-1, *[0] * 15]
    wider = BARE.replace("tip = 12", "tip = 45")
    assert parse_spec(with_throat(f"decreases = {rows}", throat=wider)).throats[0].decreases == tuple(rows)


def test_more_throats_than_anyone_ties():
    assert len(parse_spec(with_throat(throat=20 * BARE)).throats) == 20
    assert "21 throats" in problems_of(with_throat(throat=21 * BARE))["throat"].message


@pytest.mark.parametrize("table", ["throat", "hoop"])
def test_one_bracket_where_there_can_be_several(table):
    text = re.sub(rf"(?s)\[\[{table}\]\].*?\n\n", "", with_throat()) + f"\n[{table}]\nrepeat = 2\n"
    assert f"[[{table}]] with two brackets" in problems_of(text)[table].message


def test_no_tail_to_tie_to():
    text = with_throat("strings = { to_tail = true }")
    text = text.replace("[tail]\ndeep = 8 ", "# [tail]\n# deep = 8 ")
    assert "to_hoop" in problems_of(text)["throat[1].strings.to_tail"].message


def test_rows_that_lose_the_right_number_in_too_few_rows():
    problem = problems_of(with_throat("decreases = [16, 16]"))["throat[1].decreases"]
    assert "16 rows" in problem.message  # 8 meshes deep have 16 rows of knots


@pytest.mark.parametrize(
    ("fish", "key", "words"),
    [
        ("girth = [20, 12]", "fish.girth", ["smallest"]),
        ("girth = [1, 2, 3]", "fish.girth", ["smallest and the largest"]),
        ("girth = 12\nlength = 20", "fish.girth", ["leave one"]),
        ("length = 20", "fish", ["girth_ratio"]),
        ('length = 20\ngirth_ratio = 0.5\nspecies = "pike"', "fish.species", ["girth_ratio", "leave one"]),
        ('length = 20\nspecies = "pik"', "fish.species", ["is not known", "pike"]),
        ('girth = 12\nspecies = "pike"', "fish.girth", ["species says the same", "leave one"]),
        ("length = 20\nmeasured = []", "fish", ["species or measured"]),
        ("length = 20\nmeasured = [[20, 10, 3]]", "fish.measured[1]", ["two sizes"]),
        ('length = 20\nmeasured = ["20 x"]', "fish.measured[1]", ["20 x", "two sizes"]),
        ("length = 20\ngirth_ratio = 0", "fish.girth_ratio", ["0 is not allowed", "from 0.05 to 5"]),
    ],
)
def test_faults_of_the_fish(fish, key, words):
    problem = problems_of(STARTER.replace("[tail]", f"[fish]\n{fish}\n\n[tail]", 1))[key]
    assert all(word in problem.message for word in words)


def test_fish_by_length_and_ratio():
    spec = parse_spec(STARTER.replace("[tail]", "[fish]\nlength = [10, 20]\ngirth_ratio = 0.6\n\n[tail]", 1))
    inch = 0.0254
    assert (spec.fish.girth_min, spec.fish.girth_max) == pytest.approx((6 * inch, 12 * inch))


def test_a_tail_too_short_to_gather():
    # Derived: 17 in from hoop to middle; 4 1/2 meshes of 3 1/2 in reach 15 3/4, 5 reach 17 1/2.
    problem = problems_of(STARTER.replace("deep = 8 ", "deep = 4.5 ", 1))["tail.deep"]
    assert "5 or more" in problem.message


@pytest.mark.parametrize("smaller", ["first", "second"])
def test_hoops_that_the_netting_between_them_does_not_span(smaller):
    # Derived: 36 and 12 in hoops of one rod, so 12 in from knots to knots; 3 deep are 10 1/2 in, shut.
    sizes = ("diameter = 36", "diameter = 12") if smaller == "second" else ("diameter = 12", "diameter = 36")
    text = STARTER.replace("diameter = 36", sizes[0], 1).replace("diameter = 35", sizes[1], 1)
    problem = problems_of(text.replace(DEEP, "deep = [3, 5, 7, 6.5] ", 1))["sections.deep[1]"]
    assert problem.line is not None
    for words in ("hoop 1 to hoop 2", "10 1/2 in long", "differ by 12 in", "4 or more"):
        assert words in problem.message
    assert parse_spec(text.replace(DEEP, "deep = [4, 5, 7, 6.5] ", 1)).sections.deep[0] == 4


def test_the_depth_advised_is_the_first_that_reaches():
    # Derived with scipy: each row's circle is where a bar from a knot of the last row ends half a pitch on.
    radius, rows, bar = 17.5, 0, 1.75
    half_pitch = np.exp(1j * np.pi / 44)
    while radius > 5.5:
        radius = brentq(
            lambda inner, outer=radius: abs(outer - inner * half_pitch) - bar, radius - 2, radius * 0.995
        )
        rows += 1
    assert rows / 2 == 4


def test_equal_hoops_of_one_table_are_each_in_their_place():
    # Derived: hoops 3 to 5 are one table; 34 in and 8 in are 13 in apart, and half a mesh is 1 3/4 in.
    text = STARTER.replace("diameter = 34", "diameter = 8", 1).replace("diameter = 35", "diameter = 34", 1)
    problems = problems_of(text.replace(DEEP, "deep = [5.5, 0.5, 0.5, 0.5] ", 1))
    assert [key for key in problems if key.startswith("sections")] == ["sections.deep[2]"]


def test_bridle_legs_that_do_not_meet():
    problem = problems_of(STARTER.replace("length = 30", "length = 18", 1))["rigging.bridle.length"]
    assert "18 in" in problem.message  # the radius of the 36 in mouth hoop


def test_one_count_too_many_along_the_body():
    text = STARTER.replace(DEEP, f"{DEEP}\naround = [44, 44, 40, 40, 40] ", 1)
    assert "write 4" in problems_of(text)["sections.around"].message


def test_too_few_meshes_where_they_change():
    # Derived: 33 in inside a 34 in hoop of 1/2 in rod, pi 33 / 3.5 = 29.6: 30 meshes reach around, 29 do not.
    text = STARTER.replace(DEEP, f"{DEEP}\naround = [44, 44, 40, 29] ", 1)
    assert "30 meshes around or more" in problems_of(text)["sections.around"].message


def test_all_faults_of_two_throats_at_once():
    text = with_throat("style = 3", throat=BARE.replace("12", "2") + BARE.replace("hoop = 2", "hoop = 9"))
    assert {"throat[1].tip", "throat[2].hoop", "throat[2].style"} <= set(problems_of(text))


def test_defaults_come_from_the_body():
    spec = parse_spec(with_throat())
    throat = spec.throats[0]
    assert (throat.around, throat.stretched, throat.twine) == (44, spec.netting.stretched, spec.twine)
    assert (throat.style, throat.strings.points, throat.strings.length) == ("finger", 4, None)


def test_a_throat_takes_the_count_of_its_own_hoop():
    body = STARTER.replace(DEEP, f"{DEEP}\naround = [42, 42, 40, 40] ", 1)
    assert parse_spec(with_throat(body=body)).throats[0].around == 42


def test_strings_tie_where_they_lie_within_45_degrees_unless_told():
    plan = lay_out(parse_spec(with_throat()))
    assert plan.throats[0].strings.to_hoop == 5
    assert lay_out(parse_spec(with_throat("strings = { to_hoop = 4 }"))).throats[0].strings.to_hoop == 4
    deep = lay_out(parse_spec(with_throat(throat=BARE.replace("hoop = 2", "hoop = 4"))))
    assert deep.throats[0].strings.to_hoop is None  # to the tail


def test_decreases_that_cannot_be_tied_say_what_would_work():
    spec = parse_spec(with_throat(throat=BARE.replace("deep = 8", "deep = 2")), "river.toml")
    with pytest.raises(SpecError, match=r"^river\.toml:\n") as caught:
        lay_out(spec)
    (problem,) = caught.value.problems
    assert problem.key == "throat[1].tip"
    assert "meshes deep" in problem.message
    deeper = float(problem.message.split("make it ")[1].split()[0])
    assert lay_out(parse_spec(with_throat(throat=BARE.replace("deep = 8", f"deep = {deeper}"))))


def test_the_schema_describes_throats():
    schema = spec_schema()
    assert {"hoop", "deep", "tip"} <= set(schema["$defs"]["ThroatForm"]["required"])
    assert "girth" in schema["$defs"]["FishForm"]["properties"]
