"""Changes typed into the text of a spec: it says what vary says, and nothing else in it is touched.

What is touched is seen by comparing lines and letters of the texts; tomllib reads what they say.
"""

import re
import tomllib

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from net3d.errors import SpecError
from net3d.spec import parse_spec, starter_spec, vary
from net3d.spec.rewriting import rewritten
from tests.nets import spec_text
from tests.spec.test_vary import places
from tests.tools.fuzz.mutate import SAMPLES, SMALL, SOUND

TEXTS = {path.stem: path.read_text("utf-8") for path in (*SMALL, *SAMPLES)} | {
    "starter": starter_spec("River net"),
    "carriage returns": SAMPLES[0].read_text("utf-8").replace("\n", "\r\n"),
    "no last line end": SAMPLES[1].read_text("utf-8").rstrip(),
    "no empty lines": re.sub(r"\n\n+", "\n", SAMPLES[1].read_text("utf-8")),
    "dotted": """title = "Dotted"
units = "m"
netting = { around = 16, stretched = 0.1, twine = "#15" }
hoop = [
  { diameter = 0.32, rod = 0.01, material = "oak" }, # the mouth
  { diameter = 0.31, rod = 0.01, material = "oak" },
  { diameter = 0.30, rod = 0.01, material = "oak" }, # the last
]
sections.deep = [
  4, # first
  4.5, # second
]
tail.deep = 4 # gathered
rigging.bridle.legs = 2
rigging.bridle.length = 0.5
rigging.pull = "60 N"
""",
}
LITERAL = re.compile(r'"(?:[^"\\]|\\.)*"|true|false|[-+]?[0-9][0-9.eE+-]*')


def whatever(examples):
    """Many of the examples that hypothesis thinks of are no specs."""
    return settings(max_examples=examples, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])


every_text = pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)


def one_by_one(document):
    """The document with no two hoops sharing a table, as keys count them."""
    hoops = [hoop for hoop in document["hoop"] for _ in range(hoop.get("repeat", 1))]
    return document | {"hoop": hoops}


def key_of(place):
    return ".".join(f'"{step}"' if isinstance(step, str) else str(step) for step in place)


def keys_of(document, place):
    """The keys of a place in the file, of every hoop that stands by its table."""
    if place[0] != "hoop":
        return [key_of(place)]
    counts = [hoop.get("repeat", 1) for hoop in document["hoop"]]
    first = 1 + sum(counts[: place[1] - 1])
    return [key_of(("hoop", number, *place[2:])) for number in range(first, first + counts[place[1] - 1])]


def first_apart(one, other):
    """How many letters are the same from the start on."""
    letters = zip(one, other, strict=False)
    return next((place for place, (a, b) in enumerate(letters) if a != b), min(len(one), len(other)))


def varied(spec, changes):
    """The spec with the changes, where they are allowed."""
    try:
        return vary(spec, changes)
    except SpecError:
        return None


def near(value):
    """Values that might be typed in the place of another."""
    if isinstance(value, bool):
        return [not value]
    if isinstance(value, int | float):
        return [value + 1, value * 1.5, value * 0.99, value - 1, 3]
    if isinstance(value, str):
        return ["0.9 m", "1/2", "#9", "fit", "oak", "tail", "mouth", 'a "quoted" name', value + " "]
    return [value[:-1], value + value[-1:], value[::-1]] if isinstance(value, list) else [{}]


@pytest.mark.law
@every_text
@whatever(12)
@given(data=st.data())
def test_whatever_is_allowed_is_typed_in(text, data):
    spec = parse_spec(text)
    document = one_by_one(tomllib.loads(text))
    known = dict(places(document))
    changes = {}
    for _ in range(data.draw(st.integers(1, 3))):
        if data.draw(st.booleans()):
            place = data.draw(st.sampled_from(list(known)))
            options = [None, *near(known[place])]
        else:
            table, key = data.draw(st.sampled_from(list(SOUND)))
            numbers = range(1, len(document.get(table, ())) + 2) if table in ("hoop", "throat") else [None]
            number = data.draw(st.sampled_from(list(numbers)))
            place = (table, key) if number is None else (table, number, key)
            options = [None, *SOUND[table, key]]
        changes[key_of(place)] = data.draw(st.sampled_from(options))
    wanted = varied(spec, changes)
    assume(wanted is not None)
    assert parse_spec(rewritten(text, changes)) == wanted


