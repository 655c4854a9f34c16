"""What people type who do not know TOML: every line told at once, with the line as it should read.

What each line means is plain from how a maker says it; that a correction is TOML is judged by tomllib.
"""

import tomllib

import pytest

from net3d.errors import SpecError
from net3d.spec import parse_spec, starter_spec
from net3d.spec.mistyped import corrected

# Line as it is typed, line as it should read, by the line of a spec that it takes the place of.
LINES = {
    'title = "River net"': ("title = “River net”", 'title = "River net"'),
    'units = "in"': ("units = in", 'units = "in"'),
    "around    = 44": ("around = 44 meshes", "around = 44"),
    'stretched = "3 1/2"': ("stretched = 3 1/2", 'stretched = "3 1/2"'),
    'twine     = "#15"': ("twine = #15", 'twine = "#15"'),
    'made      = "hand-tied"': ("made = hand-tied", 'made = "hand-tied"'),
    "diameter = 36": ("diameter = 36,5", "diameter = 36.5"),
    'rod      = "1/2"': ("rod = 0.5in", 'rod = "0.5in"'),
    'material = "fibreglass"': ('material = "fibreglass', 'material = "fibreglass"'),
    "diameter = 35": ("diameter = 2' 11\"", 'diameter = "2 ft 11 in"'),
    "deep = [5, 5, 7, 6.5]": ("deep = 5, 5, 7, 6 1/2", "deep = [5, 5, 7, 6.5]"),
    "# spacing = [": ("spacing = [free, free, 14 1/2, 14]#", 'spacing = ["free", "free", "14 1/2", 14]'),
    "strings = { to_hoop = 5 }": ("strings = { to_hoop = 5 hoops }", "strings = { to_hoop = 5 }"),
    "strings = { to_tail = true }": ("strings = { to_tail = yes }", "strings = { to_tail = true }"),
    'pull   = "15 lbf"': ("pull = 15 lbf", 'pull = "15 lbf"'),
    "bridle = { legs = 3, length = 30 }": (
        "bridle = { legs = 3 legs, length = 2 ft 6 in }",
        'bridle = { legs = 3, length = "2 ft 6 in" }',
    ),
    "# weight = false": ("[statics]\nweight = False #", "weight = false"),
}


def mistyped_spec():
    """The starter with every line mistyped, and its hoops under [hoop]."""
    text = starter_spec("River net")
    for line, (typed, _) in LINES.items():
        assert line in text, line
        text = text.replace(line, typed, 1)
    return text.replace("[[hoop]]", "[hoop]")


def test_every_mistyped_line_is_told_at_once_with_its_correction():
    text = mistyped_spec()
    with pytest.raises(SpecError) as caught:
        parse_spec(text)
    lines = text.splitlines()
    told = {problem.line: problem.message for problem in caught.value.problems}
    for typed, right in LINES.values():
        last = typed.splitlines()[-1]
        number = next(n for n, line in enumerate(lines, 1) if line.startswith(last))
        assert told.pop(number).endswith(f": write {right}"), typed
    hoops = [number for number, line in enumerate(lines, 1) if line.startswith("[hoop]")]
    assert sorted(told) == hoops
    assert {told[number].rpartition("write ")[2] for number in hoops} == {"[[hoop]]"}


def test_the_corrected_text_reads_and_means_what_was_typed():
    text = mistyped_spec()
    meant = corrected(text).text
    assert len(meant.splitlines()) == len(text.splitlines())
    spec = parse_spec(meant)
    assert spec.netting.around == 44
    assert spec.netting.stretched == pytest.approx(3.5 * 0.0254)
    assert [hoop.diameter for hoop in spec.hoops[:2]] == pytest.approx([36.5 * 0.0254, 35 * 0.0254])
    assert spec.sections.deep == (5, 5, 7, 6.5)
    assert spec.twine.name == "#15"
    assert not spec.statics.weight


def test_notes_stay_behind_their_lines():
    line = "stretched = 3 1/2   # knot to knot"
    assert corrected(f"[netting]\n{line}").text.endswith('stretched = "3 1/2"   # knot to knot')


def test_what_is_toml_stays_as_it_is():
    text = starter_spec("River net")
    assert corrected(text).text == text
    assert corrected(text).problems == ()


