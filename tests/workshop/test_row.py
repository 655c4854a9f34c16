"""What is done to the row of hoops: netting between them, throats and strings go along."""

import pytest

from net3d.errors import SpecError
from net3d.spec import parse_spec, vary
from net3d.spec.edit import each_standing
from net3d.workshop.row import row_changes
from tests.nets import spec_text

DIAMETERS = (0.4, 0.38, 0.36, 0.34)
THROATS = [
    {"hoop": 1, "deep": 3, "tip": 6, "strings": {"to_hoop": 3}},
    {"hoop": 3, "deep": 2, "tip": 6, "strings": {"to_tail": True}},
]


@pytest.fixture(scope="module")
def spec():
    return parse_spec(spec_text(diameters=DIAMETERS, deep=(3, 4, 5), tail=4, throats=THROATS))


def row(spec):
    """Diameters, meshes between, and the hoops that throats and their strings are on."""
    typed = spec.source.typed
    hoops = [table["diameter"] for table, _ in each_standing("hoop", typed["hoop"])]
    throats = [(one["hoop"], one.get("strings", {}).get("to_hoop")) for one in typed["throat"]]
    return hoops, typed["sections"]["deep"], throats


# Expected rows are written out by hand from what the words say.
@pytest.mark.parametrize(
    ("deed", "hoop", "expected"),
    [
        ("copy", 2, ([0.4, 0.38, 0.38, 0.36, 0.34], [3, 4, 4, 5], [(1, 4), (4, None)])),
        ("copy", 4, ([0.4, 0.38, 0.36, 0.34, 0.34], [3, 4, 5, 5], [(1, 3), (3, None)])),
        ("up", 2, ([0.38, 0.4, 0.36, 0.34], [3, 4, 5], [(1, 3), (3, None)])),
        ("down", 3, ([0.4, 0.38, 0.34, 0.36], [3, 4, 5], [(1, 3), (3, None)])),
        ("away", 2, ([0.4, 0.36, 0.34], [3, 5], [(1, 2), (2, None)])),
        ("about", 1, ([0.34, 0.36, 0.38, 0.4], [5, 4, 3], [(1, 3), (3, None)])),
    ],
)
def test_what_is_done_to_a_hoop(spec, deed, hoop, expected):
    assert row(vary(spec, row_changes(spec.source.typed, deed, hoop))) == expected


@pytest.mark.parametrize(("deed", "hoop"), [("up", 1), ("down", 4), ("copy", 5), ("copy", 0), ("melt", 1)])
def test_what_cannot_be_done_is_refused(spec, deed, hoop):
    with pytest.raises(SpecError, match="hoop"):
        row_changes(spec.source.typed, deed, hoop)


def test_a_hoop_with_a_throat_is_not_taken_away(spec):
    with pytest.raises(SpecError, match="throat 2 is laced to hoop 3"):
        row_changes(spec.source.typed, "away", 3)
