"""Hoops that bend: the same net by cvxpy and ECOS, its hoops cut into many short pieces of rod.

The rod of a hoop bends, twists and keeps its length; here from the strains of a thin curved rod taken by
differences along it, with no waves: out of its plane by u and a roll b, ``b / R - u'' / R^2`` bends and
``b' / R + u' / R^2`` twists it; in its plane by v along it and ``w = -v'`` outward, ``(w + w'') / R^2`` bends
it (Love, Mathematical Theory of Elasticity, article 293; Timoshenko, Strength of Materials II: from memory).
An inward load q that keeps its direction gains ``q / 2`` times the sum of u'^2 and (w' - v)^2.
"""

from dataclasses import replace
from time import process_time

import cvxpy
import numpy as np
import pytest
from scipy import sparse

from net3d.netting import tie
from net3d.netting.netting import FREE
from net3d.plan import lay_out
from net3d.spec import parse_spec, read_spec
from net3d.statics import settle
from net3d.statics.bending import Wave, grown_waves
from net3d.statics.shape import EndState
from tests.nets import SPECS, Net, rigid, straight

PIECES = 8  # of rod from a knot to the next
BOW = 0.005


def spec_of(rod, around=24, legs=0, bow=BOW, material="fibreglass"):
    """Three hoops of 0.5 m, the middle one bowed in two waves by so much up and down [m]."""
    stations = 2 * np.pi * np.arange(8) / 8
    gaps = [round(float(gap), 6) for gap in bow * (1 + np.cos(2 * stations))]
    bowed = f"gaps = {gaps}\n" if bow else ""
    hoops = [
        f'[[hoop]]\ndiameter = {size}\nrod = {rod}\nmaterial = "{material}"\n{own}'
        for size, own in ((0.5, ""), (0.49, bowed), (0.48, ""))
    ]
    bridle = f"bridle = {{ legs = {legs}, length = 0.5 }}\n" if legs else ""
    return parse_spec(
        f'title = "Bent"\nunits = "m"\n[netting]\naround = {around}\nstretched = 0.09\ntwine = "#15"\n'
        + "".join(hoops)
        + f"[sections]\ndeep = [3, 3.5]\n[rigging]\npull = 60\n{bridle}[statics]\nweight = false\n"
    )


def net_of(spec):
    plan = lay_out(spec)
    return plan, straight(Net(spec, plan, tie(spec, plan))).netting


def rod_stiffness(rod, count, inward):
    """Energy of a ring of ``count`` pieces as a matrix over u and b at their ends and v half-way between.

    Also how u, w and v at the ends follow from these (three matrices).
    """
    step = 2 * np.pi / count
    one, nothing = sparse.identity(count), sparse.csr_matrix((count, count))
    ahead = sparse.csr_matrix(np.roll(np.eye(count), 1, axis=1))
    rise, fall = (ahead - one) / step, (one - ahead.T) / step  # from ends to half-way, and back
    outward, around = -fall, (one + ahead.T) / 2
    second = fall @ rise
    radius, bend, twist = rod.ring_radius, rod.bending_stiffness, rod.twisting_stiffness
    strains = [
        (bend, sparse.hstack([-second / radius**2, one / radius, nothing])),
        (twist, sparse.hstack([rise / radius**2, rise / radius, nothing])),
        (bend, sparse.hstack([nothing, nothing, (outward + second @ outward) / radius**2])),
        (-inward / radius, sparse.hstack([rise, nothing, nothing])),
        (-inward / radius, sparse.hstack([nothing, nothing, rise @ outward - one])),
    ]
    energy = sum(radius * step * stiffness * (strain.T @ strain) for stiffness, strain in strains)
    moves = [
        sparse.hstack(row).tocsr()
        for row in ([one, nothing, nothing], [nothing, nothing, outward], [nothing, nothing, around])
    ]
    return energy, moves


def hoop_moves(netting, number, moves, count):
    """How the knots on a hoop move as its pieces do, and what keeps the pieces from moving it as a whole."""
    knots = np.flatnonzero(netting.knot_carriers == number)
    seats = netting.knot_seats[knots]
    angles = np.arctan2(-seats[:, 1], seats[:, 2])
    pieces = np.rint(angles / (2 * np.pi) * count).astype(int)
    assert np.abs(angles - pieces * 2 * np.pi / count).max() < 1e-6
    along, out, around = (move[pieces % count] for move in moves)
    cosine, sine = sparse.diags(np.cos(angles)), sparse.diags(np.sin(angles))
    ways = [along, -(sine @ out) - cosine @ around, cosine @ out - sine @ around]
    every = 2 * np.pi * np.arange(count) / count
    waves = [np.ones(count), np.cos(every), np.sin(every)]
    still = (
        [wave @ moves[0] for wave in waves] + [wave @ moves[1] for wave in waves[1:]] + [waves[0] @ moves[2]]
    )
    return knots, ways, np.stack(still)


