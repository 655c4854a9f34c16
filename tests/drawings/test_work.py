"""Figures of the work: what crosses over what, and that their words can be read.

How hitches, strings and drawstrings run is common practice, no source.
"""

from pathlib import Path

import numpy as np
import pytest

from net3d.drawings.figure import HEIGHT, WIDTH, figure_svg
from net3d.drawings.strands import Strand, crossings
from net3d.drawings.work import knitting_figures, lacing_figures, throat_figure
from net3d.drawings.work_hoops import Gear, body_hitch, throat_hitch
from net3d.drawings.work_knots import double_bend_strands, drawstring, sheet_bend_strands, square_line
from tests.nets import SAMPLES, sample

SPECS = sorted((Path(__file__).parents[2] / "specs").glob("*.toml"))
GEAR = Gear(0.0095, 0.0015, 0.0018, 2)


def passes(strands, number):
    """What a strand does at each of its crossings, in order: o(ver) or u(nder), and which strand it meets."""
    found = []
    for one in crossings(strands):
        if one.over == number:
            found.append((one.over_at, f"o{one.under}"))
        if one.under == number:
            found.append((one.under_at, f"u{one.over}"))
    return [text for _, text in sorted(found)]


def alexander(closed):
    """The Alexander polynomial of a closed curve at 2, 3 and 4, up to sign and powers of these.

    One row for each crossing, one column for each arc from one passage under to the next: 1 - t at the arc
    that passes over, t and -1 at those that come in and go out, as the crossing turns. A minor of that matrix
    is the polynomial (Alexander 1928).
    """
    curve = Strand("closed", closed, 1.0)
    found = crossings([curve])
    ways = np.diff(closed[:, :2], axis=0)
    under = sorted(one.under_at for one in found)
    arc = lambda at: int(np.searchsorted(under, at)) % len(under)  # noqa: E731
    values = []
    for t in (2, 3, 4):
        rows = np.zeros((len(found), len(found)))
        for row, one in zip(rows, found, strict=True):
            over, below = ways[int(one.over_at)], ways[int(one.under_at)]
            comes, goes = arc(one.under_at - 1e-9), arc(one.under_at + 1e-9)
            if over[0] * below[1] - over[1] * below[0] < 0:
                comes, goes = goes, comes
            row[arc(one.over_at)] += 1 - t
            row[comes] += t
            row[goes] -= 1
        value = abs(round(np.linalg.det(rows[1:, 1:])))
        while value % t == 0:
            value //= t
        values.append(value)
    return values


def bowline():
    """The sheet bend with a leg of the loop joined to the twine as a bowline's eye, and then its ends."""
    loop, twine = (one.places for one in sheet_bend_strands(1.0))
    eye = [(12, -12, 0), (12, 16, 0), (-9, 16, 0)]
    ends = [(6, 20, 3), (6, 30, 3), (-20, 30, 0), (-20, -12, 0), loop[0]]
    path = [loop, np.array(eye, float), twine, [(6.0, 12.0, 3.0)], np.array(ends, float)]
    return np.concatenate([np.asarray(part, float) for part in path])


@pytest.mark.published(
    source="V. Schatz, Knotty topics, volkerschatz.com: common knots in the table of knots"
)
def test_the_sheet_bend_tied_as_a_bowline_is_the_knot_of_the_table():
    """A bowline with its ends joined is 6_3; its polynomial 1 - 3 t + 5 t^2 - 3 t^3 + t^4, from memory."""
    expected = [1 - 3 * t + 5 * t**2 - 3 * t**3 + t**4 for t in (2, 3, 4)]
    assert alexander(bowline()) == expected


