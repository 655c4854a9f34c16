"""Poses against the knots that the equilibrium puts on the hoops, and waves against what a rod can do."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from net3d.netting import tie
from net3d.outline.curves import Circle, Oval
from net3d.outline.outline import Outline
from net3d.outline.pose import Pose
from net3d.outline.waves import Waves
from net3d.plan import lay_out
from net3d.spec import vary
from net3d.statics import settle
from net3d.statics.equilibrium import find_equilibrium
from net3d.statics.settle import total_loads
from net3d.statics.solver import SolverLimits
from net3d.water.standing import stand_in
from net3d.water.water import Stream
from tests.align.bowed import bowed_spec, saddle
from tests.nets import make

pytestmark = pytest.mark.second_route

ARCS = 2 * np.pi * np.arange(48) / 48
KEYS = {"around": 12, "diameters": (0.26, 0.24, 0.25), "deep": (3, 2.5), "tail": 3}


def crooked():
    """The plan and netting of a net whose hoops are bowed, oval, turned and turned over."""
    spec = bowed_spec([saddle(0.006), saddle(0.004, 0.7, 3), (0.0,) * 8], (0, 2, 5), **KEYS)
    across = tuple(0.24 + 0.01 * np.cos(2 * np.pi * np.arange(6) / 6 + 0.4))
    spec = vary(spec, {"hoop.2.across": across, "hoop.2.flip": True})
    plan = lay_out(spec)
    return plan, tie(spec, plan)


def misses(plan, netting, positions, poses):
    """How far the body's knots on the hoops are from where outline and pose have them [m]."""
    far = []
    for number, (hoop, pose) in enumerate(zip(plan.hoops, poses, strict=True)):
        body = netting.knot_rows == hoop.knot_row
        knots = np.flatnonzero((netting.knot_carriers == number) & body)
        knots = knots[: hoop.meshes_around]  # the row of the body comes before bridle and throats
        placed = pose.points(hoop.outline, hoop.row.angles(), hoop.rod_diameter)
        far.append(np.linalg.norm(positions[knots] - placed, axis=1).max())
    return max(far)


def test_knots_lie_where_outline_and_pose_have_them():
    """The row's own angles go in, nothing of the solver's knots; leans and turns are there to be seen."""
    plan, netting = crooked()
    shape = settle(netting, plan)
    assert misses(plan, netting, shape.knot_positions, shape.poses) < 1e-12
    assert max(abs(pose.turn) for pose in shape.poses) > 1e-3
    assert max(abs(pose.lean_up) + abs(pose.lean_left) for pose in shape.poses) > 1e-3
    still = [Pose(pose.place) for pose in shape.poses]
    assert misses(plan, netting, shape.knot_positions, still) > 1e-4


@pytest.mark.parametrize("weight", [False, True])
@pytest.mark.parametrize("spacing", [(), (None, 0.12)])
def test_so_they_do_in_nets_of_flat_hoops_and_with_rods(weight, spacing):
    """Where coordinates are shared around (no weight) or left and right (weight), and rods join hoops."""
    net = make(**KEYS, weight=weight, spacing=spacing)
    plan, netting, shape = net.plan, net.netting, net.settled()
    assert shape.symmetry.turns == (1 if weight else 12)
    assert misses(plan, netting, shape.knot_positions, shape.poses) < 1e-12
    assert shape.poses[0] == Pose(0.0)
    assert np.diff(shape.hoop_positions)[1] == pytest.approx(0.12) or not spacing


@pytest.mark.parametrize("weight", [False, True])
def test_so_they_do_where_hoops_may_shift_sideways(weight):
    """Coordinates that repeat or are mirrored around are then fewer, and their numbers others."""
    net = make(**KEYS, weight=weight)
    hoops = [replace(one, slides="xyz") for one in net.netting.carriers[: len(net.plan.hoops)]]
    free = replace(net.netting, carriers=(*hoops, *net.netting.carriers[len(hoops) :]))
    found = find_equilibrium(free, total_loads(free), SolverLimits())
    for number, pose in enumerate(found.poses):
        riding = free.knot_carriers == number
        assert pose.place == pytest.approx(found.positions[riding, 0].mean(), abs=1e-12)


