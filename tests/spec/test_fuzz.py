"""Whatever is done to a spec, it is read or refused with a SpecError; nothing else ever comes out."""

from hypothesis import given, settings
from hypothesis import strategies as st

from net3d.errors import SpecError
from net3d.spec import parse_spec, read_spec, starter_spec
from net3d.spec.spec import NetSpec

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
