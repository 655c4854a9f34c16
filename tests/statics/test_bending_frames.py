"""Frames that bend in the equilibrium: as a frame program has it, as hoops where round, and as rigid ones."""

from dataclasses import replace

import numpy as np
import pytest

from net3d.netting.carriers import rod_of
from net3d.statics import equilibrium, settle
from net3d.statics.shape import EndState, Symmetry
from tests.nets import framed, make, rigid
from tests.water.frames import frame_under

KEYS = {"diameters": (0.5, 0.49), "around": 16, "stretched": 0.135, "deep": (2,), "tail": 4, "legs": 4}
WIDE = {"shape": "rectangle", "width": 0.46, "height": 0.32, "corner": 0.04, "rod": 0.011}
D_FRAME = {"shape": "d", "width": 0.42, "corner": 0.04, "height": 0.4, "rod": 0.011}
SQUARE = {"shape": "square", "width": 0.4, "corner": 0.04, "rod": 0.011}


def pulled(netting, shape, hoop):
    """What bars pull at every knot of a hoop (k, 3), summed bar by bar [N]."""
    forces = np.zeros_like(shape.knot_positions)
    for (upper, lower), tension in zip(netting.bars, shape.bar_tensions, strict=True):
        way = shape.knot_positions[lower] - shape.knot_positions[upper]
        pull = tension * way / np.linalg.norm(way)
        forces[upper] += pull
        forces[lower] -= pull
    riding = netting.knot_carriers == hoop
    return riding, forces[riding]


def without_rigid(points, moves):
    """Moves (k, 3) less what a rigid frame would do."""
    ways = np.zeros((6, *points.shape))
    ways[:3] = np.eye(3)[:, None]
    ways[3:] = np.cross(np.eye(3)[:, None], points)
    flat = ways.reshape(6, -1).T
    return moves - (flat @ np.linalg.lstsq(flat, moves.ravel(), rcond=None)[0]).reshape(-1, 3)


@pytest.mark.second_route
@pytest.mark.parametrize("frame", [WIDE, D_FRAME], ids=["rectangle", "D"])
def test_it_bends_as_a_frame_program_bends_it_under_what_pulls(frame):
    net = framed(frame, **KEYS)
    shape, plan = net.settled(), net.plan.hoops[0]
    assert shape.state is EndState.SETTLED
    riding, forces = pulled(net.netting, shape, 0)
    arcs, rod = net.netting.knot_angles[riding], rod_of(plan)
    laced = net.netting.knot_rows[riding] == 0
    rod_as_drawn = shape.poses[0].points(plan.outline, arcs, rod.diameter)[laced]
    _, left, up = plan.outline.points(arcs, rod.diameter / 2).T
    bent = replace(shape.poses[0], lean_up=0.0, lean_left=0.0).departures(plan.outline, np.arctan2(-left, up))
    assert bent[:, 0] == pytest.approx(shape.poses[0].bend.at(arcs)[:, 0], abs=1e-6)
    assert rod_as_drawn == pytest.approx(shape.knot_positions[riding][laced], abs=1e-9)
    # What does not balance, the rod's own slide and lean, is spread over all of it.
    places = 2 * np.pi * np.arange(72) / 72
    points = plan.outline.points(np.append(arcs, places), rod.diameter / 2)
    ways = np.zeros((6, 72, 3))
    ways[:3], ways[3:] = np.eye(3)[:, None], np.cross(np.eye(3)[:, None], points[len(arcs) :])
    flat = ways.reshape(6, -1)
    off = np.append(forces.sum(axis=0), np.cross(points[: len(arcs)], forces).sum(axis=0))
    spread = -(flat.T @ np.linalg.solve(flat @ flat.T, off)).reshape(-1, 3)
    nodes, moves, _ = frame_under(rod, plan.outline, np.append(arcs, places), np.vstack([forces, spread]))
    angles = np.unique(
        np.round(np.append(np.append(arcs, places), plan.outline.stations(96)) % (2 * np.pi), 9)
    )
    told = without_rigid(nodes, moves)
    found = without_rigid(nodes, shape.poses[0].bend.at(angles))
    for own in ([0], [1, 2]):
        assert np.abs(told[:, own]).max() > 1e-4
        assert found[:, own] == pytest.approx(told[:, own], abs=0.02 * np.abs(told[:, own]).max())


@pytest.mark.law
def test_as_round_as_can_be_it_bends_as_the_hoop():
    """Under four legs that pull at it where they pull at the hoop."""
    rod = 0.006
    rounded = {"shape": "square", "width": 0.5, "corner": 0.25, "rod": rod}
    hoop, frame = make(rod=rod, **KEYS | {"legs": 3}), framed(rounded, rod=rod, **KEYS | {"legs": 3})
    told, found = hoop.settled(), frame.settled()
    riding = hoop.netting.knot_carriers == 0
    bent = told.knot_positions[riding] - hoop.netting.knot_seats[riding]
    same = found.knot_positions[riding] - frame.netting.knot_seats[riding]
    bow = np.ptp(bent[:, 0])
    assert bow > 2e-3
    assert same == pytest.approx(bent, abs=0.02 * bow)
    assert found.sections[0].length == pytest.approx(told.sections[0].length, rel=1e-3)


@pytest.mark.law
def test_a_rod_that_hardly_bends_gives_the_rigid_frame():
    net = framed(WIDE, **KEYS)
    shape, own = (settle(of(net.netting), net.plan) for of in (rigid, _stiffened))
    assert own.knot_positions == pytest.approx(shape.knot_positions, abs=2e-6)
    assert 0 < np.abs(own.poses[0].bend.moves).max() < 1e-8


def _stiffened(netting):
    """The same net on frames and hoops so many times as stiff."""
    carriers = []
    for carrier in netting.carriers:
        bends = carrier.bends
        if bends is not None and bends.modes is not None:
            bends = replace(bends, modes=replace(bends.modes, stiffnesses=1e6 * bends.modes.stiffnesses))
        elif bends is not None:
            material = bends.rod.material
            hard = replace(
                material, modulus=1e6 * material.modulus, shear_modulus=1e6 * material.shear_modulus
            )
            bends = replace(bends, rod=replace(bends.rod, material=hard))
        carriers.append(replace(carrier, bends=bends))
    return replace(netting, carriers=tuple(carriers))


@pytest.mark.law
@pytest.mark.parametrize(("frame", "legs", "turns"), [(WIDE, 2, 2), (SQUARE, 4, 4)])
def test_solved_by_what_repeats_it_is_the_same(frame, legs, turns, monkeypatch):
    """A quarter or an eighth of the net against all of it; tensions alone are one of a kind."""
    net = framed(frame, None, **KEYS | {"legs": legs})
    part = net.settled()
    assert part.symmetry == Symmetry(turns, True)
    monkeypatch.setattr(equilibrium, "find_symmetry", lambda *_: Symmetry())
    whole = net.settled()
    assert part.bar_tensions == pytest.approx(whole.bar_tensions, abs=1e-4 * net.netting.pull)
    one, other = (shape.poses[0].bend.moves for shape in (part, whole))
    assert np.abs(one).max() > 1e-4
    assert one == pytest.approx(other, abs=1e-3 * np.abs(one).max())
