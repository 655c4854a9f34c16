"""Nets with ways out, solved: what an opening does to the pull, by another solver too; lifts; findings."""

import cvxpy as cp
import numpy as np
import pytest

import net3d
from net3d.checks.checks import Level
from net3d.handbook.escapes import trials
from net3d.netting.netting import FREE
from net3d.parts import TAIL, Part
from net3d.spec import parse_spec
from net3d.statics.loads import total_loads
from tests.facts import facts
from tests.nets import Net, spec_text, straight

SMALL = {"around": 16, "diameters": (0.36, 0.36), "deep": (5,), "tail": 5}
HOLE = '[[escape]]\nkind = "hole"\nbehind = 1\nwidth = 0.17\nheight = 0.17\n'


def made(extra, **keys):
    return net3d.design(parse_spec(spec_text(**{**SMALL, **keys}, extra=extra)))


@pytest.fixture(scope="module")
def laced():
    return made(HOLE)


@pytest.fixture(scope="module")
def tight():
    return made(HOLE + "lacing = 0.002\n")


@pytest.fixture(scope="module")
def sewn():
    """A panel below with thread of which every bar takes what a fiftieth of its strength is, and floats."""
    panel = HOLE.replace('"hole"', '"panel"') + 'turn = 0.5\nthread_holds = "10 N"\n'
    return made(panel + '[[escape]]\nkind = "floats"\npieces = 2\nlift = "1.5 N"\n')


def by_another_solver(netting):
    """Tensions by ECOS: the least energy of springs that only pull, frames moving as rigid bodies.

    A frame's own rod, which is no spring, is left out; its bars pull nothing.
    """
    count, rods = len(netting.knot_carriers), netting.bars_that(lambda kind: kind.word == "escape")
    bars, lengths = netting.bars[~rods], netting.bar_lengths[~rods]
    places, stretched = cp.Variable((count, 3)), cp.Variable(len(bars), nonneg=True)
    held = []
    for number, carrier in enumerate(netting.carriers):
        knots = np.flatnonzero(netting.knot_carriers == number)
        if not len(knots):
            continue
        seats, shift, turn = netting.knot_seats[knots], cp.Variable(3), cp.Variable(3)
        held += [shift["xyz".index(axis)] == 0 for axis in "xyz" if axis not in carrier.slides]
        held += [turn == 0] if not carrier.tilts else []
        for knot, (x, y, z) in zip(knots.tolist(), seats.tolist(), strict=True):
            leaned = cp.hstack(
                [turn[1] * z - turn[2] * y, turn[2] * x - turn[0] * z, turn[0] * y - turn[1] * x]
            )
            held.append(places[knot] == np.array([x, y, z]) + shift + leaned)
    spans = places[bars[:, 1]] - places[bars[:, 0]]
    reach = cp.norm(spans, axis=1) <= lengths + stretched
    springs = netting.bar_stiffnesses[~rods] / lengths
    energy = cp.sum(cp.multiply(springs / 2, cp.square(stretched)))
    program = cp.Problem(
        cp.Minimize(energy - cp.sum(cp.multiply(total_loads(netting), places))), [reach, *held]
    )
    program.solve(solver=cp.ECOS, abstol=1e-8, reltol=1e-8, feastol=1e-8)
    tensions = np.zeros(len(netting.bars))
    tensions[~rods] = springs * stretched.value
    return tensions


@pytest.mark.second_route
@pytest.mark.parametrize("net", ["laced", "tight", "sewn"])
def test_pulls_around_an_opening_by_another_solver(net, request):
    design = request.getfixturevalue(net)
    made = straight(Net(design.spec, design.plan, design.netting))
    own, bars = made.settled().bar_tensions, made.netting.bars_of(Part.section(1, 2))
    other = by_another_solver(made.netting)
    assert own[bars] == pytest.approx(other[bars], abs=0.02 * own[bars].max())


