"""Order of work: which hoop comes when, and with which numbers."""

import re

import pytest

from net3d.chain import design
from net3d.shop import hoop_marks
from net3d.spec import parse_spec, vary
from net3d.tables.steps import steps
from tests.tables.nets import text, throat


def laced(made):
    """Numbers of the hoops in the order in which they are laced."""
    return [
        int(re.match(r"Lace hoop (\d+)", step.work)[1])
        for step in steps(made)
        if step.work.startswith("Lace hoop")
    ]


@pytest.mark.parametrize(("start", "order"), [("tail", [3, 2, 1]), ("mouth", [1, 2, 3])])
def test_hoops_are_laced_from_the_end_the_maker_starts_at(start, order):
    assert laced(design(parse_spec(f'start = "{start}"\n{text("hand-tied")}'))) == order


@pytest.fixture(scope="module")
def made():
    tables = (throat(hoop=2, deep=6.0, tip=14), "[stock]\ndipped = false")
    return design(parse_spec(text("hand-tied", *tables, deep=(5.5, 6), tail=6.0)))


def test_every_hoop_says_how_far_it_is_from_the_last(made):
    """6 meshes between hoops 3 and 2, 5 1/2 between 2 and 1: rows 23, 11 and 0 (arithmetic)."""
    numbers = [step.numbers for step in steps(made) if step.work.startswith("Lace hoop")]
    assert numbers[0].startswith("row 23, 40 knots, the first half a pitch off")
    assert numbers[1].startswith("row 11, 6 meshes from hoop 3; 40 knots, the first half a pitch off")
    assert numbers[2].startswith("row 0, 5.5 meshes from hoop 2; 40 knots, the first on the mark; 3 hitches")


def test_a_throat_is_laced_through_both_layers_with_its_hoop(made):
    (step,) = [step for step in steps(made) if step.work.startswith("Lace hoop 2")]
    assert step.work == "Lace hoop 2: body and throat 1, every hitch through both layers."


def test_bare_hoops_come_first_and_setting_the_net_last(made):
    work = [step.work for step in steps(made)]
    places = [
        next(place for place, text in enumerate(work) if words in text)
        for words in (
            "Number the hoops",
            "Mark every hoop",
            "Knit the body",
            "Hang hoop 3",
            "Lace hoop 3",
            "drawstring",
            "anchor line",
            "Stretch the net:",
            "Measure ten meshes",
            "Tie throat 1",
            "Stretch the net out",
            "Look it over",
            "Set it",
        )
    ]
    assert places == sorted(places)
    assert not any("Dip the net" in text for text in work)


def test_the_first_hoop_is_held_loosely_in_three_places(made):
    """Common practice, no source."""
    (step,) = [step for step in steps(made) if step.work.startswith("Hang hoop")]
    assert "3 places" in step.work


def test_strings_are_given_knot_to_knot(made):
    (step,) = [step for step in steps(made) if "Tie throat 1" in step.work]
    assert step.numbers.startswith("14 strings, ")
    assert f"{made.shape.throats[0].string_length:.3f} m" in step.numbers


def test_each_hoop_is_marked_once(made, monkeypatch):
    """The order of work asks for every hoop's marks once, and not for all of them at every hoop."""
    asked = []
    marks_on = hoop_marks.marks_on

    def counted(spec, plan, hoop):
        asked.append(hoop.number)
        return marks_on(spec, plan, hoop)

    monkeypatch.setattr(hoop_marks, "marks_on", counted)
    assert steps(made)
    assert asked == [hoop.number for hoop in made.plan.hoops]


def test_old_lacing_is_cut_off_hoops_that_were_in_a_net_and_no_others(made):
    assert not any("old lacing" in step.work for step in steps(made))
    used = design(vary(made.spec, {"hoop.2.have": True}))
    (step,) = [step for step in steps(used) if "old lacing" in step.work]
    assert step.numbers == "hoop 2"
    assert "burn" in step.caution.lower() or "knife" in step.caution.lower()
