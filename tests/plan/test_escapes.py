"""Ways out: which knots are cut, how lines stand across the mouth, and what is refused."""

from collections import Counter
from math import pi, sqrt

import numpy as np
import pytest

from net3d.errors import SpecError
from net3d.netting import tie
from net3d.outline.waves import Waves
from net3d.plan import lay_out
from net3d.shop.amounts import amounts
from net3d.shop.costing import shopping
from net3d.spec import parse_spec
from tests.nets import ROD, spec_text

NET = {"around": 36, "stretched": 0.15, "diameters": (0.9, 0.9, 0.9), "deep": (7, 7), "tail": 8}
HOLE = '[[escape]]\nkind = "hole"\nbehind = 1\nwidth = 0.28\nheight = 0.2\n'
MOUTH = 0.9 - 2 * ROD  # inside its rod, where what is tied to it sits


def planned(extra, **keys):
    spec = parse_spec(spec_text(**{**NET, **keys}, extra=extra))
    return spec, lay_out(spec)


@pytest.mark.closed_form
def test_knots_within_the_frame_are_cut_and_what_is_left_is_laced():
    """28 by 20 cm in meshes that hang 7.5 cm wide and 6.5 cm from row to row, the top knot in their middle.

    Row 7 is the middle of 14, its knots half a pitch off the top as every odd row's: four stand 3.8 and
    11.3 cm from the middle, and three of rows 6 and 8 at 0 and 7.5 cm. Of 10 knots in a block of 4, 3 and 3
    with 12 bars between them 40 - 12 = 28 bars end there. Two knots above, two below, and the neighbours of
    rows 6, 7 and 8 lose some: 12.
    """
    spec, plan = planned(HOLE)
    (one,) = plan.escapes[0].apertures
    assert Counter(row for row, _ in one.cut) == {6: 3, 7: 4, 8: 3}
    assert (one.bars, len(one.rim)) == (28, 12)
    assert plan.escapes[0].frame == pytest.approx(0.96)
    netting, whole = tie(spec, plan), tie(*planned(""))
    body = [int(one.bars_that(lambda kind: kind.body).sum()) for one in (whole, netting)]
    assert body[0] - body[1] == 28
    assert len(whole.knot_rows) - 10 + 16 == len(netting.knot_rows)  # 12 places of lacing and 4 corners


@pytest.mark.closed_form
def test_a_panel_is_sewn_where_the_hole_is_cut_but_for_its_side_toward_the_mouth():
    """Of the 40 bars of the same 10 knots 24 are 12 between them, and 6 the two over each knot of row 6."""
    _, plan = planned(HOLE.replace('"hole"', '"panel"'))
    seam = plan.escapes[0].seam
    assert len(seam) == 40 - 24 - 6
    assert min(row for bar in seam for row, _ in bar) == 6
    assert not plan.escapes[0].apertures


@pytest.mark.closed_form
def test_lines_across_the_mouth_are_chords_no_farther_apart_than_typed():
    """Upright lines at y: ``2 sqrt(r^2 - y^2)`` long."""
    _, plan = planned('[[escape]]\nkind = "bars"\napart = 0.1\n')
    lines, radius = plan.escapes[0], MOUTH / 2
    count = len(lines.line_lengths)
    gap = MOUTH / (count + 1)
    assert gap <= 0.1 < MOUTH / count
    wanted = [2 * sqrt(radius**2 - (-radius + number * gap) ** 2) for number in range(1, count + 1)]
    assert lines.line_lengths == pytest.approx(wanted, rel=1e-4)
    assert lines.apart == pytest.approx(gap, rel=1e-4)
    _, guarded = planned('[[escape]]\nkind = "guard"\napart = 0.1\n')
    assert guarded.escapes[0].line_lengths == pytest.approx(wanted * 2, rel=1e-4)


