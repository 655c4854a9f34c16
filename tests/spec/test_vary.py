"""A spec that is varied is the spec of the text with the same changes typed into it, problems and all.

The text is made by another way: a plain copy of the tables, changed by hand and written out.
"""

import ast
import copy
import pickle
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import net3d
from net3d.errors import SpecError
from net3d.spec import parse_spec, read_spec, vary
from net3d.spec import spec as records
from net3d.spec.edit import LISTED
from net3d.spec.keys import key_path
from tests.nets import spec_text
from tests.tools.fuzz.mutate import NUMBERS, ODD, SAMPLES, SMALL, TEXTS
from tests.tools.fuzz.toml_text import Raw, toml_text

SPEC = parse_spec(spec_text(diameters=(0.36, 0.34, 0.32), deep=(4, 4.5), legs=2, tail=4))
PILED = vary(SPEC, {"pile.1": {"name": "old", "diameter": 0.33, "rod": 0.01, "material": "oak"}})
REPEATED = parse_spec(
    spec_text(diameters=(0.4, 0.32), deep=(4,) * 5).replace("0.32\n", "0.32\nrepeat = 5\n", 1)
)
VALUES = [
    value
    for value in (*NUMBERS, *TEXTS, *ODD)
    if not isinstance(value, Raw) and "\N{FISH}" not in str(value)  # which the writer of the texts gets wrong
]


def outcome(make):
    """The spec, or the problems with their keys."""
    try:
        return make()
    except SpecError as error:
        return sorted((problem.key, problem.message) for problem in error.problems)


def refused(spec, changes):
    """The problems of changes, by key."""
    with pytest.raises(SpecError) as caught:
        vary(spec, changes)
    return {problem.key: problem for problem in caught.value.problems}


def places(table, path=()):
    """Every key and list entry of a document, by its path from 1 where it counts, and what is there."""
    for key, value in table.items() if isinstance(table, dict) else enumerate(table, start=1):
        yield (*path, key), value
        if isinstance(value, dict | list):
            yield from places(value, (*path, key))


def unrepeated(hoop):
    return {key: value for key, value in hoop.items() if key != "repeat"}


def typed_by_hand(document, path, value):
    """The text of a document with another value at a path, or with nothing there."""
    document = copy.deepcopy(document)
    holder = document
    for step in path[:-1]:
        holder = holder[step - 1 if isinstance(step, int) else step]
    key = path[-1] - 1 if isinstance(path[-1], int) else path[-1]
    if value is None:
        del holder[key]
    else:
        holder[key] = value
    return toml_text(document)


@pytest.mark.second_route
@pytest.mark.law
@pytest.mark.parametrize("path", [*SMALL, *SAMPLES], ids=lambda path: path.stem)
@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_a_change_is_what_typing_it_would_be(path, data):
    document = tomllib.loads(path.read_text("utf-8"))
    document["hoop"] = [unrepeated(hoop) for hoop in document["hoop"] for one in range(hoop.get("repeat", 1))]
    spec = parse_spec(toml_text(document), "spec")
    place = data.draw(st.sampled_from([one for one, _ in places(document) if one != ("hoop",)]))
    value = data.draw(st.sampled_from([None, *VALUES]))
    if place[0] in LISTED and len(place) <= 2 and not isinstance(value, dict):
        value = None  # numbers and names there are other tables
    key = ".".join(
        str(step) if str(step).isidentifier() or isinstance(step, int) else f'"{step}"' for step in place
    )
    wanted = outcome(lambda: parse_spec(typed_by_hand(document, place, value)))
    assert outcome(lambda: vary(spec, {key: value})) == wanted


def test_nothing_changed_is_the_same_spec():
    for path in (*SMALL, *SAMPLES):
        spec = read_spec(path)
        again = vary(spec, {})
        assert again == spec
        assert again.source.typed == spec.source.typed


