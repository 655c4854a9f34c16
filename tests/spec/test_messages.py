"""Every way a spec can be wrong: where, what was given, what is allowed, what to do.

The expected places and figures are arithmetic on the starter spec's own text; the wording is ours.
"""

import math

import pytest

from net3d.errors import SpecError
from net3d.spec import parse_spec, read_spec, starter_spec

STARTER = starter_spec("River net")


def changed(*changes):
    """The starter with each (old, new) put in once."""
    text = STARTER
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def line_of(text, fragment):
    return next(number for number, line in enumerate(text.splitlines(), 1) if fragment in line)


def problems_of(text):
    with pytest.raises(SpecError) as caught:
        parse_spec(text)
    return {problem.key: problem for problem in caught.value.problems}


CASES = {
    "three by nothing": ('rod      = "1/2"', 'rod = "3/0"', "hoop[1].rod", ['"3/0"', "zero"]),
    "not a number": ("diameter = 36", "diameter = nan", "hoop[1].diameter", ["nan", "finite"]),
    "endless": ("diameter = 36", "diameter = inf", "hoop[1].diameter", ["inf", "finite"]),
    "too large for a float": ("diameter = 36", "diameter = 1e999", "hoop[1].diameter", ["finite"]),
    "huge exponent": ("diameter = 36", 'diameter = "1e999999999"', "hoop[1].diameter", ["cannot be read"]),
    "negative": ("diameter = 36", "diameter = -36", "hoop[1].diameter", ["-36", "more than zero"]),
    "negative text": ("diameter = 36", 'diameter = "-3 1/2"', "hoop[1].diameter", ["more than zero"]),
    "nothing": ("length = 30", "length = 0", "rigging.bridle.length", ["0", "more than zero"]),
    "absurd": ("diameter = 36", 'diameter = "40 km"', "hoop[1].diameter", ["40 km", "or less"]),
    "a yes for a length": ("diameter = 36", "diameter = true", "hoop[1].diameter", ["true", "a length"]),
    "a yes for a number": ("around    = 44", "around = true", "netting.around", ["true", "whole number"]),
    "a list for a length": ("diameter = 36", "diameter = [36]", "hoop[1].diameter", ["a list"]),
    "a date for a length": ("diameter = 36", "diameter = 1999-09-09", "hoop[1].diameter", ["a date"]),
    "words for a length": ("diameter = 36", 'diameter = "wide"', "hoop[1].diameter", ['"wide"', "3 1/2 in"]),
    "force for a length": (
        "length = 30",
        'length = "3 lbf"',
        "rigging.bridle.length",
        ["lbf", "a force", "a length"],
    ),
    "length for a force": (
        'pull   = "15 lbf"',
        'pull = "3 ft"',
        "rigging.pull",
        ["a length", "a force", "15 lbf"],
    ),
    "a pull of next to nothing": ('pull   = "15 lbf"', "pull = 5e-324", "rigging.pull", ["0, or", "or more"]),
    "a pull below nothing": ('pull   = "15 lbf"', "pull = -15", "rigging.pull", ["-15", "0, or"]),
    "weight for a force": ('pull   = "15 lbf"', 'pull = "15 lb"', "rigging.pull", ["write lbf"]),
    "unknown unit": (
        "length = 30",
        'length = "30 furlongs"',
        "rigging.bridle.length",
        ["furlongs", "no such unit"],
    ),
    "a comma": ('"3 1/2"             #', '"3,5" #', "netting.stretched", ['"3,5"', "cannot be read"]),
    "huge whole number": (
        "around    = 44",
        f"around = 1{'0' * 400}",
        "netting.around",
        ["20 digits", "from 3 to"],
    ),
    "two meshes around": ("around    = 44", "around = 2", "netting.around", ["2", "from 3 to"]),
    "half a mesh around": ("around    = 44", "around = 44.5", "netting.around", ["44.5", "whole number"]),
    "endless repeat": ("repeat   = 3", "repeat = 1000000000", "hoop[3].repeat", ["1000000000", "to 1,000"]),
    "one leg": ("legs = 3", "legs = 1", "rigging.bridle.legs", ["1", "from 2 to"]),
    "a third of a mesh": ("deep = [5,", "deep = [5.3,", "sections.deep[1]", ["5.3", "wholes or halves"]),
    "a negative depth": ("deep = 8", "deep = -8", "tail.deep", ["-8", "wholes or halves"]),
    "too few depths": (
        "[5, 5, 7, 6.5]",
        "[5, 5]",
        "sections.deep",
        ["5 hoops", "4 sections", "2 depths"],
    ),
    "a depth, not a list": ("[5, 5, 7, 6.5]", "6", "sections.deep", ["6", "list", "brackets"]),
    "too few spacings": ("# spacing =", "spacing = [14] #", "sections.spacing", ["1 spacings", "write 4"]),
    "material": (
        'material = "fibreglass"',
        'material = "steal"',
        "hoop[1].material",
        ['"steal"', "steel", "oak"],
    ),
    "made": (
        'made      = "hand-tied"',
        'made = "handtied"',
        "netting.made",
        ['"handtied"', "mean hand-tied"],
    ),
    "anchor": ('anchor = "tail"', 'anchor = "tale"', "rigging.anchor", ['"tale"', '"mouth"', "mean tail"]),
    "units": ('units = "in"', 'units = "inch"', "units", ['"inch"', '"mm"', "mean in"]),
    "twine": (
        '"#15"               #',
        '"#16" #',
        "netting.twine",
        ['"#16"', '"#15"', '"#18"', "[twine.NAME]"],
    ),
    "a bare mesh size": (
        'stretched = "3 1/2"',
        'mesh = "3 1/2"',
        "netting.mesh",
        ["bar", "stretched", "either"],
    ),
    "another bare size": ('stretched = "3 1/2"', "mesh_size = 3", "netting.mesh_size", ["bar", "stretched"]),
    "bar and stretched": (
        "around    = 44",
        "around = 44\nbar = 2",
        "netting.bar",
        ["stretched is given too"],
    ),
    "both hoop sizes": (
        "diameter = 36",
        "diameter = 36\ncircumference = 113",
        "hoop[1].circumference",
        ["diameter is given too"],
    ),
    "no hoop size": ("diameter = 36", "#", "hoop[1]", ["diameter or circumference is missing"]),
    "a misspelt key": ("rope   =", "roape =", "rigging.roape", ["mean rope", "Known keys: anchor, pull"]),
    "a key of another table": (
        "around    = 44",
        "around = 44\npull = 3",
        "netting.pull",
        ["belongs in [rigging]"],
    ),
    "a table to come": ("[tail]", "[lead]\nlength = 2\n[tail]", "lead", ["not a key known here"]),
    "thick rod": ('rod      = "1/2"', "rod = 18", "hoop[1].rod", ["18 in", "36 in", "thinner"]),
    "one pair of brackets": (STARTER[STARTER.index("[[hoop]]") :], "[hoop]\nrod = 1", "hoop", ["[[hoop]]"]),
    "two pairs of brackets": ("[tail]", "[[tail]]", "tail", ["a list", "[tail]"]),
    "a value for a table": (
        "[tail]\ndeep = 8",
        "[statics]\n[sections.tail]\nx = 8",
        "sections.tail",
        ["not a key"],
    ),
    "a twine in the wrong place": (
        'units = "in"',
        'units = "in"\ntwine = "#15"',
        "twine",
        ["belongs in [netting]"],
    ),
    "weight": ("# [statics]", "[statics]\nweight = 1\n#", "statics.weight", ["1", "true or false"]),
    "an unknown limit": (
        "# [limits]",
        "[limits]\nloosness = {fail = 1}\n#",
        "limits.loosness",
        ["mean looseness"],
    ),
    "limits crossed": (
        "# [limits]",
        "[limits]\nlooseness = {caution = 0.2}\n#",
        "limits.looseness",
        ["0.2", "0.1"],
    ),
    "limits crossed below": (
        "# [limits]",
        "[limits]\nthroat_room = {fail = 2}\n#",
        "limits.throat_room",
        ["1", "above"],
    ),
    "a negative limit": (
        "# [limits]",
        "[limits]\nlooseness.fail = -1\n#",
        "limits.looseness.fail",
        ["from 0"],
    ),
    "a coarse tape": ("# [marking]", "[marking]\nround = 36\n#", "marking.round", ["or less"]),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_a_fault_is_told_with_its_place_and_remedy(case):
    old, new, key, words = case
    text = changed((old, new))
    problems = problems_of(text)
    assert key in problems, problems
    for word in words:
        assert word in problems[key].message
    assert problems[key].line is not None


def test_the_line_is_that_of_the_key():
    text = changed(("length = 30", 'length = "3 lbf"'), ("deep = 8", "deep = 8.2"))
    problems = problems_of(text)
    assert problems["rigging.bridle.length"].line == line_of(text, "3 lbf")
    assert problems["tail.deep"].line == line_of(text, "8.2")


def test_every_problem_comes_at_once_and_in_the_order_of_lines():
    text = changed(
        ("around    = 44", "around = 25"),  # too few for the hoops: a rule across tables
        ('rod      = "1/2"', 'rod = "3/0"'),  # hoop 1 only; hoops 2 and 3 are still judged
        ("[5, 5, 7, 6.5]", "[5, 5]"),
        ("anchor = ", "anchr = "),
        ('"15 lbf"               #', "0 #"),
    )
    with pytest.raises(SpecError) as caught:
        parse_spec(text, "nets/river.toml")
    problems = caught.value.problems
    keys = ["netting.around", "hoop[1].rod", "sections.deep", "rigging.anchr", "rigging.pull"]
    assert [problem.key for problem in problems] == keys
    assert str(caught.value).startswith("nets/river.toml:\n  line ")
    assert len(str(caught.value).splitlines()) == 6


def test_too_few_meshes_around_says_how_many_would_do():
    # E1 = pi (D - 2 rod) / (N m) < 1 with D 36 in, rod 1/2 in, m 3 1/2 in: N > 31.4
    least = math.floor(math.pi * 35 / 3.5) + 1
    problem = problems_of(changed(("around    = 44", f"around = {least - 1}")))["netting.around"]
    assert f"Take {least} meshes around or more" in problem.message
    assert "hoop[1]" in problem.message
    assert parse_spec(changed(("around    = 44", f"around = {least}"))).netting.around == least


def test_two_million_bars_are_enough():
    # two bars a mesh and row, 2 rows a mesh deep: 4 N (5 + 5 + 7 + 6.5 + 8) = 126 N, and in the two throats
    # at most 4 N (9 + 6) = 60 N more
    most = 2_000_000 // 186
    assert parse_spec(changed(("around    = 44", f"around = {most}"))).netting.around == most
    problem = problems_of(changed(("around    = 44", f"around = {most + 1}")))["netting.around"]
    assert f"{186 * (most + 1):,} bars" in problem.message
    assert "2,000,000" in problem.message


def test_a_flood_of_problems_is_cut_short_but_kept():
    text = changed(("deep = [5, 5, 7, 6.5]", f"deep = [{'0.3, ' * 3000}]"))
    with pytest.raises(SpecError) as caught:
        parse_spec(text)
    lines = str(caught.value).splitlines()
    assert len(lines) == 1 + 100 + 1
    assert lines[-1] == "  and 2,900 more"
    assert len(caught.value.problems) == 3000


def test_nothing_can_be_advised_at_a_limit_of_nothing():
    for key in ("hanging_ratio_low", "twine_load", "opening_tight"):
        low = f"{key} = {{ caution = 0, fail = 0 }}"
        problem = problems_of(f"{STARTER}\n[limits]\n{low}\n")[f"limits.{key}.caution"]
        assert "0.001 or more" in problem.message
    assert parse_spec(f"{STARTER}\n[limits]\ntip_before = {{ caution = 0, fail = 0 }}\n")  # as net3d has it


def test_meshes_far_too_large_for_their_hoop_are_refused():
    # The smallest hoops are 34 in, their knots on 33: E1 = pi 33 / (44 x 3000) = 0.00079, and
    # half as much again at 2000
    problem = problems_of(changed(('stretched = "3 1/2"', "stretched = 3000")))["netting"]
    assert "E1 = 0.00079 on hoop[3]" in problem.message
    assert parse_spec(changed(('stretched = "3 1/2"', "stretched = 2000")))


def test_one_hoop_is_no_net():
    start, end = STARTER.index("[[hoop]]"), STARTER.index("[sections]")
    hoop = '[[hoop]]\ndiameter = 36\nrod = "1/2"\nmaterial = "oak"\n'
    assert "at least two hoops" in problems_of(STARTER[:start] + hoop + STARTER[end:])["hoop"].message


def test_missing_tables_are_named_with_how_to_write_them():
    problems = problems_of('title = "x"\nunits = "m"\n')
    assert "add a table [[hoop]]" in problems["hoop"].message
    assert "add a table [rigging]" in problems["rigging"].message
    assert problems["netting"].line is None


def test_wrong_units_do_not_bring_a_flood_of_other_complaints():
    assert list(problems_of(changed(('units = "in"', 'units = "furlong"')))) == ["units"]


@pytest.mark.parametrize(
    "title", ['"a\\u0007b"', '"' + "x" * 121 + '"', '""', "3", '"a\\u001b[31m"', '"two\\nlines"']
)
def test_a_title_is_a_few_printable_words(title):
    problem = problems_of(changed(('title = "River net"', f"title = {title}")))["title"]
    assert all(letter.isprintable() for letter in str(problem))


def test_an_own_twine_says_its_weight_once():
    twine = '\n[twine.own]\ndiameter = "0.05 in"\nstrength = "100 lbf"\nfibre = "PA"\n'
    assert "tex or length_per_weight is missing" in problems_of(STARTER + twine)["twine.own"].message
    both = twine + 'tex = 1500\nlength_per_weight = "967 ft/lb"\n'
    assert "tex is given too" in problems_of(STARTER + both)["twine.own.length_per_weight"].message
    fibre = twine.replace('"PA"', '"PEE"') + "tex = 1500\n"
    assert "did you mean PE" in problems_of(STARTER + fibre)["twine.own.fibre"].message


def test_a_twine_name_that_cannot_be_printed_is_refused():
    twine = '\n[twine."\\u001b[31m"]\ndiameter = 1\nstrength = 1\nfibre = "PA"\ntex = 1\n'
    with pytest.raises(SpecError) as caught:
        parse_spec(STARTER + twine)
    assert "\x1b" not in str(caught.value)


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("", None, "is empty"),
        ("# only a note\n\n", None, "is empty"),
        ('title = "x"\nunits = \n', 2, "nothing stands behind"),
        ("a = { b = , c = 3 }", 1, "nothing stands behind"),
        ('title = "x"\ntitle = "y"\n', 2, "not TOML"),
        ("a = 1\n\n[\n", 3, "not TOML"),
        ('a = """unfinished', 1, "not TOML"),
        (f"a = {'9' * 5000}", None, "too large"),
        (f"a = {'[' * 30000}", None, "too large"),
        (f"\na{'.a' * 100000} = 1", 2, "dots"),
    ],
)
def test_what_is_not_toml_is_told_with_its_line(text, line, words):
    (problem,) = problems_of(text).values()
    assert problem.line == line
    assert words in problem.message


