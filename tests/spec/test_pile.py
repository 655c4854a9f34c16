"""Spare hoops in the spec: the same keys and the same mistakes as the net's own hoops."""

import pytest

from net3d.errors import SpecError
from net3d.spec import parse_spec
from tests.nets import spec_text

PILE = '\n[[pile]]\ndiameter = 0.25\nrod = 0.01\nmaterial = "fibreglass"\n'


def test_spare_hoops_are_named_and_measured():
    named = PILE + 'name = "the red one"\ngaps = [0, 0.01, 0, 0.01]\n'
    spec = parse_spec(spec_text() + PILE + named)
    assert [hoop.name for hoop in spec.pile] == ["spare 1", "the red one"]
    assert spec.pile[1].gaps == (0, 0.01, 0, 0.01)
    assert [hoop.name for hoop in spec.hoops][:2] == ["hoop 1", "hoop 2"]


def test_a_place_takes_hoops_within_a_fiftieth_unless_told():
    spec = parse_spec(spec_text())
    assert spec.hoops[0].within == pytest.approx(spec.hoops[0].diameter / 50)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (PILE.replace("0.25", '0.25\ncircumference = "0.8"'), "say the same thing"),
        (PILE.replace("diameter = 0.25\n", ""), "pile[1]: diameter or circumference is missing"),
        (PILE.replace("0.01", "0.2"), "pile[1].rod: a rod of"),
        (PILE + "gaps = [0, 0.01, 0]\n", "pile[1].gaps: 3 measures do not show a shape"),
        (PILE + "turn = 3\n", "turn"),
        (PILE.replace("fibreglass", "fibreglas"), "pile[1].material"),
    ],
)
def test_mistakes_on_the_pile_are_told_with_their_place(wrong, said):
    with pytest.raises(SpecError) as told:
        parse_spec(spec_text() + wrong)
    assert said in str(told.value)