@pytest.mark.law
def test_every_free_knot_balances_and_all_of_the_pull_goes_through(tight):
    netting, shape = tight.netting, tight.shape
    spans = shape.knot_positions[netting.bars[:, 1]] - shape.knot_positions[netting.bars[:, 0]]
    pulls = shape.bar_tensions[:, None] * spans / np.linalg.norm(spans, axis=1)[:, None]
    net = total_loads(netting)
    np.add.at(net, netting.bars[:, 0], pulls)
    np.add.at(net, netting.bars[:, 1], -pulls)
    assert np.abs(net[netting.knot_carriers == FREE]).max() < 1e-4 * netting.pull
    frame = netting.knot_carriers == len(netting.carriers) - 1
    assert np.abs(net[frame].sum(axis=0)).max() < 1e-4 * netting.pull  # it floats in its lacing
    section = netting.bars_of(Part.section(1, 2))
    first = section[netting.bar_rows[section] == 0]
    assert pulls[first, 0].sum() == pytest.approx(netting.pull, rel=1e-4)


@pytest.mark.law
def test_laced_tight_a_frame_takes_the_pull_and_laced_loosely_none(laced, tight):
    found = [{one.code: one for one in net.findings}["escape-tight"] for net in (laced, tight)]
    assert [one.level for one in found] == [Level.OK, Level.FAIL]
    assert "Lace it longer" in found[1].message
    most = [net.shape.bar_tensions[net.netting.bars_of(Part.section(1, 2))].max() for net in (laced, tight)]
    assert most[1] > 2 * most[0]


@pytest.mark.law
def test_a_chimney_stands_up_on_what_its_floats_lift():
    """What the floats lift, less frame and netting over a row of bars in water, pulls in that row.

    The lacing holds what then is left of it, less the frame below. Steel of 6 mm: pi / 4 0.6^2 cm^2 of
    7.85 g/cm^3 in water of 0.998, 68 cm of it in either frame.
    """
    steel = np.pi / 4 * 0.006**2 * 0.68 * (7850.0 - 998.0) * 9.80665
    keys = 'high = 0.2\nlift = "4 N"\nmaterial = "steel"\n'
    design = made(HOLE.replace('"hole"', '"chimney"') + keys, weight=True)
    netting, shape = design.netting, design.shape
    bars = netting.bars_of(Part("chimney", (1,)))
    spans = shape.knot_positions[netting.bars[bars, 1]] - shape.knot_positions[netting.bars[bars, 0]]
    up = shape.bar_tensions[bars] * spans[:, 2] / np.linalg.norm(spans, axis=1)
    assert shape.bar_tensions[netting.bars_of(Part("escape", (1,)))].max() < 1e-6  # frames pull nothing
    rows = np.bincount(netting.bar_rows[bars], up)
    weight = netting.bar_weights[bars][netting.bar_rows[bars] == 0].sum()
    assert rows[-1] == pytest.approx(4.0 - steel - weight / 2, rel=1e-3)
    assert -np.diff(rows) == pytest.approx(np.full(len(rows) - 1, -weight), rel=0.02)
    laced = netting.bars_of(Part("escape-lacing", (1,)))
    ways = shape.knot_positions[netting.bars[laced, 1]] - shape.knot_positions[netting.bars[laced, 0]]
    held = shape.bar_tensions[laced] @ (ways[:, 2] / np.linalg.norm(ways, axis=1))
    assert held == pytest.approx(4.0 - 2 * steel - len(rows) * weight, rel=5e-3)


@pytest.mark.law
def test_floats_lift_the_top_of_the_tail(sewn):
    """Each pulls its knot up with what it lifts, half by its own bar: the netting pulls down alike."""
    netting, shape = sewn.netting, sewn.shape
    floats, tail = (netting.bars_of(part) for part in (Part("escape-floats", (2,)), TAIL))
    ends = shape.knot_positions[netting.bars[floats]]
    assert ends[:, 0, :2] == pytest.approx(ends[:, 1, :2], abs=1e-5)  # they stand straight up
    assert (ends[:, 0, 2] - ends[:, 1, 2] > 0.05).all()
    assert np.abs(ends[:, :, 1]).max() < 1e-9  # at the top
    spans = shape.knot_positions[netting.bars[tail, 1]] - shape.knot_positions[netting.bars[tail, 0]]
    down = shape.bar_tensions[tail] * spans[:, 2] / np.linalg.norm(spans, axis=1)
    for knot in netting.bars[floats, 1]:
        upper, lower = (netting.bars[tail, end] == knot for end in (0, 1))
        assert down[upper].sum() - down[lower].sum() == pytest.approx(-1.5, rel=1e-4)
    assert netting.bar_weights[floats].sum() == pytest.approx(-3.0)


