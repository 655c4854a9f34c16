"""Whatever is done to a spec, it is read or refused with a SpecError; nothing else ever comes out."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from net3d.errors import SpecError
from net3d.spec import parse_spec, read_spec, starter_spec
from net3d.spec.spec import NetSpec
from net3d.spec.throat_form import FishForm, StringsForm, ThroatForm

pytestmark = pytest.mark.law

STARTER = starter_spec("River net")
LINES = STARTER.splitlines()
VALUES = st.one_of(
    st.integers().map(str),
    st.floats().map(repr),
    st.text(max_size=12).map(lambda text: '"' + text.replace("\\", "").replace('"', "") + '"'),
    st.sampled_from(
        [
            *(
                "true",
                "[]",
                "{}",
                "[[1]]",
                '"3/0"',
                '"1e99 km"',
                '"5 ft 6 in"',
                '""',
                "1979-05-27",
                "07:32:00",
            ),
            *(
                "1e-320",
                "{ legs = 3 }",
                '["free"]',
                '"#15"',
                "{ caution = 1 }",
                "10" * 300,
                '"½"',
                '"9/1 kgf"',
            ),
        ]
    ),
)


def outcome(text):
    """The spec, or None where it is refused; a refusal names at least one problem."""
    try:
        return parse_spec(text)
    except SpecError as error:
        refusal = error
    assert refusal.problems
    assert all(problem.message for problem in refusal.problems)
    return None


@settings(max_examples=300, deadline=None)
@given(st.integers(0, len(LINES) - 1), VALUES)
def test_any_value_in_any_place(number, value):
    key, equals, _ = LINES[number].removeprefix("# ").partition("=")
    lines = [*LINES[:number], f"{key}{equals} {value}", *LINES[number + 1 :]]
    spec = outcome("\n".join(lines))
    assert spec is None or isinstance(spec, NetSpec)


SOUND = {
    "hoop": ["1", "4"],
    "deep": ["6", "7.5"],
    "tip": ["3", "30"],
    "style": ['"finger"', '"square"'],
    "around": ["50", "44"],
    "stretched": ["4", '"3 1/2"'],
    "bar": ["2"],
    "twine": ['"#18"', "9"],
    "taper": ['"even"', "0.3"],
    "decreases": ["[]"],
    "line": ['"1 ft"'],
    "panels": ["1", "4"],
    "to_hoop": ["5"],
    "to_tail": ["true", "false"],
    "points": ["1", "6"],
    "turn": ["0.5", "1"],
    "length": ['"fit"', '"3 ft"', "[10, 20]"],
    "share": ["0.05", "0.999"],
    "girth": ["12", "[12, 20]"],
    "girth_ratio": ["0.6"],
    "sections.around": ["[44, 44, 40, 40]", "[42, 42, 40, 40]"],
    "spacing": ["[]", '["free", "free", 14, 14]'],
}
LIKELY = st.one_of(
    VALUES,
    st.integers(-3, 60).map(str),
    st.floats(-1, 60).map(repr),
    st.lists(st.integers(-5, 9), max_size=20).map(str),
    st.sampled_from(['"fit"', '"late"', '"square"', '"finger"', "false", "[12, 20]", '["10 in", "1 m"]']),
)


BODY = re.sub(r"(?s)\[\[throat\]\].*\[tail\]", "[tail]", STARTER)
DEEP = "deep = [5, 5, 7, 6.5]"


def table_of(keys):
    """A table with a few of the keys, about one value in eight of any kind, the others sound."""
    few = st.lists(st.sampled_from(sorted(set(keys) & set(SOUND))), max_size=3, unique=True)
    return few.flatmap(lambda chosen: st.fixed_dictionaries({key: value_of(key) for key in chosen}))


def value_of(key):
    return st.integers(0, 7).flatmap(lambda die: LIKELY if die == 7 else st.sampled_from(SOUND[key]))


@settings(max_examples=400, deadline=None)
@given(
    st.lists(st.tuples(table_of(ThroatForm.model_fields), table_of(StringsForm.model_fields)), max_size=3),
    st.one_of(st.just({}), st.just({"girth": "[12, 20]"}), table_of(FishForm.model_fields)),
    table_of(["sections.around", "spacing"]),
)
def test_any_throats_fish_and_sections(throats, fish, sections):
    kept = {"deep": "[5, 5, 7, 6.5]"} | {
        key.removeprefix("sections."): value for key, value in sections.items()
    }
    text = BODY.replace(DEEP, lines_of(kept))
    for throat, strings in throats:
        keys = {"hoop": "2", "deep": "8", "tip": "12"} | throat
        text += f"\n[[throat]]\n{lines_of(keys)}\n[throat.strings]\n{lines_of(strings)}\n"
    text += f"\n[fish]\n{lines_of(fish)}\n" if fish else ""
    spec = outcome(text)
    if spec is not None:
        assert len(spec.throats) == len(throats)
        assert all(throat.hoop < len(spec.hoops) for throat in spec.throats)
        assert all(1 <= throat.strings.points <= throat.tip for throat in spec.throats)


def test_the_fuzzed_throats_start_from_a_net_that_is_read():
    bare = "[[throat]]\nhoop = 2\ndeep = 8\ntip = 12\n"
    assert DEEP in BODY
    assert len(parse_spec(BODY + 2 * f"\n{bare}").throats) == 2


def lines_of(keys):
    return "\n".join(f"{key} = {value}" for key, value in keys.items())


@settings(max_examples=150, deadline=None)
@given(st.lists(st.integers(0, len(LINES) - 1), max_size=4), st.permutations(range(3)))
def test_lines_taken_out_or_put_elsewhere(gone, order):
    thirds = [LINES[:15], LINES[15:30], LINES[30:]]
    lines = [line for third in order for line in thirds[third] if LINES.index(line) not in gone]
    outcome("\n".join(lines))


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(STARTER)), st.integers(0, 6), st.text(max_size=4))
def test_letters_changed_anywhere(place, gone, put):
    outcome(STARTER[:place] + put + STARTER[place + gone :])


def test_any_bytes_in_a_file(tmp_path):
    file = tmp_path / "net.toml"

    @settings(max_examples=100, deadline=None)
    @given(st.binary(max_size=60))
    def reads_or_refuses(content):
        file.write_bytes(content)
        try:
            read_spec(file)
        except SpecError:
            return

    reads_or_refuses()