@pytest.mark.closed_form
def test_the_middle_line_of_a_bowed_mouth_is_its_height():
    """A line through the place where the outline starts and ends; across a bow it is ``h`` less the rod."""
    spec = spec_text(**NET, extra='[[escape]]\nkind = "guard"\napart = 0.25\n')
    bowed = [f"across = [0.9, {across}]" for across in (0.88, 0.89, 0.91)]
    plans = [lay_out(parse_spec(spec.replace("[[hoop]]", f"[[hoop]]\n{one}", 1))) for one in bowed]
    for plan in plans:
        lines, outline = plan.escapes[0], plan.hoops[0].outline
        height, width = np.ptp(outline.points(np.linspace(0, 2 * pi, 361), ROD)[:, 1:], axis=0)[::-1]
        assert len(lines.line_lengths) == 6
        assert [lines.line_lengths[middle] for middle in (1, 4)] == pytest.approx([height, width], rel=1e-4)


def test_many_lines_cost_no_more_looks_at_the_mouth_than_few(monkeypatch):
    """Of a mouth of hundreds of readings each look takes seconds, where its way around is summed anew."""
    looks, at = [], Waves.at
    monkeypatch.setattr(Waves, "at", lambda own, angles: looks.append(1) or at(own, angles))
    spec = spec_text(**NET).replace("[[hoop]]", "[[hoop]]\nacross = [0.9, 0.89]", 1)
    counts = []
    for apart in (0.25, 0.02):
        looks.clear()
        lay_out(parse_spec(f'{spec}\n[[escape]]\nkind = "guard"\napart = {apart}\n'))
        counts.append(len(looks))
    assert counts[0] == counts[1] > 0


@pytest.mark.closed_form
def test_rings_are_spread_evenly_around():
    _, plan = planned('[[escape]]\nkind = "rings"\nbehind = 2\ninside = 0.2\npieces = 3\nturn = 0.125\n')
    openings = plan.escapes[0].apertures
    assert [one.angle for one in openings] == pytest.approx([(0.125 + n / 3) * 2 * pi for n in range(3)])
    for one in openings:
        assert np.hypot(*one.seats.T) == pytest.approx(0.1, rel=1e-4)


@pytest.mark.closed_form
def test_what_a_chimney_takes():
    """12 meshes around, 8 cm from knot to knot: a row of bars stands sqrt(7.5^2 - 4^2) = 6.34 cm high."""
    spec, plan = planned(HOLE.replace('"hole"', '"chimney"') + "high = 0.3\n")
    tube = plan.escapes[0].chimney
    assert (tube.around, tube.rows, tube.knots) == (12, 5, 60)
    listed = {one.item: one for one in amounts(spec, plan)}
    assert listed["escape_frame"].pieces == 2
    assert listed["escape_frame"].length == pytest.approx(0.96)
    bought = {one.item: one.need for one in shopping(spec, plan)}
    assert (bought["escape_frame"], bought["floats"]) == (2, 1)


@pytest.mark.parametrize(
    ("extra", "words"),
    [
        ('[[escape]]\nkind = "hole"\nbehind = 1\n', ("escape[1].width: is missing", "escape[1].height: is")),
        ('[[escape]]\nkind = "bars"\nhigh = 1\napart = 0.1', ("escape[1].high: does not go with bars",)),
        ('[[escape]]\nkind = "gate"', ("escape[1].kind",)),
        (HOLE.replace("behind = 1", "behind = 3"), ("escape[1].behind: there are no hoops on both sides",)),
        (
            HOLE.replace("0.2\n", "0.8\n"),
            ("escape[1].height: between hoops 1 and 2 an opening is 0.064 m to",),
        ),
        (HOLE.replace("0.28", "0.9"), ("escape[1].width: between hoops 1 and 2",)),
        (HOLE + HOLE.replace("0.2\n", "0.01\n"), ("escape[2].height",)),
        (HOLE + HOLE.replace("hole", "panel"), ("escape[2].turn: it stands where escape 1 does",)),
        (
            '[[escape]]\nkind = "rings"\nbehind = 1\ninside = 0.25\npieces = 18\n',
            ("escape[1].pieces: so many do not fit",),
        ),
    ],
)
def test_messages(extra, words):
    with pytest.raises(SpecError) as refused:
        planned(extra)
    for one in words:
        assert one in str(refused.value)
