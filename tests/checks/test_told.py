"""What is so at several places is told and counted once; what differs is not put together."""

from net3d.checks.checks import Finding, Level
from net3d.checks.told import told_once


def finding(where, words, level=Level.OK, code="a"):
    return Finding(code, level, where, f"{where.capitalize()}{words}", 0.0, 0.0, "")


def told(*findings):
    return [(one.where, one.message) for one in told_once(findings)]


def test_the_same_of_several_hoops_is_one():
    assert told(*(finding(f"hoop {number}", ": it is fine.") for number in range(1, 6))) == [
        ("hoops 1 to 5", "Hoops 1 to 5: it is fine.")
    ]


def test_the_same_said_twice_of_one_hoop_is_one():
    both = finding("hoop 1", ": fine.", code="low"), finding("hoop 1", ": fine.", code="high")
    assert told(*both) == [("hoop 1", "Hoop 1: fine.")]


def test_sections_and_places_that_are_not_in_a_row_are_named():
    assert told(finding("hoops 1 to 2", " hang."), finding("hoops 3 to 4", " hang.")) == [
        ("hoops 1 to 2 and 3 to 4", "Hoops 1 to 2 and 3 to 4 hang.")
    ]
    assert told(finding("hoop 1", "."), finding("hoop 4", "."))[0][0] == "hoops 1 and 4"


def test_other_words_and_other_levels_stay_apart():
    ones = (finding("hoop 1", " a."), finding("hoop 2", " b."), finding("hoop 3", " a.", Level.FAIL))
    assert len(told(*ones)) == 3
