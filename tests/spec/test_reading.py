"""What a good spec becomes. The figures are arithmetic on the text: an inch is 0.0254 m, exactly."""

import math
import subprocess
import sys
import tomllib

import pytest

from net3d.spec import parse_spec, read_spec, starter_spec
from net3d.spec.schema import spec_schema

INCH = 0.0254
POUND_FORCE = 4.4482216152605  # N, exact: NIST SP 811, appendix B
STARTER = starter_spec("River net")

METRIC = """
title = "Brook net"
units = "cm"
netting = { around = 40, bar = 2, twine = "No. 9", made = "sheet" }
rigging.pull = 40
sections = { deep = [6, 6.5], spacing = ["free", "0.3 m"] }
hoop = [
    { circumference = 160, rod = 0.8, material = "Fiberglass" },   # a line a hoop
    { diameter = "50 cm", rod = "8 mm", material = "steel", repeat = 2 },
]
"""


def test_the_starter_is_read_as_it_says():
    spec = parse_spec(STARTER)
    assert (spec.title, spec.units) == ("River net", "in")
    assert spec.netting.around == 44
    assert spec.netting.stretched == pytest.approx(3.5 * INCH, rel=1e-15)
    assert spec.twine.name == "#15"
    assert [hoop.diameter / INCH for hoop in spec.hoops] == pytest.approx([36, 35, 34, 34, 34])
    assert {hoop.rod for hoop in spec.hoops} == {INCH / 2}
    assert spec.sections.deep == (5, 5, 7, 6.5)
    assert spec.sections.spacing == (None,) * 4
    assert spec.tail is not None
    assert spec.tail.deep == 8
    assert spec.rigging.anchor == "tail"
    assert spec.rigging.pull == pytest.approx(15 * POUND_FORCE, rel=1e-15)
    assert spec.rigging.bridle is not None
    assert (spec.rigging.bridle.legs, spec.rigging.bridle.length) == (3, pytest.approx(30 * INCH))
    assert spec.rigging.line == pytest.approx(120 * INCH)
    assert spec.marking.round == pytest.approx(INCH / 16)
    assert spec.statics.weight is True


def test_every_way_to_write_toml_and_sizes():
    spec = parse_spec(METRIC)
    assert spec.netting.stretched == pytest.approx(0.04)
    assert spec.netting.made == "sheet"
    assert spec.twine.name == "#9"
    assert [hoop.diameter for hoop in spec.hoops] == pytest.approx([1.6 / math.pi, 0.5, 0.5])
    assert [hoop.rod for hoop in spec.hoops] == pytest.approx([0.008] * 3)
    assert [hoop.material for hoop in spec.hoops] == ["fibreglass", "steel", "steel"]
    assert spec.sections.spacing == (None, 0.3)
    assert spec.rigging.pull == 40
    assert (spec.tail, spec.rigging.bridle) == (None, None)
    assert (spec.rigging.line, spec.rigging.rope, spec.marking.round) == (3.0, 0.006, 0.001)


def test_notes_in_the_starter_can_be_switched_on():
    """What stands behind # in the starter is good TOML too."""
    lines = [
        line.removeprefix("# ") if line.startswith(("# [", "# spacing", "# round", "# weight")) else line
        for line in STARTER.splitlines()
    ]
    keys = ("# stretched_min", "# hoop_diam", "# length_", "# loose", "# diameter", "# strength", "# fibre")
    keys += ("# girth", "# style", "# type", "# current =", "# currents", "# angle", "# blocked", "# caught")
    lines = [line.removeprefix("# ") if line.startswith(keys) else line for line in lines]
    spec = parse_spec("\n".join(lines).replace('twine     = "#15"', 'twine = "spool"'))
    assert spec.sections.spacing == (None, None, pytest.approx(18.5 * INCH), pytest.approx(17.25 * INCH))
    assert spec.limits.length_max == pytest.approx(16 * 12 * INCH)
    assert spec.limits.threshold("looseness").fail == 0.15
    assert spec.statics.weight is False
    assert spec.twine.name == "spool"
    assert spec.throats[0].style == "square"
    assert spec.fish.girth_max == pytest.approx(20 * INCH)
    assert spec.rigging.current == pytest.approx(2 * 12 * INCH)
    assert (len(spec.water.currents), spec.water.blocked, spec.water.bottom) == (3, 0.2, "sand")
    assert (spec.anchor.type, round(spec.anchor.weight, 2)) == ("concrete block", 27.22)


