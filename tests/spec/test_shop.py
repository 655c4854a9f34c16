"""The shop's tables: what is refused, and in which words."""

import pytest

from net3d.errors import SpecError
from net3d.plan import lay_out
from net3d.spec import parse_spec
from tests.tables.nets import text, throat


def problems(spec):
    with pytest.raises(SpecError) as refused:
        parse_spec(spec)
    return [str(problem) for problem in refused.value.problems]


@pytest.mark.parametrize(
    ("tables", "said"),
    [
        ([throat(panels=3)], "throat[1].panels: 3 is not allowed here: it must be 1, 2 or 4"),
        (['[lacing]\ntwine = "#31"'], "lacing.twine: '#31' is not in the twine table; the nearest are '#30'"),
        (["[lacing]\nhitches = 0"], "lacing.hitches: 0 is not allowed here"),
        (["[lacing]\nhitch = 2"], "did you mean hitches?"),
        (
            ["[stock]\nwebbing_across = 200\nwebbing_deep = 100"],
            "stock.webbing_deep: webbing_across is given too",
        ),
        (
            ['[stock]\nspool = "3 ft"'],
            "stock.spool: '3 ft' is in ft, which measures a length; this is a weight",
        ),
        (["[prices]\nknots_per_hour = 0"], "prices.knots_per_hour: 0 is not allowed here"),
        (["[prices]\nhour = -1"], "prices.hour: -1 is not allowed here"),
    ],
)
def test_what_is_refused(tables, said):
    (problem,) = problems(text("hand-tied", *tables))
    assert said.replace("'", '"') in problem.replace("'", '"')


def test_an_unknown_end_to_start_from():
    (problem,) = problems('start = "middle"\n' + text("hand-tied"))
    assert "tail" in problem
    assert "mouth" in problem


def test_seams_that_cannot_take_a_throat_say_what_would():
    """36 meshes to lose over 16 rows, and a seam takes one a row (arithmetic): two seams cannot."""
    with pytest.raises(SpecError, match="more panels") as refused:
        lay_out(parse_spec(text("sheet", throat(tip=4, deep=8.0, panels=2))))
    assert "hand-tied" in str(refused.value)


def test_how_things_are_sold_depends_on_the_units():
    inch, metric = (parse_spec(text("hand-tied", units=units)).stock for units in ("ft", "m"))
    assert inch.spool == pytest.approx(0.45359237)
    assert metric.spool == 0.5
