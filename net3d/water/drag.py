"""What the water does to every bar and hoop of a net where they stand."""

from __future__ import annotations

import numpy as np

from net3d.handbook.water import water_constant
from net3d.netting.netting import Floats, Netting
from net3d.outline.pose import Pose
from net3d.plan.plan import HoopPlan, Plan
from net3d.water.cylinders import HOOP_PIECES, Cylinders, bar_forces, cylinder_forces, ring_pieces
from net3d.water.plane import netting_forces
from net3d.water.slowing import speed_shares
from net3d.water.wakes import Ring, sheltered_shares
from net3d.water.water import Bands, Drag, Stream

NEAR = 0.6  # bars: a row nearer than this up the stream is the bar's own


def drag_on(
    netting: Netting, plan: Plan, placed: tuple[Floats, tuple[Pose, ...], Bands], stream: Stream
) -> Drag:
    """Netting as plane netting at its angle, strings and lines as cylinders, hoops in each other's wakes.

    Parameters
    ----------
    placed : knot positions (n, 3) [m], how the hoops stand, and the rows of netting there
    """
    positions, poses, bands = placed
    middles = positions[netting.bars].mean(axis=1)
    speeds = stream.speed * speed_shares(middles, NEAR * netting.bar_lengths, bands, stream)
    flow = (bands, stream)
    lines = bar_forces(netting, positions, speeds, flow, water_constant("tangential_share"))
    netted = (bands.bar_bands >= 0)[:, None]
    forces = np.where(netted, netting_forces(netting, positions, speeds, flow), lines)
    return Drag(forces, hoop_forces(plan, poses, bands, stream), speeds)


def hoop_forces(
    plan: Plan, poses: tuple[Pose, ...], bands: Bands, stream: Stream, sheltered: bool = True
) -> Floats:
    """Drag of every hoop as it stands, ``sheltered`` in the wakes of those up the stream (hoops, 3) [N]."""
    forces = np.zeros((len(poses), 3))
    rings: list[Ring] = []
    downward = sorted(range(len(poses)), key=lambda number: poses[number].place * stream.direction[0])
    for number in downward:
        before = rings if sheltered else []
        ring = ring_in(plan.hoops[number], poses[number], (bands, stream), before)
        forces[number] = cylinder_forces(
            ring.pieces, stream.direction, water_constant("tangential_share_rod")
        ).sum(axis=0)
        rings.append(ring)
    return forces


def ring_in(hoop: HoopPlan, pose: Pose, flow: tuple[Bands, Stream], before: list[Ring]) -> Ring:
    """A hoop as pieces in the water that netting and the hoops before it have left."""
    bands, stream = flow
    spans, middles = ring_pieces(hoop.outline, pose, hoop.rod_diameter / 2)
    rods = np.full(HOOP_PIECES, hoop.rod_diameter)
    shares = speed_shares(middles, rods, bands, stream)
    shares *= sheltered_shares(middles, before, (stream.direction, stream.speed))
    return Ring(Cylinders(spans, rods, stream.speed * shares), middles)
