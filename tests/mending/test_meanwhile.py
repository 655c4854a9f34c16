"""A net with holes: how they open, whether it balances, who carries more, and as it is once mended."""

from dataclasses import replace

import numpy as np
import pytest

from net3d import design
from net3d.checks.checks import Level
from net3d.errors import SpecError
from net3d.mending import lattice_of, mended
from net3d.mending.meanwhile import without_bars
from net3d.mending.opening import opening_of
from net3d.mending.trail import numbered
from net3d.netting.netting import FREE
from net3d.plan.decreases import Edge, tie_down
from net3d.plan.joins import Row
from net3d.spec import parse_spec
from net3d.statics.equilibrium import find_equilibrium
from net3d.statics.loads import total_loads
from net3d.statics.solver import SolverLimits
from tests.nets import spec_text

PLAIN = lattice_of(tie_down(Edge(Row(20), 0.3, 0.05), (0,) * 14))
NET = {"around": 16, "diameters": (0.36, 0.36, 0.36), "deep": (4, 4)}
FISH = '[fish]\ngirth = ["0.35 m", "0.5 m"]\n'


def holed(hole, fish=FISH, **keys):
    return design(parse_spec(spec_text(**NET, **keys, extra=f"{fish}\n{hole}")))


@pytest.fixture(scope="module")
def torn():
    return holed('[[hole]]\nknots = ["4:5-6", "5:5-6"]\n')


@pytest.mark.closed_form
@pytest.mark.parametrize(("across", "deep"), [(1, 1), (3, 2), (2, 5), (6, 4)])
def test_a_block_opens_by_its_rim(across, deep):
    """E bars out around V knots: F = E - V + 1 meshes in one (Euler), 4 F - 2 E bars around them."""
    knots = {PLAIN.knot(4 + down, 18 + over) for down in range(deep) for over in range(across)}
    out = PLAIN.bars_at(knots)
    rim = 4 * (len(out) - len(knots) + 1) - 2 * len(out)
    assert opening_of(PLAIN, out, 0.05, (0.08, 0.08)).girth == pytest.approx(0.05 * rim)


@pytest.mark.closed_form
def test_a_bar_opens_two_meshes_and_a_hanging_one_does_not_close_them():
    """Two meshes of four bars less the one between; one more torn at its end leaves a third bar hanging."""
    at = PLAIN.knot(5, 3)
    bars = sorted(PLAIN.bars_at({at}))
    assert opening_of(PLAIN, {bars[0]}, 1.0, (1.0, 1.0)).girth == 6
    assert opening_of(PLAIN, set(bars[:3]), 1.0, (1.0, 1.0)).girth == 8  # as with all four out
    # At the hoop two half meshes: four bars less one, and two pitches of the hoop.
    assert opening_of(PLAIN, {0}, 1.0, (0.3, 1.0)).girth == pytest.approx(4 + 0.3 + 2 - 2)


@pytest.mark.law
def test_what_is_left_balances_and_bears_the_pull_through_every_row(torn):
    """Across every cut the bars that are left pull along the net with all of the pull."""
    netting, found, left = torn.netting, torn.torn.rests[0], ~torn.torn.gone
    assert found.residual < 1e-6
    ends = found.positions[netting.bars[left]]
    spans = ends[:, 1] - ends[:, 0]
    along = np.zeros(len(left))
    along[left] = found.tensions[left] * spans[:, 0] / np.linalg.norm(spans, axis=1)
    for part in torn.plan.sections:
        bars = netting.bars_of(part.part)
        pulled = np.bincount(netting.bar_rows[bars], along[bars])
        assert pulled == pytest.approx(np.full(part.bar_rows, netting.pull), rel=1e-5)
    assert torn.torn.gone.sum() == 13  # a block of two by two
    assert not found.tensions[torn.torn.gone].any()


@pytest.mark.law
def test_in_a_current_every_knot_balances_with_the_drag_of_what_is_left():
    """Tensions, weights and half of the drag of each bar at either end; what is torn drags nothing."""
    made = holed('[[hole]]\nknots = ["4:5-6", "5:5-6"]\n[water]\ncurrents = ["0.3 m/s", "1 m/s"]\n')
    still, flowing = made.torn.rests
    assert (still.current, flowing.current) == (0.0, 1.0)
    drag, left = made.loads[-1].standing.drag, ~made.torn.gone
    bars, net = made.netting.bars[left], total_loads(made.netting)
    spans = flowing.positions[bars[:, 1]] - flowing.positions[bars[:, 0]]
    pulls = flowing.tensions[left, None] * spans / np.linalg.norm(spans, axis=1)[:, None]
    for end, sign in ((0, 1), (1, -1)):
        np.add.at(net, bars[:, end], sign * pulls + drag.bar_forces[left] / 2)
    free = (made.netting.knot_carriers == FREE) & (np.bincount(bars.ravel(), minlength=len(net)) > 0)
    assert np.abs(net[free]).max() < 1e-5 * made.netting.pull
    assert np.abs(drag.bar_forces).sum() > 1.0
    told = {one.code: one for one in made.findings}["hole-bar"]
    assert told.message.startswith("At 1 m/s: Torn, the body")


