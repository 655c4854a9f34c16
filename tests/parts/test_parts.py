"""A part's name, its title, and the refusal of a kind that nobody knows."""

import pytest

from net3d.errors import PartError
from net3d.parts import ANCHOR_LINE, BRIDLE, KINDS, TAIL, Part

NAMES = {  # as files have held them from the first: they are read by scripts, and never change
    Part.hoop(3): "hoop-3",
    Part.section(9, 10): "section-9-10",
    TAIL: "tail",
    Part.rib(1, 2): "rib-1-2",
    Part.throat(1): "throat-1",
    Part.strings(1): "strings-1",
    Part("wing", (2,)): "wing-2",
    Part("wing-lines", (2,)): "wing-lines-2",
    Part("wing-floats", (2,)): "wing-floats-2",
    Part("wing-leads", (2,)): "wing-leads-2",
    Part("wing-ends", (2,)): "wing-ends-2",
    Part("leader"): "leader",
    Part("leader-lines"): "leader-lines",
    Part("leader-floats"): "leader-floats",
    Part("leader-leads"): "leader-leads",
    Part("leader-ends"): "leader-ends",
    Part("second-net"): "second-net",
    Part("escape", (1,)): "escape-1",
    Part("escape-lacing", (1,)): "escape-lacing-1",
    Part("escape-lines", (2,)): "escape-lines-2",
    Part("escape-seam", (1,)): "escape-seam-1",
    Part("escape-floats", (2,)): "escape-floats-2",
    Part("chimney", (1,)): "chimney-1",
    BRIDLE: "bridle",
    ANCHOR_LINE: "anchor-line",
}


def test_names_in_outputs_stay():
    assert {part: part.name for part in NAMES} == NAMES
    assert {part.word for part in NAMES} == set(KINDS)
    assert [Part.section(1, 2).title, ANCHOR_LINE.title] == ["section 1 to 2", "anchor line"]


def test_an_unknown_kind_is_refused_by_name():
    with pytest.raises(PartError, match=r"'apron'.*hoop, section.*net3d.parts.kinds"):
        Part("apron", (1,))


def test_a_row_stands_under_its_own_word():
    assert all(word == kind.word and kind.title for word, kind in KINDS.items())


def test_colours_of_one_name_are_one_colour():
    for looks in ([kind.paint for kind in KINDS.values()], [kind.material for kind in KINDS.values()]):
        assert len({look.name for look in looks}) == len(set(looks))