def solve_again(netting, plan, inward):
    """Knot positions [m] and tensions [N]: the first hoop is pulled forward, the last stands."""
    scale, pull = netting.bar_lengths.mean(), netting.pull
    count = len(netting.knot_carriers)
    free = np.flatnonzero(netting.knot_carriers == FREE)
    rows = (3 * free[:, None] + np.arange(3)).ravel()
    parts = [
        sparse.csr_matrix((np.ones(len(rows)), (rows, np.arange(len(rows)))), shape=(3 * count, len(rows)))
    ]
    energies, still = [sparse.csr_matrix((len(rows), len(rows)))], []
    for number, hoop in enumerate(plan.hoops):
        pieces = PIECES * hoop.meshes_around
        matrix, moves = rod_stiffness(netting.carriers[number].bends.rod, pieces, inward[number])
        knots, ways, held = hoop_moves(netting, number, moves, pieces)
        bent = sparse.lil_matrix((3 * count, 3 * pieces))
        rigid_moves = np.zeros((3 * count, 4))
        for axis in range(3):
            bent[3 * knots + axis] = ways[axis]
        rigid_moves[3 * knots, 0] = 1.0
        for axis in range(3):
            turned = np.cross(np.eye(3)[axis], netting.knot_seats[knots] / scale)
            rigid_moves[(3 * knots[:, None] + np.arange(3)).ravel(), 1 + axis] = turned.ravel()
        parts += [sparse.csr_matrix(rigid_moves), bent.tocsr()]
        energies += [sparse.csr_matrix((4, 4)), matrix * scale / pull]
        still.append((held, sum(part.shape[1] for part in parts[:-1]), number))
    moves = sparse.hstack(parts).tocsr()
    energy = sparse.block_diag(energies).tocsc()
    unknown = cvxpy.Variable(moves.shape[1])
    places = moves @ unknown + netting.knot_seats.ravel() / scale
    ends = sparse.lil_matrix((3 * len(netting.bars), 3 * count))
    for axis in range(3):
        own = 3 * np.arange(len(netting.bars)) + axis
        ends[own, 3 * netting.bars[:, 0] + axis] = 1.0
        ends[own, 3 * netting.bars[:, 1] + axis] = -1.0
    spans = cvxpy.reshape(ends.tocsr() @ places, (len(netting.bars), 3), order="C")
    stretch = cvxpy.Variable(len(netting.bars))
    cones = cvxpy.SOC(netting.bar_lengths / scale + stretch, spans, axis=1)
    springs = netting.bar_stiffnesses / netting.bar_lengths * scale / pull
    cost = cvxpy.sum(cvxpy.multiply(springs / 2, cvxpy.square(stretch)))
    cost += cvxpy.quad_form(unknown, cvxpy.psd_wrap((energy + energy.T) / 2)) / 2
    held = [part @ unknown[first : first + part.shape[1]] == 0 for part, first, _ in still]
    last = still[-1][1] - 4
    first = still[0][1] - 4
    problem = cvxpy.Problem(cvxpy.Minimize(cost + unknown[first]), [cones, *held, unknown[last] == 0])
    problem.solve(solver=cvxpy.CLARABEL)
    assert problem.status in {cvxpy.OPTIMAL, cvxpy.OPTIMAL_INACCURATE}
    return places.value.reshape(-1, 3) * scale, np.asarray(cones.dual_value[0]).ravel() * pull


def inward_loads(netting, positions, tensions, plan):
    """What the bars pull every hoop inward with, by a sum over them [N/m]."""
    loads = []
    for number in range(netting.hoop_count):
        total = 0.0
        for (upper, lower), tension in zip(netting.bars, tensions, strict=True):
            for own, other in ((upper, lower), (lower, upper)):
                if netting.knot_carriers[own] == number:
                    way = positions[other] - positions[own]
                    outward = netting.knot_seats[own, 1:] / np.linalg.norm(netting.knot_seats[own, 1:])
                    total -= tension * float(way[1:] @ outward) / np.linalg.norm(way)
        loads.append(total / (2 * np.pi * netting.carriers[number].bends.rod.ring_radius))
    return loads


