"""Tying ways out: knots cut out, the rim laced to a frame, a tube on it; lines across the mouth."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.netting.carriers import hoop_seat
from net3d.netting.cords import netting_cord, string_cord
from net3d.netting.fabric import Bars, Cord, Fabric, Ring, Seat
from net3d.netting.netting import FREE, Carrier, Floats, Ints, Netting
from net3d.parts import Part
from net3d.plan.apertures import Aperture
from net3d.plan.escapes import EscapePlan
from net3d.plan.plan import Plan

NEAR = 1e-6  # m, or rad: knots on a frame that are no farther apart along the net are one beside the other
STIFF, LOOSE = 1e5, 1.1  # N, and times its length: a frame is held by its knots, and strained by no lean


NO_KNOTS = np.zeros(0, dtype=np.int64)


@dataclass(frozen=True, eq=False)
class Sewn:
    """Knots that ride on a frame: their numbers, their seats (k, 3) [m], and what is cut out for it."""

    carrier: int
    knots: Ints
    seats: Floats
    cut: Ints
    lifted: tuple[Ints, float] = (NO_KNOTS, 0.0)  # by so much in all [N]


def tie_escapes(fabric: Fabric, plan: Plan) -> list[Sewn]:
    """Frames, tubes and lines of all ways out; what is to be sewn and cut once the net is whole."""
    sewn = []
    for escape in plan.escapes:
        for aperture in escape.apertures:
            sewn += _tie_frame(fabric, plan, escape, aperture)
        if escape.lines is not None:
            _tie_lines(fabric, plan, escape)
        if escape.spec.kind == "floats":
            sewn += _tie_floats(fabric, plan, escape)
    return sewn


def with_seams(netting: Netting, fabric: Fabric, plan: Plan) -> Netting:
    """The net with thread in place of the bars around its panels, which stretches as the twine it is among.

    A thread that holds s times as much is taken for s times as stiff: it stretches alike at the same part of
    what it holds.
    """
    seams = netting.bar_seams.copy()
    strengths, stiffnesses = netting.bar_strengths.copy(), netting.bar_stiffnesses.copy()
    for escape in plan.escapes:
        ends = np.array([[_knot(fabric, *knot) for knot in bar] for bar in escape.seam]).reshape(-1, 2)
        count = len(netting.knot_carriers)
        own = np.isin(netting.bars @ [count, 1], ends @ [count, 1])
        seams[own] = escape.spec.place
        if (holds := escape.spec.thread_holds) is not None:
            stiffnesses[own] *= holds / strengths[own]
            strengths[own] = holds
    return replace(netting, bar_seams=seams, bar_strengths=strengths, bar_stiffnesses=stiffnesses)


def cut_out(netting: Netting, sewn: list[Sewn]) -> Netting:
    """The net with knots sewn to their frames, and those within cut out with their bars."""
    if not sewn:
        return netting
    carriers, seats = netting.knot_carriers.copy(), netting.knot_seats.copy()
    weights, kept = netting.bar_weights.copy(), np.ones(len(carriers), dtype=bool)
    for one in sewn:
        carriers[one.knots], seats[one.knots] = one.carrier, one.seats
        kept[one.cut] = False
        knots, lift = one.lifted
        if lift:
            own = np.flatnonzero(np.isin(netting.bars, knots).all(axis=1))
            weights[own] -= lift / len(own)
    whole = replace(netting, knot_carriers=carriers, knot_seats=seats, bar_weights=weights)
    bars = kept[whole.bars].all(axis=1)
    numbers = np.cumsum(kept) - 1
    of_knots = {name: values[kept] for name, values in vars(whole).items() if name.startswith("knot_")}
    of_bars = {name: values[bars] for name, values in vars(whole).items() if name.startswith("bar_")}
    return replace(whole, bars=numbers[whole.bars[bars]], **of_knots, **of_bars)


def _tie_frame(fabric: Fabric, plan: Plan, escape: EscapePlan, aperture: Aperture) -> list[Sewn]:
    """A frame that shifts and leans as its lacing pulls it, and the lacing of every knot of the rim."""
    carrier = fabric.add_carrier(Carrier(escape.title, "xyz", tilts=True))
    places = aperture.places()
    knots = _add_knots(fabric, escape, (escape.frame_part, 0), places, Seat(carrier))
    _tie_rods(fabric, escape, knots, places)
    own = list(aperture.sewn)
    laced = np.stack([[_knot(fabric, *knot) for knot in aperture.rim], knots[own]], axis=1)
    cord = string_cord(plan.twine)
    fabric.add_bars(Bars(escape.lacing_part, 0, laced, escape.lacing, cord))
    cut = np.array([_knot(fabric, *knot) for knot in aperture.cut])
    sewn = [Sewn(carrier, knots, places, cut)]
    if escape.chimney is not None:
        sewn.append(_tie_chimney(fabric, plan, (escape, aperture), knots[own], places[own]))
    return sewn


def _add_knots(
    fabric: Fabric, escape: EscapePlan, made: tuple[Part, int], places: Floats, seat: Seat
) -> Ints:
    """Knots about some places (k, 3) [m]: those as far along the net as others are in a ring with these."""
    order = np.argsort(places[:, 0], kind="stable")
    apart = np.flatnonzero(np.diff(places[order, 0]) > NEAR) + 1
    (part, row), knots = made, np.empty(len(places), dtype=np.int64)
    for number, own in enumerate(np.split(order, apart)):
        angles, one = (
            np.arctan2(-places[own, 1], places[own, 2]),
            (part.kind.word, escape.spec.behind, row, number),
        )
        knots[own] = fabric.add_ring(Ring(part, row, angles, seat, one))
    return knots


def _hung(places: Floats, rows: int) -> Floats:
    """Where knots are so many rows on in a tube that hangs from places (k, 3), each between two [m]."""
    turned = (places + np.roll(places, 1, axis=0)) / 2 if rows % 2 else places
    return np.asarray(np.roll(turned, rows // 2, axis=0))


def _tie_rods(fabric: Fabric, escape: EscapePlan, knots: Ints, places: Floats) -> None:
    """A frame's rod from each of its knots at places on it (k, 3) [m] to the next, with its weight."""
    assert escape.rod is not None
    lengths = np.linalg.norm(places - np.roll(places, -1, axis=0), axis=1)
    share = escape.rod.ring_length / (LOOSE * float(lengths.sum()))
    cord = Cord(escape.rod.diameter, STIFF, STIFF, escape.rod.weight * share)
    for ends, length in zip(np.stack([knots, np.roll(knots, -1)], axis=1), lengths.tolist(), strict=True):
        fabric.add_bars(Bars(escape.frame_part, 0, ends[None], LOOSE * length, cord))


