"""A wall of netting at rest: by closed forms, another solver, and the balance of what lifts and weighs."""

from dataclasses import replace
from functools import cache
from math import asinh, hypot

import cvxpy as cp
import numpy as np
import pytest

from net3d.netting.guides import tie_wall
from net3d.netting.netting import FREE, Carrier
from net3d.outline.curves import Circle
from net3d.outline.outline import Outline
from net3d.plan import lay_out
from net3d.spec import parse_spec
from net3d.statics.floor import rest_on_bottom
from net3d.statics.shape import EndState
from tests.nets import spec_text

MOUTH = Outline(Circle(1.2))


@cache
def wall_of(keys, twine="#9"):
    spec = parse_spec(spec_text(extra=f'[leader]\ntwine = "{twine}"\n{keys}'))
    (leader,) = lay_out(spec).guides
    return tie_wall(leader, "middle", MOUTH, spec.rigging.cordage)


def stiffened(wall):
    return replace(wall.netting, bar_stiffnesses=100 * wall.netting.bar_stiffnesses)


def held(wall, rest, carrier):
    return rest.pulls[wall.netting.knot_carriers == carrier].sum(axis=0)


@pytest.mark.closed_form
@pytest.mark.parametrize(
    ("sag", "tension", "pair"), [(10, 117.0, ""), (20, 221.0, ""), (20, 221.0, "pair = true")]
)
def test_a_wall_in_a_current_pulls_its_ends_as_the_parabola_does(sag, tension, pair):
    """87 N across 15 m: H = q L^2 / 8 s, T^2 = H^2 + (q L / 2)^2, arc / L = 1 + 8/3 r^2 - 32/5 r^4."""
    ratio = 1 / sag
    arc = 1 + 8 / 3 * ratio**2 - 32 / 5 * ratio**4
    line = 15 * arc
    upright = 'floats = 30\nfloat_lift = "10 N"'  # or it bows between its lines, and draws them down
    mesh, slack = line / 240 / 0.7, 1 - 1 / arc
    wall = wall_of(
        f"long = 240\ndeep = 14\nstretched = {mesh!r}\nhanging = 0.7\nslack = {slack!r}\n{upright}\n{pair}\n"
    )
    across = np.zeros_like(wall.loads)
    shares = np.bincount(wall.netting.bars[wall.netting.bar_parts == 0].ravel(), minlength=len(across))
    across[:, 1] = 87.0 * shares / shares.sum()
    rest = rest_on_bottom(replace(stiffened(wall), pull=87.0), wall.loads + across, wall.bottom)
    assert rest.state is EndState.SETTLED
    for carrier in (0, 1):
        assert hypot(*held(wall, rest, carrier)[:2]) == pytest.approx(tension, rel=0.02)
    middle = rest.positions[wall.float_knots[len(wall.float_knots) // 2]]
    assert middle[1] == pytest.approx(15 * ratio, rel=0.03)


def strip(wall):
    """The wall as a strip: its foot held, and every row of its ends free to move across and up together."""
    rows, rings = wall.netting.knot_rows, wall.netting.knot_carriers != FREE
    last = rows.max()
    carriers = [Carrier(f"row {row}", "" if row == last else "yz") for row in range(last + 1)]
    on = np.where(rings | (rows == last), rows, FREE)
    seats = np.where((on == FREE)[:, None], 0.0, wall.start)
    seats[:, 1:] = np.where(((on != FREE) & (rows != last))[:, None], 0.0, seats[:, 1:])
    return replace(wall.netting, carriers=tuple(carriers), knot_carriers=on, knot_seats=seats)


@pytest.mark.closed_form
@pytest.mark.parametrize("load", [0.5, 2.0, 6.75])
def test_a_strip_under_an_even_load_stands_as_the_catenary_does(load):
    """A flexible strip that carries B up and p s across stands asinh(x) / x of it high, x = p h / B."""
    wall = wall_of("long = 14\ndeep = 24\nstretched = 0.05\nhanging = 0.5\nslack = 0.001\n")
    netting, lift = strip(wall), 10.0
    loads = np.zeros_like(wall.loads)
    row = wall.float_knots
    loads[row, 2] = lift * np.where(np.isin(row, row[[0, -1]]), 0.5, 1.0) / (len(row) - 1)
    shares = np.bincount(netting.bars[netting.bar_parts == 0].ravel(), minlength=len(loads))
    loads[:, 1] = load * lift * shares / shares.sum()
    stiff = replace(netting, bar_stiffnesses=1e3 * netting.bar_stiffnesses, pull=lift)
    rest = rest_on_bottom(stiff, loads, wall.bottom)
    high = rest.positions[row[len(row) // 2], 2] - wall.bottom
    assert high / wall.plan.height == pytest.approx(asinh(load) / load, rel=0.02)


@pytest.mark.second_route
@pytest.mark.parametrize("across", [0.0, 3.0])
def test_another_modeller_and_solver_find_the_same_rest(across):
    agreed(wall_of("long = 10\ndeep = 3\nstretched = 0.08\nhanging = 0.6\nslack = 0.03\n"), across)


@pytest.mark.second_route
def test_the_same_rest_of_a_wing_that_turns():
    spec = parse_spec(
        spec_text(
            extra="[[wing]]\nlong = 12\ndeep = 3\nstretched = 0.08\nside = 'left'\nangle = 80\n"
            "bends = [{ after = 7, angle = -60 }]\n"
        )
    )
    (wing,) = lay_out(spec).guides
    agreed(tie_wall(wing, "left", MOUTH, spec.rigging.cordage), 2.0)


def agreed(wall, across):
    loads = wall.loads.copy()
    loads[:, 1] += across / len(loads)
    found = rest_on_bottom(wall.netting, loads, wall.bottom)
    netting = wall.netting
    places, stretch = cp.Variable(loads.shape), cp.Variable(len(netting.bars), nonneg=True)
    spans = places[netting.bars[:, 0]] - places[netting.bars[:, 1]]
    riding = np.flatnonzero(netting.knot_carriers != FREE)
    limits = [
        cp.norm(spans, axis=1) <= netting.bar_lengths + stretch,
        places[:, 2] >= wall.bottom,
        places[riding] == netting.knot_seats[riding],
    ]
    energy = cp.sum(cp.multiply(netting.bar_stiffnesses / netting.bar_lengths / 2, stretch**2))
    problem = cp.Problem(cp.Minimize(energy - cp.sum(cp.multiply(loads, places))), limits)
    problem.solve(solver=cp.ECOS)
    own = float(
        np.sum(found.tensions**2 * netting.bar_lengths / netting.bar_stiffnesses) / 2
        - np.sum(loads * found.positions)
    )
    assert own == pytest.approx(problem.value, abs=2e-5)
    lines = np.r_[wall.float_knots, wall.lead_knots]
    assert np.abs(found.positions[lines] - places.value[lines]).max() < 0.01


@pytest.mark.law
@pytest.mark.parametrize(("leads", "lifts"), [("80 g", False), ("2 g", True)])
def test_what_lifts_and_weighs_is_in_balance(leads, lifts):
    """Floats against netting, leads, bottom and ends; the lead line lifts where floats and no leads win."""
    wall = wall_of(
        "long = 40\ndeep = 6\nstretched = 0.08\nfloats = 10\nfloat_lift = '0.3 N'\nleads = 10\n"
        f"lead_weight = '{leads}'\n"
    )
    rest = rest_on_bottom(wall.netting, wall.loads, wall.bottom)
    by_hand = 10 * 0.3 - wall.plan.weight - 10 * wall.plan.lead_line.each
    assert wall.loads[:, 2].sum() == pytest.approx(by_hand)
    assert by_hand + rest.presses.sum() == pytest.approx(rest.pulls[:, 2].sum(), abs=1e-4)
    gap = rest.positions[wall.lead_knots, 2].max() - wall.bottom
    assert (gap > 0.05) == lifts
    assert (rest.positions[:, 2] >= wall.bottom - 1e-6).all()


def test_netting_of_very_many_meshes_is_solved_with_fewer_of_the_same_weight():
    fine = wall_of("long = 800\ndeep = 48\nbar = 0.013\nhanging = 0.72\n")
    assert len(fine.netting.bars) < 1000 < 4 * 800 * 48
    assert fine.grouped
    assert fine.netting.bar_weights.sum() == pytest.approx(fine.plan.weight)
    lines = fine.netting.bar_lengths[fine.netting.bar_parts == 1].sum()
    assert lines == pytest.approx(fine.plan.float_line.length + fine.plan.lead_line.length)
    few = rest_on_bottom(fine.netting, fine.loads, fine.bottom).positions
    hung = 48 * 0.026 * (1 - (0.98 * 0.72) ** 2) ** 0.5  # its lines bunch by their slack
    assert few[fine.float_knots[20:-20], 2] - fine.bottom == pytest.approx(hung, rel=0.005)
