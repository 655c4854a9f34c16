"""Measures in a spec: how many are enough, and what comes of them."""

import math

import pytest

from net3d.errors import SpecError
from net3d.plan import lay_out
from net3d.spec import parse_spec
from tests.nets import spec_text


def spec_of(line, **keys):
    text = spec_text(**keys)
    return parse_spec(text.replace("[[hoop]]", f"[[hoop]]\n{line}", 1))


@pytest.mark.parametrize("count", [1, 2, 3])
def test_too_few_gaps_are_refused(count):
    with pytest.raises(SpecError, match=rf"hoop\[1\]\.gaps: {count} measures .* write 4 or more"):
        spec_of(f"gaps = {[0.001] * count}")


def test_one_diameter_is_refused():
    with pytest.raises(SpecError, match=r"hoop\[1\]\.across: 1 measures .* write 2 or more"):
        spec_of("across = [0.32]")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("across = [0.65, 0.32]", r"across: 0\.650 m one way and 0\.320 m another is more than twice"),
        ("gaps = [0, 0.17, 0, 0.17]", r"gaps: a hoop of 0\.320 m that stands 0\.170 m off the floor"),
    ],
)
def test_hoops_bent_beyond_use_are_refused(line, said):
    with pytest.raises(SpecError, match=rf"hoop\[1\]\.{said}"):
        spec_of(line)


def test_a_bent_hoop_in_unknown_units_is_no_further_trouble():
    text = (
        spec_text(extra="")
        .replace('units = "m"', 'units = "rods"')
        .replace("rod =", "across = [9, 1]\nrod =", 1)
    )
    with pytest.raises(SpecError, match="units"):
        parse_spec(text)


@pytest.mark.parametrize("line", ["gaps = [0, 0.01, 0, 0.01]", "across = [0.32, 0.33]"])
def test_just_enough_are_taken(line):
    hoop = lay_out(spec_of(line)).hoops[0]
    assert (hoop.outline.bow if "gaps" in line else hoop.outline.oval).numbers == (2,)


def test_gaps_carry_units():
    hoop = lay_out(spec_of('gaps = [0, "1/2 in", 0, "1/2 in"]')).hoops[0]
    assert hoop.outline.bow.height == pytest.approx(0.0127)


def test_up_is_toward_the_mouth():
    # Measured mouth side up, the gap is highest at the top here, so the top stands toward the mouth: x < 0.
    hoop = lay_out(spec_of("gaps = [0.01, 0, 0.01, 0]")).hoops[0]
    assert hoop.outline.bow.cosines[0] == pytest.approx(-0.005)


def test_turns_count_meshes_of_the_hoop():
    assert lay_out(spec_of("turn = 3")).hoops[0].turn == pytest.approx(3 * 2 * math.pi / 16)


def test_a_hoop_turned_over_bows_the_other_way():
    kept, turned = (
        lay_out(spec_of(f"gaps = [0, 0.01, 0, 0.01]\nflip = {flip}")).hoops[0].outline.bow
        for flip in ("false", "true")
    )
    assert turned.cosines[0] == pytest.approx(-kept.cosines[0])