def test_findings_tell_who_gets_through_and_name_the_bar_that_carries_most(torn):
    told = {one.code: one for one in torn.findings}
    opening, bar = told["hole-opening"], told["hole-bar"]
    assert opening.level is Level.FAIL
    assert opening.value == pytest.approx(14 * 0.05)  # 4 (13 - 4 + 1) - 2 x 13 bars around
    assert "all the fish you are after get through" in opening.message
    assert bar.level is Level.OK
    worst = int(np.argmax(torn.torn.rests[0].tensions * torn.netting.bars_that(lambda kind: kind.body)))
    lattice = torn.torn.holes[0].lattice
    upper, lower = (lattice.row_and_place(int(knot)) for knot in lattice.ends[worst])
    assert f"from {upper[0]}:{upper[1] + 1} to {lower[0]}:{lower[1] + 1}:" in bar.message
    assert torn.torn.rests[0].tensions[worst] > torn.shape.bar_tensions[worst]


def test_a_small_hole_lets_none_through_and_a_bar_that_parts_is_named():
    small = {one.code: one for one in holed('[[hole]]\nbars = ["4:5 to 5:5"]\n').findings}
    assert small["hole-opening"].level is Level.CAUTION  # 6 bars of 5 cm around, and fish of 35 and more
    hard = {one.code: one for one in holed('[[hole]]\nbars = ["4:5 to 5:5"]\n', pull=9000.0).findings}
    assert hard["hole-bar"].level is Level.FAIL
    assert "it parts next, and the hole grows" in hard["hole-bar"].message


@pytest.mark.law
def test_a_net_that_was_mended_hangs_as_the_whole_one(torn):
    """Bars are taken out as torn and cut, and knit again one by one along the twine's way."""
    netting, own = torn.netting, torn.torn.bars[0]
    way = mended(torn.torn.holes[0]).way
    gone = np.zeros(len(netting.bars), dtype=bool)
    gone[own[sorted(way.trim.bars)]] = True
    cut = without_bars(netting, gone)
    lattice = torn.torn.holes[0].lattice
    knots = dict(zip(lattice.ends.ravel().tolist(), netting.bars[own].ravel().tolist(), strict=True))
    knit = np.array([[knots[a], knots[b]] for a, b in zip(way.knots, way.knots[1:], strict=False)])
    like = int(own[0])
    rows = {
        name: np.append(getattr(cut, name), np.full(len(knit), getattr(netting, name)[like]))
        for name in vars(cut)
        if name.startswith("bar_")
    }
    whole = replace(
        cut,
        bars=np.concatenate([cut.bars, knit]),
        carriers=netting.carriers,
        knot_carriers=netting.knot_carriers,
        **rows,
    )
    found = find_equilibrium(whole, total_loads(whole), SolverLimits())
    pulls = dict(zip(map(frozenset, whole.bars.tolist()), found.tensions, strict=True))
    again = np.array([pulls[frozenset(ends)] for ends in netting.bars.tolist()])
    assert again == pytest.approx(torn.shape.bar_tensions, rel=1e-4, abs=1e-4)


def test_what_hangs_on_nothing_falls_out_with_the_hole():
    """All bars around a knot and its four neighbours are torn: the four between them go too."""
    whole = lattice_of(tie_down(Edge(Row(16), 0.17, 0.05), (0,) * 16))
    own = whole.bars_at({whole.knot(6, 4)})
    around = whole.bars_at(set(whole.ends[sorted(own)].ravel().tolist())) - own
    names = [" to ".join(numbered(whole, tuple(whole.ends[bar].tolist()))) for bar in sorted(around)]
    made = holed(f"[[hole]]\nbars = {names}\n")
    assert (len(made.torn.holes[0].bars), made.torn.gone.sum()) == (12, 16)
    assert made.torn.rests[0].residual < 1e-6


def test_what_is_no_knot_of_the_net_is_told_with_its_hole():
    with pytest.raises(SpecError) as refused:
        holed('[[hole]]\nknots = ["99:1"]\nbars = ["4:5 to 9:9"]\n[[hole]]\nhoop = 2\nknots = ["1:17"]\n')
    for words in ("hole[1]: '99:1': there is no row 99", "no bar from 4:5 to 9:9", "row 1 has knots 1 to 16"):
        assert words in str(refused.value)


@pytest.mark.parametrize(
    ("hole", "words"),
    [
        ("throat = 2\nknots = ['1:1']", "hole[1].throat: there is no throat 2: the net has 0"),
        ("hoop = 7\nknots = ['1:1']", "hole[1].hoop: there is no hoop 7: the net has 3"),
        ("hoop = 1", "hole[1]: nothing is torn"),
        ("knots = ['here']", "is no row and knot"),
        ("bars = ['1:2']", "is no bar"),
    ],
)
def test_messages(hole, words):
    with pytest.raises(SpecError) as refused:
        parse_spec(spec_text(**NET, extra=f"[[hole]]\n{hole}\n"))
    assert words in str(refused.value)


def test_rows_are_counted_from_the_hoop_that_is_named(torn):
    other = holed('[[hole]]\nhoop = 2\nknots = ["2:5"]\n')
    first = holed('[[hole]]\nknots = ["10:5"]\n')
    assert other.torn.holes[0].bars == first.torn.holes[0].bars