@pytest.mark.law
@every_text
@whatever(12)
@given(data=st.data())
def test_only_the_letters_of_a_changed_value_change(text, data):
    spec = parse_spec(text)
    document = tomllib.loads(text)
    values = [(place, value) for place, value in places(document) if not isinstance(value, dict | list)]
    place, value = data.draw(st.sampled_from(values))
    changes = dict.fromkeys(keys_of(document, place), data.draw(st.sampled_from(near(value))))
    assume(varied(spec, changes) is not None)
    before, after = (one.splitlines(keepends=True) for one in (text, rewritten(text, changes)))
    changed = [(old, new) for old, new in zip(before, after, strict=True) if old != new]
    assert len(changed) <= 1
    for old, new in changed:
        start = first_apart(old, new)
        end = len(old) - first_apart(old[start:][::-1], new[start:][::-1])
        assert any(found.start() <= start and end <= found.end() for found in LITERAL.finditer(old))


@pytest.mark.parametrize("name", ["tapering-0.75", "backwater-36", "carriage returns", "no empty lines"])
@whatever(20)
@given(data=st.data())
def test_hoops_in_another_order_are_the_same_lines_and_can_be_put_back(name, data):
    text = TEXTS[name]
    order = data.draw(st.permutations(range(1, len(parse_spec(text).hoops) + 1)))
    assume(varied(parse_spec(text), {"hoop": order}) is not None)
    moved = rewritten(text, {"hoop": order})
    assert sorted(moved.splitlines()) == sorted(text.splitlines())
    back = [order.index(place) + 1 for place in range(1, len(order) + 1)]
    assert rewritten(moved, {"hoop": back}) == text


@every_text
def test_nothing_changed_is_the_same_text(text):
    assert rewritten(text, {}) == text
    assert rewritten("\ufeff" + text, {}) == "\ufeff" + text


@pytest.mark.parametrize(
    ("changes", "undone"),
    [
        ({"fish.girth": ["3 in", "5 in"], "water.angle": 10}, ["fish", "water"]),
        ({"start": "mouth"}, ["start"]),
        ({"limits.looseness.caution": 0.04}, ["limits"]),
        ({"twine.mine": {"diameter": "2 mm", "tex": 2000, "strength": "300 N", "fibre": "PA"}}, ["twine"]),
        ({"pile.1": {"diameter": "80 cm", "rod": "1 cm", "material": "oak"}}, ["pile"]),
        ({"throat.3": {"hoop": 1, "deep": 2, "tip": 10}}, ["throat.3"]),
        ({"throat": [{"hoop": 1, "deep": 2, "tip": 10}, 1, 2]}, ["throat.1"]),
        ({"hoop.2.turn": 3}, ["hoop.2.turn"]),
        ({"hoop": [1, 2, 2, 3, 4, 5], "sections.deep.5": 6}, ["hoop.3", "sections.deep.5"]),
        ({"throat.1.strings.share": 0.1}, ["throat.1.strings.share"]),
    ],
    ids=str,
)
@pytest.mark.parametrize("name", ["backwater-36", "carriage returns", "no empty lines"])
def test_what_is_added_and_taken_away_again_leaves_no_trace(name, changes, undone):
    text = TEXTS[name].replace("fish]\ngirth = [12, 20]", "fish]\ngirth = [12, 20]")
    text = re.sub(r"(?s)\r?\n\[fish\].*?(?=\r?\n\r?\n|\n\[)", "", text)
    more = rewritten(text, changes)
    assert len(more) > len(text)
    assert rewritten(more, dict.fromkeys(undone)) == text