def test_the_spec_itself_stays_as_it_was():
    before = copy.deepcopy(SPEC.source.typed)
    varied = vary(SPEC, {"hoop.1.rod": 0.02, "sections.deep.1": 5, "rigging.bridle.legs": 3})
    assert SPEC.source.typed == before
    assert vary(varied, {"hoop.1.rod": "0.01 m", "sections.deep.1": 4, "rigging.bridle.legs": 2}) == SPEC


def test_a_changed_spec_can_be_sent_to_another_process():
    varied = pickle.loads(pickle.dumps(vary(SPEC, {"hoop.1.rod": 0.02})))
    assert vary(varied, {"hoop.1.rod": 0.01}) == SPEC
    assert hash(varied) != hash(SPEC)


def test_all_problems_are_told_with_key_and_line():
    spec = parse_spec(SPEC.source.text)
    found = refused(spec, {"hoop.3.rod": -1, "hoop[1].bore": 1, "sections.deep.2": 4.2, "no key": 1})
    assert set(found) == {"hoop[3].rod", "hoop[1].bore", "sections.deep[2]", '"no key"'}
    lines = SPEC.source.text.splitlines()
    numbers = [number for number, line in enumerate(lines, start=1) if line.startswith("rod")]
    assert found["hoop[3].rod"].line == numbers[2]
    assert found["sections.deep[2]"].line == next(n for n, s in enumerate(lines, 1) if s.startswith("deep"))


def test_tables_that_were_moved_have_no_line_in_the_text_any_more():
    moved = vary(SPEC, {"hoop": [3, 2, 1]})
    assert refused(moved, {"hoop.3.rod": -1})["hoop[3].rod"].line is None
    assert refused(moved, {"tail.deep": -1})["tail.deep"].line is not None


def test_values_are_read_in_the_units_that_are_typed_with_them():
    inches = vary(SPEC, {"units": "in", **{f"hoop.{n}.diameter": 14 for n in (1, 2, 3)}} | {
        "netting.stretched": 4, "netting.around": 12, "rigging.bridle.length": 20,
    })  # fmt: skip
    assert [hoop.diameter for hoop in inches.hoops] == pytest.approx([14 * 0.0254] * 3)


@pytest.mark.parametrize("spelling", ["hoop.2.diameter", "hoop[2].diameter", 'hoop.2."diameter"'])
def test_a_key_may_be_written_as_messages_write_it(spelling):
    assert vary(SPEC, {spelling: 0.35}).hoops[1].diameter == 0.35


@pytest.mark.parametrize("key", ["", ".", "hoop.", ".hoop", "hoop..2", "hoop[x]", "a b", 'a."b', "hoop[1]x"])
def test_what_is_no_key_is_told(key):
    assert key_path(key) is None
    with pytest.raises(SpecError, match="is not a key"):
        vary(SPEC, {key: 1})


def test_own_twines_are_found_by_whatever_they_are_called():
    twine = {"diameter": 0.002, "tex": 2000, "strength": 500, "fibre": "PA"}
    spec = vary(SPEC, {'twine."2.5 mm"': twine, "twine.15": twine, "netting.twine": "15"})
    assert vary(spec, {'twine."2.5 mm".tex': 2500, "netting.twine": "2.5 mm"}).twine.mass_per_length == 2.5e-3
    assert vary(spec, {"twine.15.tex": 2500}).twine.mass_per_length == 2.5e-3


# Tables taken away, added and moved.


def test_hoops_change_places():
    assert vary(SPEC, {"hoop": [1, 3, 2]}) == vary(SPEC, {"hoop.2": 3, "hoop.3": 2})
    assert [hoop.diameter for hoop in vary(SPEC, {"hoop": [1, 3, 2]}).hoops] == [0.36, 0.32, 0.34]


