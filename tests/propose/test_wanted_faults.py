"""What is wrong with a list of what is wanted is told where it stands."""

import re

import pytest

from net3d.errors import SpecError
from tests.propose.lists import SMALL, read


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("diameter = 14", "diamter = 14", r"did you mean diameter"),
        ('stretched = ["3 1/2"]', "", "give the meshes as stretched or as bar"),
        ('"room"', '"size"', "room"),
        ('units = "in"', 'units = "span"', '"span" is not known here: write "in"'),
        ('title = "Wanted"', 'title = "Wanted"\nhoop = 3', "hoop: is not a key known here"),
        ('"room"', '"rom"', "did you mean room"),
        ("hoops_min = 2", "hoops_min = 5", "fewest 5, most 3"),
        ("#15", "#15x", "not in the twine table"),
        ("[want]", "[want]\nspend = 100", r"with \[prices\] only"),
        ("[want]", "[fish]\nlength = 12\n[want]", "girth is missing"),
        ("longest = 32", 'longest = "32 lbf"', "measures a force"),
        ("diameter = 14", 'shape = "square"', "told by one of"),
        ("diameter = 14", "diameter = 14\nwidth = 12", "a round hoop has no width"),
        (
            "diameter = 14",
            'shape = "square"\nwidth = 12\ncorner = 9',
            "a corner of 9 in outside",
        ),
        ("diameter = 14", 'shape = "square"\nwidth = 12\ngaps = [0, 1, 0, 1]', "for round hoops"),
        ("[want]", "[rigging]\nrope = 1\n[[rope]]\nsize = 1\nlength = 9\n[want]", r"from \[\[rope\]\]"),
    ],
)
def test_faults_of_a_list_are_told_with_their_line(old, new, said, tmp_path):
    with pytest.raises(SpecError, match=said) as error:
        read(SMALL.replace(old, new), tmp_path)
    assert re.search(r"line \d+", str(error.value))


def test_a_list_without_hoops_is_refused(tmp_path):
    text = SMALL[: SMALL.index("[[pile]]")] + "[want]\nthroats = 0\n"
    with pytest.raises(SpecError, match="pile: is missing"):
        read(text, tmp_path)