COMMENTED = """# The net.
title = "Commented"
units = "m"

[netting]
around = 16
stretched = 0.1
twine = "#15"

# the mouth
[[hoop]] # first
diameter = 0.32 # as bought
rod      = 0.01
material = "oak"
# it has a knot in the wood

# from the barn,
# a little rusty
[[hoop]]
diameter = 0.31
rod      = 0.01
material = "steel"

# ---- the last hoops ----

[[hoop]] # three of them
diameter = 0.30 # all alike
rod      = 0.01
material = "oak"
repeat   = 3 # bought together

[sections]
deep = [4, 4, 4, 4]
[rigging]
pull = "60 N"
"""


def without(text, *lines):
    """The text without these lines, each once."""
    for line in lines:
        assert f"{line}\n" in text
        text = text.replace(f"{line}\n", "", 1)
    return text


def test_a_hoop_that_is_taken_away_takes_its_comments_along():
    found = rewritten(COMMENTED, {"hoop.2": None, "sections.deep": [4, 4, 4]})
    gone = (
        '# from the barn,\n# a little rusty\n[[hoop]]\ndiameter = 0.31\nrod      = 0.01\nmaterial = "steel"\n'
    )
    assert found == COMMENTED.replace(gone + "\n", "").replace("[4, 4, 4, 4]", "[4, 4, 4]")


def test_comments_that_stand_by_themselves_stay():
    text = COMMENTED.replace(
        "\n# from the barn,\n", "\n# ---- the second, much older hoop ----\n\n# from the barn,\n"
    )
    found = rewritten(text, {"hoop.2": None, "sections.deep": [4, 4, 4]})
    alone = "# ---- the second, much older hoop ----\n\n# ---- the last hoops ----\n\n[[hoop]] # three"
    assert f"knot in the wood\n\n{alone}" in found


def test_a_hoop_that_is_moved_takes_its_comments_along():
    found = rewritten(COMMENTED, {"hoop": [2, 1, 3, 4, 5]})
    blocks = found.split("\n\n")
    assert blocks[2].startswith("# from the barn,\n# a little rusty\n[[hoop]]")
    assert blocks[3].startswith("# the mouth\n[[hoop]] # first")
    assert blocks[3].endswith("# it has a knot in the wood")
    assert blocks[4] == "# ---- the last hoops ----"


def test_a_new_hoop_looks_like_its_neighbours():
    new = {"diameter": 0.29, "rod": 0.01, "material": "oak"}
    found = rewritten(COMMENTED, {"hoop.6": new, "sections.deep.5": 4})
    added = '\n[[hoop]]\ndiameter = 0.29\nrod      = 0.01\nmaterial = "oak"\n'
    wanted = COMMENTED.replace("together\n", f"together\n{added}").replace("[4, 4, 4, 4]", "[4, 4, 4, 4, 4]")
    assert found == wanted


def test_a_spare_that_stays_on_the_pile_keeps_its_comments_there():
    spare = '\n# it came from the barn\n[[pile]] # dry\ndiameter = 0.31\nrod = 0.01\nmaterial = "ash"\n'
    found = rewritten(COMMENTED + spare, {"hoop.2": "pile.1"})
    assert found.endswith(spare)
    assert found.count('material = "ash"') == 2
    taken = rewritten(COMMENTED + spare, {"hoop.2": "pile.1", "pile": None})
    assert taken.index("# it came from the barn\n[[hoop]] # dry") < taken.index("[sections]")


def test_the_keys_of_a_new_table_stand_in_line():
    twine = {"diameter": "2 mm", "tex": 2000, "strength": "300 N", "fibre": "PA"}
    found = rewritten(COMMENTED, {"twine.mine": twine})
    keys = 'diameter = "2 mm"\ntex      = 2000\nstrength = "300 N"\nfibre    = "PA"\n'
    assert found == f"{COMMENTED}\n[twine.mine]\n{keys}"


def test_one_of_several_gets_a_table_and_the_others_keep_theirs():
    found = rewritten(COMMENTED, {"hoop.4.diameter": 0.305})
    kept = without(COMMENTED, "repeat   = 3 # bought together")
    assert all(line in found.splitlines() for line in kept.splitlines())
    hoops = tomllib.loads(found)["hoop"]
    assert [(hoop["diameter"], hoop.get("repeat")) for hoop in hoops] == [
        (0.32, None), (0.31, None), (0.30, None), (0.305, None), (0.30, None),
    ]  # fmt: skip