@pytest.mark.law
def test_whether_a_seam_carries_the_netting(sewn):
    """Thread that stretches more than the bars it is among takes less; it is judged by what it holds."""
    found = next(one for one in sewn.findings if one.code == "escape-seam")
    pulls = sewn.shape.bar_tensions[sewn.netting.bar_seams == 1]
    assert found.value == pytest.approx(pulls.max() / 10.0)
    assert found.level is (Level.CAUTION if found.value > 0.2 else Level.OK)
    untried = made(HOLE.replace('"hole"', '"panel"') + "turn = 0.5\n")
    told = next(one for one in untried.findings if one.code == "escape-seam")
    assert told.value > pulls.max()
    assert "write what yours holds" in told.message


@pytest.mark.closed_form
def test_who_gets_in_between_bars_and_out_by_rings():
    """A fish of 30 cm girth is about 9.5 cm broad; a ring of 12 cm is 37.7 cm around."""
    fish = '[fish]\ngirth = ["0.3 m", "0.36 m"]\n'
    levels = {}
    for apart in (0.06, 0.11, 0.17):
        found = made(f'{fish}[[escape]]\nkind = "bars"\napart = {apart}\n').findings
        levels[apart] = next(one.level for one in found if one.code == "escape-apart")
    assert levels == {0.06: Level.FAIL, 0.11: Level.FAIL, 0.17: Level.OK}
    ring = made(f'{fish}[[escape]]\nkind = "rings"\nbehind = 1\ninside = 0.14\n').findings
    out = next(one for one in ring if one.code == "escape-girth")
    assert out.value == pytest.approx(0.14 * np.pi)
    assert out.level is Level.CAUTION


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        *facts(
            "Larocque et al. 2012, Fisheries Research 125:149",
            ("chimney", "10 of 10"),
            ("hole", "of 20 painted turtles 12"),
        ),
        *facts(
            "Fratto et al. 2008, Chelonian Conservation and Biology 7:205",
            ("bars", "331 turtles against 1,355"),
        ),
        *facts("Larocque et al. 2012, Aquatic Conservation 22:198", ("floats", "no turtle died, 3 without")),
    ],
)
def test_trials_are_told_with_what_speaks_against_them(kind, words):
    trial = trials()[kind]
    assert words in trial.found
    assert trial.but
    assert trial.source


def test_no_finding_calls_a_way_out_legal_or_safe(laced):
    told = [one for one in laced.findings if one.code.startswith("escape")]
    assert not any(word in one.message.lower() for one in told for word in ("legal", " safe"))
    assert any("local code" in one.message for one in told)


def test_a_torn_net_with_a_way_out_is_judged_too():
    hole = '[[hole]]\nknots = ["7:9"]\n'
    design = made(HOLE + hole)
    assert {"hole-opening", "hole-bar", "escape-cut"} <= {one.code for one in design.findings}
    assert design.torn.gone.sum() == 4


def test_thread_and_floats_are_drawn_and_listed(sewn):
    from net3d.page.scene import scene_of  # noqa: PLC0415
    from net3d.shop.amounts import amounts  # noqa: PLC0415
    from net3d.solids import solids_of  # noqa: PLC0415

    parts = {"escape-seam-1", "escape-floats-2"}
    assert parts <= {group["part"] for group in scene_of(sewn, 1.0)["groups"]}
    assert parts <= {solid.part for solid in solids_of(sewn)}
    assert parts <= {part.name for one in amounts(sewn.spec, sewn.plan) for part in one.parts}


def test_all_of_it_is_drawn_and_told(tmp_path):
    from net3d.page.scene import scene_of  # noqa: PLC0415
    from net3d.tables.steps import steps  # noqa: PLC0415

    design = made(
        HOLE.replace('"hole"', '"chimney"') + "high = 0.2\n" + '[[escape]]\nkind = "guard"\napart = 0.1\n'
    )
    drawn = {group["part"] for group in scene_of(design, 1.0)["groups"]}
    assert {"escape-1", "escape-lacing-1", "chimney-1", "escape-lines-2"} <= drawn
    told = " ".join(step.work for step in steps(design))
    for words in ("Cut out the knots of escape 1", "Knit the chimney", "Tie the lines of escape 2"):
        assert words in told