def test_so_they_do_in_a_current():
    net = make(**KEYS)
    shape = net.settled()
    standing = stand_in(net.netting, net.plan, shape, Stream(0.6, -1.0))
    assert misses(net.plan, net.netting, standing.positions, standing.poses) < 1e-12
    plan, netting = crooked()
    standing = stand_in(netting, plan, settle(netting, plan), Stream(0.4, -1.0, 0.2))
    assert misses(plan, netting, standing.positions, standing.poses) < 1e-12


def test_small_turns_are_turns():
    """A turn of w about an axis, by scipy's rotations, to second order in w."""
    outline = Outline(Oval(0.9, Waves((2,), (0.01,), (0.004,))), Waves((3,), (0.008,), (0.0,)), 0.4)
    for about in np.eye(3) * 1e-4:
        turn, up, left = about * (1, 1, -1)
        moved = Pose(1.5, up, left, turn).points(outline, ARCS)
        wanted = outline.points(ARCS) @ Rotation.from_rotvec(about).as_matrix().T + [1.5, 0, 0]
        assert moved == pytest.approx(wanted, abs=1e-8)


@pytest.mark.parametrize("number", [2, 3, 5])
def test_a_rod_that_bends_keeps_its_length(number):
    """To first order: twice the wave leaves four times the change, and both are far less than the wave."""
    outline = Outline(Circle(0.9))
    fine = 2 * np.pi * np.arange(4000) / 4000

    def length(height):
        bent = Pose(
            0.3, bow=Waves((2,), (height,), (height / 2,)), oval=Waves((number,), (height / 3,), (height,))
        )
        points = bent.points(outline, fine)
        return np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1).sum()

    changes = np.array([length(height) - length(0.0) for height in (0.0005, 0.001)])
    assert changes[1] / changes[0] == pytest.approx(4.0, rel=0.01)
    assert abs(changes[1]) < 2 * np.pi * number**2 * 0.001**2 / 0.45 * 2


def test_bent_it_departs_by_its_waves():
    outline, bow = Outline(Circle(0.9), turn=0.3), Waves((2,), (0.004,), (-0.002,))
    oval = Waves((2,), (0.003,), (0.001,))
    bent = Pose(0.2, bow=bow, oval=oval)
    assert bent.bends
    moved = bent.points(outline, ARCS) - Pose(0.2).points(outline, ARCS)
    assert moved[:, 0] == pytest.approx(0.004 * np.cos(2 * ARCS) - 0.002 * np.sin(2 * ARCS), abs=1e-12)
    outward = outline.normals(ARCS)
    assert np.sum(moved * outward, axis=1) == pytest.approx(oval.at(ARCS), abs=1e-12)
    around = np.cross([1.0, 0.0, 0.0], outward)  # clockwise
    stretch = np.gradient(np.sum(moved * around, axis=1), ARCS)
    assert stretch[2:-2] == pytest.approx(-oval.at(ARCS)[2:-2], abs=0.003 * 0.02)
    departures = bent.departures(outline, ARCS)
    assert departures == pytest.approx(np.column_stack([bow.at(ARCS), oval.at(ARCS)]), abs=1e-12)


def test_it_leans_as_it_says():
    hoop = Outline(Circle(0.9))
    (top, right, bottom, left) = Pose(1.0, lean_up=0.01, lean_left=0.02).points(
        hoop, np.arange(4) * np.pi / 2
    )
    assert [point[0] for point in (top, right, bottom, left)] == pytest.approx(
        [1 + 0.0045, 1 - 0.009, 1 - 0.0045, 1 + 0.009]
    )
    assert left[1] > 0 > right[1]


def test_departures_are_those_of_the_hoop_as_it_stands():
    """Where its points are seen, along the net from its place and outward from the true hoop."""
    outline = Outline(Oval(0.9, Waves((2,), (0.01,), (0.004,))), Waves((3,), (0.008,), (0.0,)), 0.4)
    pose = Pose(1.5, 1e-3, -2e-3, 5e-3)
    x, y, z = pose.points(outline, ARCS).T
    along, out = pose.departures(outline, np.arctan2(-y, z)).T
    # A lean is taken at the true hoop's rim, a turn straight: of second order in leans, turns and waves.
    assert x - 1.5 == pytest.approx(along, abs=5e-5)
    assert np.hypot(y, z) - outline.curve.mean_radius == pytest.approx(out, abs=3e-5)