@pytest.mark.closed_form
def test_the_polynomial_of_the_trefoil_is_that_of_every_book():
    """1 - t + t^2, and the figure of eight's 1 - 3 t + t^2 (Alexander 1928): by their usual equations."""
    s = np.linspace(0, 2 * np.pi, 400)
    trefoil = np.column_stack([np.sin(s) + 2 * np.sin(2 * s), np.cos(s) - 2 * np.cos(2 * s), -np.sin(3 * s)])
    eight = np.column_stack(
        [(2 + np.cos(2 * s)) * np.cos(3 * s), (2 + np.cos(2 * s)) * np.sin(3 * s), np.sin(4 * s)]
    )
    assert alexander(trefoil + 1e-7 * s[:, None]) == [1 - t + t**2 for t in (2, 3, 4)]
    assert alexander(eight + 1e-7 * s[:, None]) == [abs(1 - 3 * t + t**2) for t in (2, 3, 4)]


def test_a_sheet_bend_goes_up_through_the_loop_round_it_and_under_itself():
    """Up from under the loop; over a leg, behind both; back over a leg, under itself, over the other."""
    strands = sheet_bend_strands(2.0)
    assert passes(strands, 1) == ["u0", "o1", "o0", "u0", "u0", "o0", "u1", "o0"]
    assert passes(strands, 0).count("o1") == passes(strands, 0).count("u1") == 3


def test_a_double_bend_goes_round_and_under_itself_twice():
    strands = double_bend_strands(2.0)
    own = passes(strands, 1)
    assert own.count("u1") == 3  # twice under its own part in front, and once more where it turns behind
    behind = "".join(own).count("u0u1u0") + "".join(own).count("u0u0")
    assert behind >= 2


@pytest.mark.parametrize("figure", [drawstring(), square_line()], ids=lambda figure: figure.name)
def test_a_line_goes_through_every_loop_the_same_way(figure):
    loops = [one for one in figure.strands if one.name.startswith("loop")]
    (line,) = [one for one in figure.strands if one.name in {"drawstring", "line"}]
    for loop in loops:
        assert passes((line, loop), 0) == ["u1", "o1"]


def test_hitches_go_round_the_rod_on_either_side_of_the_knot():
    """From above the rod to below it behind, then up in front under its own part, on both sides."""
    strands = body_hitch(GEAR).strands
    (rod,) = [one for one in strands if one.name == "rod"]
    (lacing,) = [one for one in strands if one.name == "lacing"]
    behind = lacing.places[lacing.places[:, 2] < rod.places[0, 2]]
    assert behind[:, 1].min() < -rod.width / 2 + 1 < rod.width / 2 - 1 < behind[:, 1].max()
    assert behind[:, 0].min() < 0 < behind[:, 0].max()
    assert passes((lacing,), 0).count("u0") >= 2


def test_a_hitch_at_a_throat_lies_over_body_and_throat():
    strands = throat_hitch(GEAR).strands
    (lacing,) = [one for one in strands if one.name == "lacing"]
    for name in ("body", "throat"):
        layers = [one for one in strands if one.name == name]
        assert "o1" in [text for layer in layers for text in passes((lacing, layer), 0)]


@pytest.mark.parametrize("name", SAMPLES)
def test_a_net_shows_the_figures_of_its_own_work_whole(name):
    net = sample(name)
    figures = [*knitting_figures(net), *lacing_figures(net), *map(throat_figure, net.plan.throats)]
    names = {figure.name for figure in figures}
    assert ("sheet-bend" in names) == (net.spec.netting.made != "sheet")
    assert ("throat-hitch" in names) == bool(net.plan.throats)
    assert ("eye-splice" in names) == (net.spec.rigging.bridle is not None)
    assert {"body-hitch", "netting-inside", "held-in-three"} <= names
    for figure in figures:
        assert figure_svg(figure).startswith("<svg")
        for words in figure.words:
            left, top, right, bottom = words.box
            assert left >= -WIDTH / 2, words.text
            assert right <= WIDTH / 2, words.text
            assert -HEIGHT / 2 - 0.6 <= top < bottom <= HEIGHT / 2, words.text