def test_a_hoop_and_a_spare_change_places():
    swapped = vary(PILED, {"hoop.2": "pile.1", "pile.1": "hoop.2", "hoop.2.turn": 2})
    assert [hoop.diameter for hoop in swapped.hoops] == [0.36, 0.33, 0.32]
    assert swapped.hoops[1].turn == 2
    assert (swapped.pile[0].diameter, swapped.pile[0].name) == (0.34, "spare 1")
    assert vary(swapped, {"hoop.2": "pile.1", "pile.1": "hoop.2", "pile.1.name": "old"}) == PILED


def test_a_hoop_is_added_and_taken_away():
    more = vary(SPEC, {"hoop": [1, 1, 2, 3], "hoop.2.diameter": 0.35, "sections.deep": [4, 4, 4.5]})
    assert [hoop.diameter for hoop in more.hoops] == [0.36, 0.35, 0.34, 0.32]
    assert vary(more, {"hoop.2": None, "sections.deep.1": None}) == SPEC
    last = vary(SPEC, {"hoop.4": {"diameter": 0.31, "rod": 0.01, "material": "oak"}, "sections.deep.3": 4})
    assert last.hoops[3].material == "oak"


def test_tables_are_changed_before_their_keys_in_whatever_order_they_are_named():
    changes = {"hoop.2.diameter": 0.35, "sections.deep.3": 4, "sections.deep": [4, 4.5], "hoop": [1, 1, 2, 3]}
    assert vary(SPEC, changes) == vary(SPEC, dict(reversed(changes.items())))
    assert vary(SPEC, changes).hoops[1].diameter == 0.35


def test_a_copy_gets_a_table_of_its_own():
    assert tables(vary(SPEC, {"hoop": [1, 1, 2, 3], "sections.deep.3": 4})) == [
        (0.36, None), (0.36, None), (0.34, None), (0.32, None),
    ]  # fmt: skip


def test_entries_are_counted_as_they_were_whatever_else_is_taken_away():
    shorter = vary(SPEC, {"hoop.1": None, "hoop.2.diameter": 0.35, "sections.deep.1": None})
    assert [hoop.diameter for hoop in shorter.hoops] == [0.35, 0.32]
    assert shorter.sections.deep == (4.5,)


def test_throats_come_and_go():
    with_throat = vary(SPEC, {"throat.1.hoop": 1, "throat.1.deep": 3, "throat.1.tip": 4})
    assert with_throat.throats[0].deep == 3
    assert vary(with_throat, {"throat.1.strings.length": "fit"}) == with_throat
    for changes in ({"throat": None}, {"throat.1": None}, {"throat": []}):
        assert vary(with_throat, changes) == SPEC


def test_a_key_that_is_not_there_can_be_taken_away():
    assert (
        vary(SPEC, {"throat": None, "throat.1.deep": None, "fish.girth": None, "hoop.1.turn": None}) == SPEC
    )


@pytest.mark.parametrize(
    ("changes", "key", "said"),
    [
        ({"hoop.5.rod": 1}, "hoop[5]", "from 1 to 3, and 4 adds one"),
        ({"hoop.4": None}, "hoop[4]", "from 1 to 3, and no other"),
        ({"hoop.0.rod": 1}, "hoop.0", "from 1 to 3"),
        ({"hoop.deep": 1}, "hoop.deep", "from 1 to 3"),
        ({"hoop": [1, 2, 4]}, "hoop[3]", "names no table"),
        ({"hoop.1": "pile.1"}, "hoop[1]", "names no table"),
        ({"hoop.1": "hop"}, "hoop[1]", "names no table"),
        ({"hoop.1": None, "hoop.1.rod": 1}, "hoop[1]", "taken away by another change"),
        ({"title.part": 1}, "title", "holds no keys"),
        ({"sections.deep.2.rod": 1}, "sections.deep[2]", "holds no keys"),
        ({"sections.spacing.2": 1}, "sections.spacing[2]", "there is none yet, and 1 adds one"),
        ({"tail": None, "tail.deep": "x"}, "tail.deep", "wholes or halves"),
    ],
)
def test_changes_that_lead_nowhere_are_told(changes, key, said):
    found = refused(SPEC, changes)
    assert said in found[key].message


