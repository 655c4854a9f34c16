"""The main sizes: what a net has not got is not measured."""

import pytest

from net3d.chain import design
from net3d.spec import parse_spec
from net3d.tables.sizes import customer_facts
from tests.tables.nets import text


@pytest.mark.parametrize("tail", [None, 6.0])
def test_length_with_the_tail_is_said_where_there_is_one(tail):
    facts = dict(customer_facts(design(parse_spec(text("hand-tied", tail=tail)))))
    assert ("with the tail" in facts["Length"]) is (tail is not None)
    assert ("Tail" in facts) is (tail is not None)
