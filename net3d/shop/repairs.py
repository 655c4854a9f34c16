"""A hole mended knot by knot, closed with a patch, or its netting made anew: what each takes."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np

from net3d.handbook.allowances import allowance
from net3d.handbook.knots import knot_factor
from net3d.mending.lattice import Lattice
from net3d.mending.mended import Mended
from net3d.mending.torn import Hole
from net3d.netting.netting import Floats
from net3d.plan.decreases import Piece
from net3d.plan.plan import HoopPlan, Plan
from net3d.plan.twine import piece_twine
from net3d.shop.lacing import lacing_length
from net3d.spec.spec import NetSpec

QUARTER = 0.25  # of a pitch: rows stand half a pitch off their neighbours


@dataclass(frozen=True)
class Repair:
    """One way to close a hole."""

    way: str  # mend, patch or new
    knots: int  # to knit
    hitches: int  # to lace
    cuts: int  # of bars, and of the old lacing
    twine: float  # with what is wasted [m]
    hours: float


def repairs(spec: NetSpec, plan: Plan, mended: Mended) -> tuple[Repair, ...]:
    """The three ways to close a hole, at the maker's rates, least work first."""
    ways = (_mend(spec, plan, mended), _patch(spec, plan, mended.hole), _new(spec, plan, mended.hole))
    return tuple(sorted(ways, key=lambda one: one.hours))


def _repair(spec: NetSpec, way: str, counts: tuple[int, int, int], twine: float) -> Repair:
    """``hours = knots / k + hitches / h + cuts / c``, at k, h and c an hour. Source: what a rate is."""
    rates, (knots, hitches, cuts) = spec.prices, counts
    hours = knots / rates.knots_per_hour + hitches / rates.hitches_per_hour + cuts / rates.cuts_per_hour
    return Repair(way, knots, hitches, cuts, twine * (1.0 + allowance("waste_share")), hours)


def _mend(spec: NetSpec, plan: Plan, mended: Mended) -> Repair:
    bar, diameter = mesh_bar(plan, mended.hole)
    way = mended.way
    twine = way.twine(bar, diameter, knot_factor())
    return _repair(spec, "mend", (way.ties, 0, len(way.trim.cut)), twine)


def mesh_bar(plan: Plan, hole: Hole) -> tuple[float, float]:
    """Bar of the netting that a hole is in, and the thickness of its twine [m]."""
    piece = plan if hole.throat is None else plan.throats[hole.throat - 1]
    return piece.bar, piece.twine.diameter


def _patch(spec: NetSpec, plan: Plan, hole: Hole) -> Repair:
    """The hole squared, and a patch of as many meshes laced in, a hitch at every knot of its rim.

    The patch has the knots that were cut out and a row for the rim all around; it is knitted, or for a net of
    sheet netting cut. Its twine runs along the rim from knot to knot. Source: arithmetic on the lattice; how
    it is laced is common practice, no source.
    """
    (bar, diameter), lattice = mesh_bar(plan, hole), hole.lattice
    block = squared(lattice, hole.bars)
    edge = [b for b in lattice.bars_at(block) if not block.issuperset(lattice.ends[b].tolist())]
    rim = set(lattice.ends[edge].ravel().tolist()) - block
    cuts = len(set(edge) - hole.bars)
    knots, bars = len(block) + len(rim), len(lattice.bars_at(block))
    laced = len(rim) * (bar + allowance("seam_hitch_diameters") * diameter)
    if spec.netting.made == "sheet":
        return _repair(spec, "patch", (0, len(rim), cuts + len(edge)), laced)
    knitted = bars * bar + knots * knot_factor() * diameter
    return _repair(spec, "patch", (knots, len(rim), cuts), laced + knitted)


def squared(lattice: Lattice, torn: frozenset[int]) -> set[int]:
    """The knots of the least block, the same part of several rows, without which no torn bar is left."""
    out = _torn_out(lattice, torn)
    rows = [lattice.row_and_place(knot)[0] for knot in out]
    first, span = _least_arc(lattice.angles[sorted(out)])
    firsts, counts = lattice.firsts, lattice.counts
    block = set[int]()
    for row in range(min(rows), max(rows) + 1):
        knots = firsts[row] + np.arange(counts[row])
        slack = QUARTER * 2 * pi / counts[row]
        past = (lattice.angles[knots] - first + slack) % (2 * pi)
        block |= set(knots[past <= span + 2 * slack].tolist())
    return block


def _torn_out(lattice: Lattice, torn: frozenset[int]) -> set[int]:
    """Knots that keep no bar, and of every other torn bar the knot at its upper end, below the first row."""
    missing = np.bincount(lattice.ends[sorted(torn)].ravel(), minlength=len(lattice.full))
    out = set(np.flatnonzero((missing > 0) & (missing == lattice.full)).tolist())
    left = [ends for ends in lattice.ends[sorted(torn)].tolist() if out.isdisjoint(ends)]
    return out | {upper if upper >= lattice.counts[0] else lower for upper, lower in left}


def _least_arc(angles: Floats) -> tuple[float, float]:
    """Where the shortest arc begins that holds some angles, and how long it is [rad]."""
    around = np.sort(angles % (2 * pi))
    gaps = np.diff(around, append=around[0] + 2 * pi)
    widest = int(np.argmax(gaps))
    return float(around[(widest + 1) % len(around)]), float(2 * pi - gaps[widest])


def _new(spec: NetSpec, plan: Plan, hole: Hole) -> Repair:
    """The throat, or the sections of the body that the hole is in, knitted anew and laced in again.

    The old lacing is cut hitch by hitch. A section has a row of knots at either hoop, one of which its own
    count leaves out, since in a whole net it is its neighbour's.
    """
    pieces, hoops = _torn_pieces(plan, hole)
    bar, diameter = mesh_bar(plan, hole)
    laced = [(spec.lacing.mouth if hoop.number == 1 else spec.lacing.hitches, hoop) for hoop in hoops]
    hitches = sum(each * hoop.meshes_around for each, hoop in laced)
    sewn = sum(
        lacing_length(hoop, hoop.meshes_around, each, spec.lacing.twine.diameter) for each, hoop in laced
    )
    joined = hoops[-1].meshes_around if hole.throat is None and len(hoops) > 1 else 0
    knots = sum(piece.knots for piece in pieces) + joined
    twine = sum(piece_twine(piece, bar, diameter) for piece in pieces) + joined * knot_factor() * diameter
    return _repair(spec, "new", (knots, hitches, hitches), twine + sewn)


def _torn_pieces(plan: Plan, hole: Hole) -> tuple[list[Piece], list[HoopPlan]]:
    """The pieces of netting that a hole is in, whole, and the hoops that they are laced to."""
    if hole.throat is not None:
        throat = plan.throats[hole.throat - 1]
        return [throat.piece], [plan.hoops[throat.hoop - 1]]
    steps = hole.lattice.steps[sorted(hole.bars)]
    rows = [hoop.knot_row for hoop in plan.hoops]
    last_hoops = sorted(set(np.searchsorted(rows, steps, side="right").tolist()))  # before each torn bar
    pieces = [plan.body[number - 1] for number in last_hoops]
    hoops = sorted({at for number in last_hoops for at in (number, number + 1) if at <= len(plan.hoops)})
    return pieces, [plan.hoops[number - 1] for number in hoops]