@pytest.mark.parametrize(
    ("content", "line", "words"),
    [
        (b"", None, "is empty"),
        (b"glTF\0\0\1\2", None, "not a text file"),
        (b'title = "Aals\xe4ckchen"', 1, "UTF-8"),
        (b'units = "in"\n\ntitle = "\xff"', 3, "UTF-8"),
        (b"#" * 1_000_001, None, "larger than"),
    ],
)
def test_what_is_not_a_spec_file_is_told(tmp_path, content, line, words):
    file = tmp_path / "net.toml"
    file.write_bytes(content)
    with pytest.raises(SpecError) as caught:
        read_spec(file)
    (problem,) = caught.value.problems
    assert problem.line == line
    assert words in problem.message
    assert str(file) in str(caught.value)


def test_a_folder_a_missing_file_and_an_impossible_name_are_told(tmp_path):
    for path, words in (
        (tmp_path, "folder"),
        (tmp_path / "no.toml", "net3d new"),
        ("a\0b", "cannot be read"),
    ):
        with pytest.raises(SpecError, match=words):
            read_spec(path)


def test_a_device_is_not_read():
    with pytest.raises(SpecError, match="not a plain file"):
        read_spec("/dev/zero")


def test_thousands_of_faults_are_told_in_seconds():
    hoop = "[[hoop]]\nrod = 1\nx = 1\n"
    problems = problems_of(changed(("[[hoop]]", hoop * 2000 + "[[hoop]]")))
    # of each hoop: no size, no material, an unknown key; then too many hoops, and too few depths for them
    assert len(problems) == 2000 * 3 + 2
