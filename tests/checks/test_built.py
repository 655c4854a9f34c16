"""The net as built: what was measured on it takes the place of what was planned, and is told."""

from math import pi

import pytest

from net3d import design
from net3d.checks.checks import Level
from net3d.errors import SpecError
from net3d.spec import parse_spec, vary
from tests.nets import spec_text

THROAT = {"hoop": 1, "deep": 5, "tip": 8, "strings": {"to_hoop": 3, "points": 4}}
NET = {"around": 16, "diameters": (0.36, 0.35, 0.34), "deep": (4.5, 5), "tail": 6, "throats": [THROAT]}


def made(**changes):
    spec = parse_spec(spec_text(**NET))
    return design(vary(spec, {f"built.{key}": value for key, value in changes.items()}) if changes else spec)


def planned_so(**keys):
    return design(parse_spec(spec_text(**{**NET, **keys})))


def test_meshes_as_measured_make_the_net_that_was_planned_of_such_meshes():
    built, other = made(ten_meshes=1.02), planned_so(stretched=0.102)
    assert built.shape.length == pytest.approx(other.shape.length, rel=1e-6)
    assert built.string_lengths == pytest.approx(other.string_lengths, rel=1e-6)
    told = next(f for f in built.findings if f.code == "built-meshes")
    assert told.level is Level.OK
    assert "2.0% long: ten meshes measure 1.020 m, planned were 1.000 m" in told.message


def test_tapes_around_hoops_take_the_place_of_their_diameters():
    girths = [pi * 0.355, pi * 0.35, pi * 0.345]
    built, other = made(hoops=girths), planned_so(diameters=(0.355, 0.35, 0.345))
    assert built.shape.length == pytest.approx(other.shape.length, rel=1e-6)


def test_measured_meshes_are_surer_than_a_gauge():
    off, dry, wet = (
        made(**keys).spec.tolerances for keys in ({}, {"ten_meshes": 1.0}, {"ten_meshes": 1.0, "wet": True})
    )
    # Three causes of 1 %; a reading of 3 mm in a metre, and 1 % from dry to wet; that reading alone.
    assert [off.common, dry.common, wet.common] == pytest.approx([0.01 * 3**0.5, (9e-6 + 1e-4) ** 0.5, 0.003])


@pytest.mark.parametrize(("ten", "level"), [(1.02, Level.CAUTION), (1.001, Level.OK)])
def test_a_net_that_hangs_longer_than_worked_out_says_what_its_meshes_measure(ten, level):
    hung = planned_so(stretched=ten / 10).shape.length
    told = next(f for f in made(ten_meshes=1.0, wet=True, length=hung).findings if f.code == "built-length")
    assert told.level is level
    if level is Level.CAUTION:
        assert f"would have to measure {ten:.3f} m" in told.message


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("ten_meshes", 0.1, ["another net", "1.000 m", "put netting.stretched right"]),
        ("ten_meshes", 0.81, ["meshes around or more"]),
        ("hoops", [1.1, 1.1], ["2 measures", "write 3"]),
        ("apart", [0.3], ["1 measures", "write 2"]),
        ("throats", [1.0, 1.0], ["2 measures", "write 1"]),
    ],
)
def test_what_cannot_be_of_this_net_is_refused(key, value, words):
    diameters = (0.45, 0.44, 0.43) if value == 0.81 else NET["diameters"]  # 16 of 81 mm do not reach
    with pytest.raises(SpecError) as refused:
        vary(parse_spec(spec_text(**{**NET, "diameters": diameters})), {f"built.{key}": value})
    told = "\n".join(problem.message for problem in refused.value.problems)
    assert all(word in told for word in words)
