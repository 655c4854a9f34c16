"""Tying a throat: its netting, the line through a square tip, and the strings that hold it back."""

from __future__ import annotations

import numpy as np

from net3d.netting.carriers import hoop_seat
from net3d.netting.cords import netting_cord, string_cord
from net3d.netting.fabric import Bars, Fabric, Ring, Seat
from net3d.netting.netting import NONE, Ints
from net3d.netting.weave import Cloth, weave
from net3d.plan.joins import Row
from net3d.plan.plan import Plan, StringPlan, ThroatPlan

LEAST_STRING = 0.5  # bars: a string cannot be tied any shorter
INWARD = 1 - 1e-9  # knots halfway between two ties go to the one nearer the first, left as right


def tie_throat(fabric: Fabric, plan: Plan, throat: ThroatPlan, hoop_knots: Ints) -> None:
    """A throat laced to its hoop: on the body's own knots, or at its own marks where the counts differ."""
    cord = netting_cord(throat.twine, throat.stretched_mesh)
    above = _own_marks(fabric, plan, throat) if throat.own_marks else hoop_knots
    tip = weave(fabric, Cloth(throat.part, throat.bar, cord), throat.piece, above)
    row = throat.piece.rows[-1]
    held, points = np.arange(row.count), nearest_points(row, throat.strings)
    if throat.tip_line is not None:
        _tie_tip_line(fabric, plan, throat, tip)
        held, points = corner_knots(row, throat.strings)
    _tie_strings(fabric, plan, throat, np.stack([tip[held], points], axis=1))


def nearest_points(row: Row, strings: StringPlan) -> Ints:
    """Which tie each knot of a row is nearest to, around (knots,)."""
    ties = Row(strings.points, strings.turn)
    angles = (row.angles() - ties.phase + np.pi) % (2 * np.pi) - np.pi
    return np.rint(angles / ties.pitch * INWARD).astype(int) % ties.count


def corner_knots(row: Row, strings: StringPlan) -> tuple[Ints, Ints]:
    """The tip knots nearest to each tie, around, and the numbers of those ties."""
    angles = Row(strings.points, strings.turn).angles()
    return np.rint((angles - row.phase) / row.pitch).astype(int) % row.count, np.arange(strings.points)


def _own_marks(fabric: Fabric, plan: Plan, throat: ThroatPlan) -> Ints:
    hoop = plan.hoops[throat.hoop - 1]
    angles = throat.piece.rows[0].angles()
    return fabric.add_ring(Ring(throat.part, 0, angles, hoop_seat(hoop)))


def _tie_tip_line(fabric: Fabric, plan: Plan, throat: ThroatPlan, tip: Ints) -> None:
    """A line that runs freely through the tip meshes, closed to a ring."""
    assert throat.tip_line is not None
    cord = string_cord(throat.twine)
    run = fabric.add_run(throat.tip_line, cord)
    spans = np.stack([tip, np.roll(tip, -1)], axis=1)
    fabric.add_bars(Bars(throat.strings_part, 1, spans, throat.tip_line / len(tip), cord, run=run))


def _tie_strings(fabric: Fabric, plan: Plan, throat: ThroatPlan, ends: Ints) -> None:
    """Strings from the tip knots ``ends[:, 0]`` to the ties numbered ``ends[:, 1]``, all of one length."""
    strings = throat.strings
    ties = _tie_points(fabric, plan, throat)
    least = LEAST_STRING * throat.bar
    fit = NONE if strings.length is not None else fabric.add_fit(strings.share * plan.pull, least)
    spans = np.stack([ends[:, 0], ties[ends[:, 1]]], axis=1)
    fabric.add_bars(Bars(throat.strings_part, 0, spans, strings.about, string_cord(strings.twine), fit=fit))


def _tie_points(fabric: Fabric, plan: Plan, throat: ThroatPlan) -> Ints:
    """The knots that the strings are tied to, around a hoop or together at the gathered end of the tail."""
    strings = throat.strings
    if strings.to_hoop is not None:
        angles = Row(strings.points, strings.turn).angles()
        seat = hoop_seat(plan.hoops[strings.to_hoop - 1])
        return fabric.add_ring(Ring(throat.strings_part, 1, angles, seat))
    gather = next(n for n, carrier in enumerate(fabric.carriers) if carrier.name == "gathered tail")
    return np.repeat(fabric.add_ring(Ring(throat.strings_part, 1, np.zeros(1), Seat(gather))), strings.points)