def test_all_of_several_keep_their_table():
    found = rewritten(COMMENTED, {f"hoop.{place}.rod": 0.012 for place in (3, 4, 5)})
    assert found == COMMENTED[::-1].replace("0.01"[::-1], "0.012"[::-1], 1)[::-1]
    assert rewritten(COMMENTED, {"hoop.4.repeat": 2, "sections.deep.4": None}) == COMMENTED.replace(
        "repeat   = 3", "repeat   = 2"
    ).replace("[4, 4, 4, 4]", "[4, 4, 4]")


def test_a_list_on_several_lines_stays_so():
    text = COMMENTED.replace("[4, 4, 4, 4]", "[\n  4, # one\n  4, # two\n  5, # three\n  6, # four\n]")
    found = rewritten(text, {"hoop.5": None, "sections.deep.2": None})
    assert "[\n  4, # one\n  5, # three\n  6, # four\n]" in found
    more = rewritten(text, {"hoop.6": 2, "sections.deep.5": 7})
    assert "[\n  4, # one\n  4, # two\n  5, # three\n  6, # four\n  7,\n]" in more


def test_keys_of_inline_tables_come_and_go():
    text = spec_text(legs=2, throats=({"hoop": 1, "deep": 2, "tip": 4, "strings": {"points": 2}},))
    found = rewritten(text, {"throat.1.strings.share": 0.1, "throat.1.strings.points": None})
    assert "strings = { share = 0.1 }" in found
    assert "strings = {}" in rewritten(found, {"throat.1.strings.share": None})


def test_headers_of_tables_in_tables():
    text = spec_text(throats=({"hoop": 1, "deep": 2, "tip": 4},), deep=(4, 4), diameters=(0.32,) * 3)
    text = text.replace("tip = 4\n", "tip = 4\n\n# its strings\n[throat.strings]\npoints = 2 # ties\n\n")
    assert "points = 3 # ties" in rewritten(text, {"throat.1.strings.points": 3})
    assert "strings" not in rewritten(text, {"throat.1.strings": None})
    assert "its strings" not in rewritten(text, {"throat": None})
    second = {"hoop": 2, "deep": 2, "tip": 4}
    moved = rewritten(text, {"throat": [second, 1]})
    assert [throat["hoop"] for throat in tomllib.loads(moved)["throat"]] == [2, 1]
    assert moved.count("# its strings\n[throat.strings]\npoints = 2 # ties") == 1


def test_tables_of_a_list_that_do_not_stand_together_keep_their_places():
    hoops = re.findall(r"\[\[hoop\]\][^\[]*", spec_text(diameters=(0.32, 0.31, 0.3), deep=(4, 4)))
    text = spec_text(diameters=(0.32, 0.31, 0.3), deep=(4, 4)).replace(hoops[2], "") + hoops[2]
    moved = rewritten(text, {"hoop": [3, 1, 2]})
    assert [hoop["diameter"] for hoop in tomllib.loads(moved)["hoop"]] == [0.3, 0.32, 0.31]
    assert moved.index("[sections]") < moved.rindex("[[hoop]]")


def test_keys_may_be_written_in_any_way_that_toml_has():
    text = spec_text().replace('title = "Test net"', '"tit\\u006ce" = "Test net"')
    assert parse_spec(rewritten(text, {"title": "Other net"})).title == "Other net"


def test_problems_are_those_of_vary():
    with pytest.raises(SpecError, match=r"hoop\[1\]\.rod: -1 is not allowed"):
        rewritten(TEXTS["backwater-36"], {"hoop.1.rod": -1})


@pytest.mark.parametrize("wrong", ["tail.deep = 9", "", "title ="])
def test_a_text_that_does_not_say_what_was_asked_is_never_given_out(monkeypatch, wrong):
    text = TEXTS["backwater-36"]
    monkeypatch.setattr("net3d.spec.rewriting.joined", lambda blocks: wrong)
    with pytest.raises(SpecError, match="by hand"):
        rewritten(text, {"title": "Other"})