def test_own_limits_win_and_say_so():
    text = STARTER + "\n[limits]\ntwine_load = { caution = 0.1 }\nhoops_max = 6\nbar_min = 1.5\n"
    limits = parse_spec(text).limits
    own, default = limits.threshold("twine_load"), limits.threshold("looseness")
    assert (own.caution, own.source) == (0.1, "your spec")
    assert own.fail == parse_spec(STARTER).limits.threshold("twine_load").fail
    assert default.source != "your spec"
    assert (limits.hoops_max, limits.bar_min, limits.stretched_min) == (6, pytest.approx(1.5 * INCH), None)
    with pytest.raises(KeyError):
        limits.threshold("no such limit")


def test_an_own_twine_by_its_spool():
    text = STARTER.replace('"#15"', '"coil"', 1) + (
        '\n[twine.coil]\ndiameter = "0.05 in"\nlength_per_weight = 967\nstrength = 140\nfibre = "nylon"\n'
    )
    twine = parse_spec(text).twine
    # 967 ft/lb: 0.45359237 kg over 967 x 0.3048 m
    assert twine.mass_per_length == pytest.approx(0.45359237 / (967 * 0.3048), rel=1e-12)
    assert twine.strength == pytest.approx(140 * POUND_FORCE)
    assert (twine.name, twine.material, twine.source) == ("coil", "nylon", "your spec")
    assert twine.density == pytest.approx(1140)
    stiff = parse_spec(text + 'stiffness = "900 N"\n').twine
    assert stiff.stiffness == 900


def test_own_twine_comes_before_the_table():
    text = STARTER + '\n[twine."#15"]\ndiameter = 0.06\ntex = 1600\nstrength = 150\nfibre = "PA"\n'
    assert parse_spec(text).twine.source == "your spec"


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("ending", [b"\n", b"\r\n"])
def test_byte_order_mark_and_line_ends_do_not_matter(tmp_path, mark, ending):
    file = tmp_path / "net.toml"
    file.write_bytes(mark + STARTER.encode().replace(b"\n", ending))
    assert read_spec(file) == parse_spec(STARTER)


def test_the_spec_cannot_be_changed():
    spec = parse_spec(STARTER)
    with pytest.raises(AttributeError, match="cannot assign"):
        spec.netting.around = 45


@pytest.mark.parametrize("title", ['Say "when"', "back\\slash", "Lötzen / 鰻", "x" * 120])
def test_a_title_comes_back_as_given(title):
    assert parse_spec(starter_spec(title)).title == title


def test_the_schema_describes_every_key():
    schema = spec_schema()
    tables = schema["$defs"]

    def described(field):
        return field.get("description") or tables[field["$ref"].rpartition("/")[2]].get("description")

    bare = [
        f"{name}.{key}"
        for name, table in {**tables, "": schema}.items()
        for key, field in table["properties"].items()
        if not described(field)
    ]
    assert bare == []
    assert schema["additionalProperties"] is False
    assert "null" not in str(schema)


def test_the_schema_agrees_with_what_is_read():
    """The schema as an unrelated validator reads it: the jsonschema library, draft 2020-12."""
    jsonschema = pytest.importorskip("jsonschema")
    validator = jsonschema.Draft202012Validator(spec_schema())
    validator.check_schema(spec_schema())
    for text in (STARTER, METRIC):
        assert list(validator.iter_errors(tomllib.loads(text.replace("Fiberglass", "fiberglass")))) == []
    for old, new in (
        ("around    = 44", "around = 2"),
        ("diameter = 36", "diameter = true"),
        ("diameter = 36", "size = 36"),
        ("[5, 5, 7, 6.5]", "[5.3]"),
        ('material = "fibreglass"', 'material = "tin"'),
        ("anchor = ", "anchr = "),
        ('"3 1/2"             #', "-3 #"),
    ):
        assert old in STARTER
        assert list(validator.iter_errors(tomllib.loads(STARTER.replace(old, new, 1))))


def test_reading_a_spec_leaves_the_solid_and_solver_libraries_alone():
    code = "import sys, net3d.spec; print([m for m in ('clarabel', 'net3d.spec.schema') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
