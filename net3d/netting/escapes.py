"""Tying ways out: knots cut out, the rim laced to a frame, a tube on it; lines across the mouth."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.netting.carriers import hoop_seat
from net3d.netting.cords import netting_cord, string_cord
from net3d.netting.fabric import Bars, Cord, Fabric, Ring, Seat
from net3d.netting.netting import Carrier, Floats, Ints, Netting
from net3d.plan.escapes import Aperture, EscapePlan
from net3d.plan.plan import Plan

STIFF, LOOSE = 1e5, 1.001  # N, and times its length: a frame is held by its knots, and pulls nothing itself


@dataclass(frozen=True, eq=False)
class Sewn:
    """Knots that ride on a frame: their numbers, their seats (k, 3) [m], and what is cut out for it."""

    carrier: int
    knots: Ints
    seats: Floats
    cut: Ints
    lifted: tuple[Ints, float] = (np.zeros(0, dtype=np.int64), 0.0)  # by so much in all [N]


def tie_escapes(fabric: Fabric, plan: Plan) -> list[Sewn]:
    """Frames, tubes and lines of all ways out; what is to be sewn and cut once the net is whole."""
    sewn = []
    for escape in plan.escapes:
        for aperture in escape.apertures:
            sewn += _tie_frame(fabric, plan, escape, aperture)
        if escape.lines is not None:
            _tie_lines(fabric, plan, escape)
    return sewn


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
    knots = fabric.add_ring(Ring(escape.frame_part, 0, np.full(len(places), aperture.angle), Seat(carrier)))
    rod = Cord(escape.spec.rod, STIFF, STIFF)
    for span, length in zip(*_closed(knots, places), strict=True):
        fabric.add_bars(Bars(escape.frame_part, 0, span[None], LOOSE * length, rod))
    own = list(aperture.sewn)
    laced = np.stack([[_knot(fabric, *knot) for knot in aperture.rim], knots[own]], axis=1)
    cord = string_cord(plan.twine)
    fabric.add_bars(Bars(escape.lacing_part, 0, laced, escape.lacing, cord))
    cut = np.array([_knot(fabric, *knot) for knot in aperture.cut])
    sewn = [Sewn(carrier, knots, places, cut)]
    if escape.chimney is not None:
        sewn.append(_tie_chimney(fabric, plan, (escape, aperture), knots[own], places[own]))
    return sewn


def _closed(knots: Ints, places: Floats) -> tuple[Ints, list[float]]:
    """The spans from each knot of a frame to the next (k, 2), and how long they are [m]."""
    lengths = np.linalg.norm(places - np.roll(places, -1, axis=0), axis=1)
    return np.stack([knots, np.roll(knots, -1)], axis=1), lengths.tolist()


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
        below = fabric.add_ring(Ring(escape.chimney_part, row + 1, np.full(len(rim), aperture.angle), seat))
        ends = np.stack([np.repeat(above, 2), np.stack([below, np.roll(below, -1)], axis=1).ravel()], axis=1)
        fabric.add_bars(Bars(escape.chimney_part, row, ends, plan.bar, cord))
        above = below
    turned = (places + np.roll(places, 1, axis=0)) / 2 if chimney.rows % 2 else places
    seats = np.roll(turned, chimney.rows // 2, axis=0) + escape.spec.high * aperture.outward
    rod = Cord(escape.spec.rod, STIFF, STIFF)
    for span, length in zip(*_closed(above, seats), strict=True):
        fabric.add_bars(Bars(escape.frame_part, 0, span[None], LOOSE * length, rod))
    return Sewn(top, above, seats, np.zeros(0, dtype=np.int64), (above, chimney.lift))


def _tie_lines(fabric: Fabric, plan: Plan, escape: EscapePlan) -> None:
    """Lines across the mouth, each from the hoop to the hoop."""
    assert escape.lines is not None
    cord, seat = string_cord(plan.twine), hoop_seat(plan.hoops[0])
    for pair, length in zip(escape.lines, escape.line_lengths, strict=True):
        knots = fabric.add_ring(Ring(escape.frame_part, 0, pair, seat))
        fabric.add_bars(Bars(escape.frame_part, 0, knots[None], length, cord))
