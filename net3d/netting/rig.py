"""Rigging a net: bridle, anchor line and the pull that keeps it stretched."""

from __future__ import annotations

import numpy as np

from net3d.netting.carriers import hoop_seat
from net3d.netting.cords import rope_cord
from net3d.netting.fabric import Bars, Cord, Fabric, Ring, Seat
from net3d.netting.netting import Carrier, Ints
from net3d.parts import ANCHOR_LINE, BRIDLE
from net3d.plan.legs import leg_arcs
from net3d.plan.plan import Plan
from net3d.spec.spec import BridleSpec, RiggingSpec

MOUTHWARD = np.array([-1.0, 0.0, 0.0])


def rig(fabric: Fabric, rigging: RiggingSpec, plan: Plan, ends: tuple[Ints, Ints]) -> None:
    """Anchor one end and pull the other; ``ends`` are the knots of the mouth and of the gathered tail."""
    rope = rope_cord(rigging.cordage)
    mouth, tail = ends
    if rigging.bridle is not None:
        mouth = _tie_bridle(fabric, plan, rigging.bridle, rope)
    by_tail = rigging.anchor == "tail"
    if by_tail and plan.tail is not None:
        gather = next(n for n, carrier in enumerate(fabric.carriers) if carrier.name == "gathered tail")
        tail = fabric.add_ring(Ring(ANCHOR_LINE, 0, np.zeros(1), Seat(gather)))
    pulled, anchored = (mouth, tail) if by_tail else (tail, mouth)
    fabric.add_load(pulled, rigging.still_pull * (MOUTHWARD if by_tail else -MOUTHWARD))
    if len(anchored) == 1:
        _tie_anchor(fabric, anchored, rigging.line, rope)


def _tie_bridle(fabric: Fabric, plan: Plan, bridle: BridleSpec, rope: Cord) -> Ints:
    """Legs from the mouth hoop to one ring ahead of it."""
    hoop = plan.hoops[0]
    seat = hoop_seat(hoop, inside=hoop.rod_diameter / 2)
    ring = fabric.add_ring(Ring(BRIDLE, 0, np.zeros(1)))
    feet = fabric.add_ring(Ring(BRIDLE, 1, leg_arcs(hoop, bridle.legs), seat))
    ends = np.stack([np.repeat(ring, bridle.legs), feet], axis=1)
    fabric.add_bars(Bars(BRIDLE, 0, ends, bridle.length, rope))
    return ring


def _tie_anchor(fabric: Fabric, end: Ints, length: float, rope: Cord) -> None:
    """A line from the end of the net to the anchor, which does not move."""
    anchor = fabric.add_carrier(Carrier("anchor", ""))
    anchored = fabric.add_ring(Ring(ANCHOR_LINE, 1, np.zeros(1), Seat(anchor)))
    fabric.add_bars(Bars(ANCHOR_LINE, 0, np.stack([end, anchored], axis=1), length, rope))
