"""Steps between texts lead there and back, whatever the texts are."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from net3d.workshop.steps import MOST, Step, Steps

TEXTS = st.text(alphabet="ab\n", max_size=12)


@pytest.mark.law
@given(TEXTS, TEXTS)
def test_a_step_leads_from_one_text_to_the_other_and_back(one, other):
    step = Step.between(one, other)
    assert step.taken(one) == other
    assert step.back.taken(other) == one


@pytest.mark.law
@given(st.lists(TEXTS, min_size=2, max_size=8))
def test_all_steps_can_be_undone_and_taken_again_also_from_a_draft(texts):
    steps = Steps()
    for before, after in itertools.pairwise(texts):
        steps.take(before, after)
    steps = Steps.read(steps.plain())
    text, back = texts[-1], []
    for _ in texts[1:]:
        text = steps.undo(text)
        back.append(text)
    assert back == texts[-2::-1]
    assert steps.undo(text) == text
    for after in texts[1:]:
        text = steps.redo(text)
        assert text == after
    assert steps.redo(text) == text


def test_so_many_steps_are_remembered_and_no_more():
    steps, few = Steps(), MOST + 7
    for number in range(few):
        steps.take(str(number), str(number + 1))
    assert len(steps.taken) == MOST
    assert steps.undo(str(few)) == str(few - 1)


def test_a_step_does_not_fit_another_text():
    with pytest.raises(ValueError, match="does not fit"):
        Step.between("abc", "axc").taken("azc")