def test_what_is_wrong_beside_mistyped_lines_is_told_with_them():
    text = starter_spec("River net").replace("stretched = ", "stretchd = ").replace("= 44", "= 44 meshes")
    with pytest.raises(SpecError) as caught:
        parse_spec(text)
    assert {"netting.stretchd", ""} <= {problem.key for problem in caught.value.problems}


@pytest.mark.parametrize(
    ("typed", "right"),
    [
        ("[sections]\ndeep = [5.5, 6 1/2]", "[sections]\ndeep = [5.5, 6.5]"),
        ("[sections]\ndeep = [5.5,\n  6 1/2,\n  6]", "[sections]\ndeep = [5.5,\n  6.5,\n  6]"),
        ("[sections]\ndeep = 5,5", "[sections]\ndeep = [5, 5]"),  # a list where the key takes one
        ("[tail]\ndeep = 5,5", "[tail]\ndeep = 5.5"),
        ("[netting]\nstretched = 3,5 in", '[netting]\nstretched = "3.5 in"'),
        ("[tail]\r\ndeep = 8 meshes\r\n", "[tail]\r\ndeep = 8\r\n"),
        ("[twine.my spool]\ntex = 1500", '[twine."my spool"]\ntex = 1500'),
        ('title = Jo "Hook" Net', 'title = "Jo \\"Hook\\" Net"'),
        ("title = No", 'title = "No"'),  # a name, not an answer
        ("[[hoop]]\nflip = No", "[[hoop]]\nflip = false"),
        ("[netting]\ntwine = #15 # on the spool", '[netting]\ntwine = "#15" # on the spool'),
    ],
)
def test_a_line_is_read_by_what_its_key_takes(typed, right):
    assert corrected(typed).text == right
    assert tomllib.loads(right)


@pytest.mark.parametrize(
    "text",
    [
        "a =",
        "= 3",
        "a = # nothing",
        "a = { b = }",
        "a = { b = , c = 3 }",
        "[",
        'a = """b',
        f"a = b{'c' * 2000}",
    ],
)
def test_what_cannot_be_guessed_is_left_alone(text):
    assert corrected(text).text == text


def test_letters_that_steer_a_terminal_are_not_printed():
    (problem,) = corrected("title = \x1b[31m red\u202e").problems
    assert problem.message.isprintable()


def with_price(line):
    return starter_spec("River net") + f"\n[prices]\n{line}\n"


@pytest.mark.parametrize("markup", ["0.2", '"20 %"', '"20%"', "20 %"])
def test_a_percentage_is_a_part_of_a_hundred(markup):
    meant = corrected(with_price(f"markup = {markup}")).text
    assert parse_spec(meant).prices.markup == pytest.approx(0.2)


@pytest.mark.parametrize(("markup", "words"), [("20", '20 % is 0.2, or write "20 %"'), ('"300 %"', "to 2")])
def test_a_markup_that_cannot_be_meant_is_refused(markup, words):
    with pytest.raises(SpecError) as caught:
        parse_spec(with_price(f"markup = {markup}"))
    (problem,) = caught.value.problems
    assert problem.key == "prices.markup"
    assert words in problem.message


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("881/8", "88 1/8 or 110 1/8"), ("37/16", "3 7/16 or 2 5/16"), ("12/4", "1 2/4 or 3")],
)
def test_a_fraction_that_may_lack_a_blank_is_doubted(typed, meant):
    text = starter_spec("River net").replace("diameter = 36 ", f'diameter = "{typed}" ', 1)
    with pytest.raises(SpecError) as caught:
        parse_spec(text)
    told = [problem.message for problem in caught.value.problems if problem.key == "hoop[1].diameter"]
    assert meant in told[0]


@pytest.mark.parametrize("typed", ["7/8", "9/8", "3/2", "88 1/8", "88-1/8"])
def test_fractions_that_can_mean_one_thing_only_are_read(typed):
    assert parse_spec(starter_spec("River net").replace('"10 ft"', f'"{typed}"')).rigging.line > 0


@pytest.mark.parametrize(("twine", "near"), [("#17", "#18"), ("braided 18", "#18")])
def test_a_twine_that_is_not_in_the_table_gets_its_neighbours(twine, near):
    with pytest.raises(SpecError) as caught:
        parse_spec(starter_spec("River net").replace('"#15"', f'"{twine}"', 1))
    assert f'"{near}"' in str(caught.value)
    assert "net3d twines" in str(caught.value)