def second_wave(netting, positions, hoop):
    """How far a hoop bows in two waves, from its middle [m]."""
    riding = netting.knot_carriers == hoop
    seats, along = netting.knot_seats[riding], positions[riding, 0]
    angles = np.arctan2(-seats[:, 1], seats[:, 2])
    columns = [np.ones(len(angles))] + [wave(k * angles) for k in (1, 2) for wave in (np.cos, np.sin)]
    parts = np.linalg.lstsq(np.stack(columns, axis=1), along, rcond=None)[0]
    return float(np.hypot(parts[3], parts[4]))


@pytest.mark.parametrize("rod", [0.009, 0.014])
def test_a_bowed_hoop_as_short_pieces_of_rod(rod):
    plan, netting = net_of(spec_of(rod))
    shape = settle(netting, plan)
    assert shape.state is EndState.SETTLED
    positions, tensions = solve_again(netting, plan, [0.0] * 3)
    positions, tensions = solve_again(netting, plan, inward_loads(netting, positions, tensions, plan))
    left = second_wave(netting, positions, 1)
    assert second_wave(netting, shape.knot_positions, 1) == pytest.approx(left, rel=0.02)
    assert shape.bar_tensions.max() == pytest.approx(tensions.max(), rel=0.02)
    share = shape.sections[0].full_share
    assert np.abs(tensions - shape.bar_tensions).max() < 0.05 * share


@pytest.mark.law
def test_a_rod_that_hardly_bends_stands_as_a_rigid_one_does():
    """Of a modulus a thousand times that of steel: bow, pulls and length of hoops that do not bend."""
    plan, netting = net_of(spec_of(0.009))
    hard = tuple(
        carrier
        if carrier.bends is None
        else replace(carrier, bends=replace(carrier.bends, rod=stiffened(carrier)))
        for carrier in netting.carriers
    )
    own, other = settle(replace(netting, carriers=hard), plan), settle(rigid(netting), plan)
    assert second_wave(netting, own.knot_positions, 1) == pytest.approx(BOW, rel=0.01)
    assert own.length == pytest.approx(other.length, rel=1e-3)
    usual = other.sections[0].full_share
    assert own.bar_tensions == pytest.approx(other.bar_tensions, rel=0.01, abs=0.02 * usual)


def stiffened(carrier):
    rod = carrier.bends.rod
    return replace(rod, material=replace(rod.material, modulus=2e14, shear_modulus=8e13))


@pytest.mark.closed_form
@pytest.mark.parametrize(("legs", "tail"), [(2, ""), (3, "[tail]\ndeep = 8\n"), (4, "[tail]\ndeep = 5\n")])
def test_what_draws_at_hoops_is_known_beforehand(legs, tail):
    """Within 2 % of what folds a hoop, so that one solve does: membrane against bar by bar."""
    text = str(spec_of(0.007, legs=legs, bow=0.0).source.text)
    plan, netting = net_of(parse_spec(text.replace("[rigging]", tail + "[rigging]")))
    shape = settle(netting, plan)
    drawn = inward_loads(netting, shape.knot_positions, shape.bar_tensions, plan)
    for carrier, load in zip(netting.carriers, drawn, strict=False):
        assert carrier.bends.inward == pytest.approx(load, abs=0.02 * carrier.bends.folding_load)


@pytest.mark.closed_form
def test_a_wave_that_did_not_grow_is_none():
    """Two waves out of the plane by a centimetre, as a cosine alone, of hoop 0; hoop 1 grew others."""
    grown = {Wave(0, 2, True, False, 1.0): 0.01, Wave(1, 3, False, True, 1.0): 0.02}
    bow, oval = grown_waves(grown, 0)
    angles = np.linspace(0.0, 2 * np.pi, 9)
    assert bow.at(angles) == pytest.approx(0.01 * np.cos(2 * angles))
    assert not oval.numbers
    assert grown_waves(grown, 1)[1].at(angles) == pytest.approx(0.02 * np.sin(3 * angles))


@pytest.mark.slow
def test_hoops_that_bend_under_a_bridle_cost_no_more_than_half_as_much_again():
    """The sample with two throats and three legs, its hoops elastic and rigid, in turn; the best of three."""
    spec = read_spec(SPECS / "backwater-36.toml")
    assert spec.rigging.bridle.legs == 3
    plan = lay_out(spec)
    bent = tie(spec, plan)
    assert sum(carrier.bends is not None for carrier in bent.carriers) == 5
    times = {True: [], False: []}
    for _ in range(3):
        for bends, netting in ((False, rigid(bent)), (True, bent)):
            start = process_time()
            settle(netting, plan)
            times[bends].append(process_time() - start)
    assert min(times[True]) < 1.5 * min(times[False])