def test_lists_without_end_are_told():
    value = []
    for _ in range(100_000):
        value = [value]
    with pytest.raises(SpecError, match="too deep"):
        vary(SPEC, {"sections.deep": value})


# Hoops that share a table.


def tables(spec):
    return [(hoop["diameter"], hoop.get("repeat")) for hoop in spec.source.typed["hoop"]]


def test_one_of_several_gets_a_table_of_its_own():
    assert tables(REPEATED) == [(0.4, None), (0.32, 5)]
    split = vary(REPEATED, {"hoop.4.diameter": 0.33})
    assert tables(split) == [(0.4, None), (0.32, 2), (0.33, None), (0.32, 2)]
    assert [hoop.diameter for hoop in split.hoops] == [0.4, 0.32, 0.32, 0.33, 0.32, 0.32]


def test_all_of_them_stay_together():
    changes = {f"hoop.{place}.rod": 0.02 for place in range(2, 7)}
    assert tables(vary(REPEATED, changes)) == [(0.4, None), (0.32, 5)]


def test_one_is_taken_away_or_stands_twice():
    fewer = vary(REPEATED, {"hoop.3": None, "sections.deep.1": None})
    assert tables(fewer) == [(0.4, None), (0.32, 4)]
    more = vary(REPEATED, {"hoop": [1, 2, 2, 3, 4, 5, 6], "sections.deep.6": 4})
    assert tables(more) == [(0.4, None), (0.32, 6)]


def test_repeat_is_the_table_s():
    assert tables(vary(REPEATED, {"hoop.3.repeat": 4, "sections.deep.5": None})) == [(0.4, None), (0.32, 4)]
    assert tables(vary(REPEATED, {"hoop.3.repeat": None, "sections.deep": [4]})) == [
        (0.4, None),
        (0.32, None),
    ]
    twice = vary(SPEC, {"hoop.3.repeat": 2, "sections.deep.3": 4})
    assert [hoop.diameter for hoop in twice.hoops] == [0.36, 0.34, 0.32, 0.32]
    assert refused(REPEATED, {"hoop.3.repeat": 0})["hoop[2].repeat"].message.startswith("0 is not")


def test_problems_count_hoops_as_they_stand_and_tell_shared_ones_once():
    assert set(refused(REPEATED, {"hoop.5.rod": -1})) == {"hoop[5].rod"}
    everywhere = {f"hoop.{place}.rod": -1 for place in range(2, 7)}
    assert set(refused(REPEATED, everywhere)) == {"hoop[2].rod"}
    assert refused(REPEATED, everywhere)["hoop[2].rod"].line is None  # its table has another number
    reaches = refused(REPEATED, {"hoop.5.diameter": 0.6})["netting.around"]
    assert "tied to hoop[5]" in reaches.message


# Nothing else makes a record.


def calls():
    """Every call in the package, with its file."""
    for path in Path(net3d.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                yield path, ast.unparse(node.func), [ast.unparse(argument) for argument in node.args]


def test_records_of_a_spec_are_made_by_reading_only():
    """No record is built, copied or replaced outside of the room that passes every rule."""
    kinds = {name for name in vars(records) if name.endswith("Spec")}
    made = [(path, name) for path, name, _ in calls() if name in kinds and path.name != "resolve.py"]
    assert not made
    copied = [path for path, name, _ in calls() if "model_copy" in name or "model_construct" in name]
    assert [path.name for path in copied] == ["draft.py"]  # what can be known of a spec that has faults
    words = {
        "spec",
        "rigging",
        "bridle",
        "water",
        "anchor",
        "sections",
        "stock",
        "prices",
    }  # no other record's
    replaced = [
        (path, given[0])
        for path, name, given in calls()
        if name in ("replace", "dataclasses.replace") and given[0].split(".")[-1] in words
    ]
    assert not replaced