def _knot(fabric: Fabric, row: int, place: int) -> int:
    return int(fabric.body_row(row)[0][place])


def _tie_chimney(
    fabric: Fabric, plan: Plan, made: tuple[EscapePlan, Aperture], rim: Ints, places: Floats
) -> Sewn:
    """A tube of netting from the frame up to another like it, which floats hold up."""
    escape, aperture = made
    chimney = escape.chimney
    assert chimney is not None
    assert escape.spec.high is not None
    top = fabric.add_carrier(Carrier(f"{escape.title}, top", "xyz"))
    cord, above = netting_cord(chimney.twine, plan.stretched_mesh), rim
    for row in range(chimney.rows):
        seat = Seat(top) if row == chimney.rows - 1 else Seat()
        below = _add_knots(fabric, escape, (escape.chimney_part, row + 1), _hung(places, row + 1), seat)
        ends = np.stack([np.repeat(above, 2), np.stack([below, np.roll(below, -1)], axis=1).ravel()], axis=1)
        fabric.add_bars(Bars(escape.chimney_part, row, ends, plan.bar, cord))
        above = below
    seats = _hung(places, chimney.rows) + escape.spec.high * aperture.outward
    _tie_rods(fabric, escape, above, seats)
    return Sewn(top, above, seats, NO_KNOTS, (above, chimney.lift))


def _tie_floats(fabric: Fabric, plan: Plan, escape: EscapePlan) -> list[Sewn]:
    """Floats at the top of the tail, or of the last section, each standing up from knots there."""
    lift, (thick, long) = escape.spec.lift or 0.0, escape.float_size
    first = plan.hoops[-1 if plan.tail else -2].knot_row + 1
    last = first + len(plan.body[-1].changes) - 1  # whose knots are drawn together, or laced to a hoop
    tops = [_top_knots(*fabric.body_row(row)) for row in range(first, last)]
    alone = [top for top in tops if len(top) == 1] or tops  # one at the top, where any row has one
    chosen = (np.arange(escape.spec.pieces) + 0.5) * len(alone) / escape.spec.pieces
    sewn = []
    for place, count in zip(*np.unique(chosen.astype(int), return_counts=True), strict=True):
        head = fabric.add_ring(Ring(escape.floats_part, int(place), np.zeros(1)))
        ends = np.stack([np.repeat(head, len(alone[place])), alone[place]], axis=1)
        cord = replace(string_cord(plan.twine), diameter=thick)
        fabric.add_bars(Bars(escape.floats_part, int(place), ends, float(long * count), cord))
        sewn.append(Sewn(FREE, NO_KNOTS, np.zeros((0, 3)), NO_KNOTS, (np.unique(ends), lift * float(count))))
    return sewn


def _top_knots(knots: Ints, angles: Floats) -> Ints:
    """The one or two knots of a row that are nearest to the top."""
    away = np.abs((angles + np.pi) % (2 * np.pi) - np.pi)
    return np.asarray(knots[away < away.min() + NEAR])


def _tie_lines(fabric: Fabric, plan: Plan, escape: EscapePlan) -> None:
    """Lines across the mouth, each from the hoop to the hoop."""
    assert escape.lines is not None
    cord, seat = string_cord(plan.twine), hoop_seat(plan.hoops[0])
    for pair, length in zip(escape.lines, escape.line_lengths, strict=True):
        level = bool(abs(pair.sum() - 2 * np.pi) < NEAR)  # and its own image, not another's
        knots = fabric.add_ring(Ring(escape.frame_part, 0, pair, seat, (escape.frame_part, level)))
        fabric.add_bars(Bars(escape.frame_part, 0, knots[None], length, cord))
