"""How lengths follow what the net is tied of: meshes, twine and hoops, by the tensions of one equilibrium.

Virtual work: bars that pull ``t`` where the ends of a length pull with 1 lengthen it by ``sum t dL`` as
their own lengths grow by dL, whatever the net looks like. Those t are the bars' tensions over the axial pull
of their part, so that nothing is solved again. Source: principle of virtual forces, derived.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import pi

import numpy as np

from net3d.netting.netting import NONE, Floats, Ints, Netting
from net3d.netting.sorting import distinct
from net3d.parts import TAIL, Part
from net3d.plan.plan import Plan, ThroatPlan
from net3d.statics.equilibrium import Equilibrium
from net3d.statics.shape import NOT_FOLLOWED, Follows

HARDLY = 1e-3  # of the pull: what carries less has no length of its own to speak of


def section_follows(netting: Netting, plan: Plan, found: Equilibrium) -> tuple[Follows, ...]:
    """How every section's length follows, mouth first."""
    return tuple(_follows(netting, found, _carried(netting, found, *own)) for own in _side_by_side(plan))


def length_follows(netting: Netting, plan: Plan, found: Equilibrium) -> Follows:
    """How the length from the first hoop to the last follows."""
    carried = [_carried(netting, found, *own) for own in _side_by_side(plan)]
    return _follows(netting, found, _together(carried))


def _side_by_side(plan: Plan) -> list[tuple[Part, ...]]:
    """What carries the pull in every section: its netting, and its rib lines."""
    ribs = {rib.section: rib.part for rib in plan.ribs}
    return [(s.part, ribs[s.part]) if s.part in ribs else (s.part,) for s in plan.sections]


def end_follows(netting: Netting, plan: Plan, found: Equilibrium) -> tuple[Follows, Follows]:
    """How the tail's length, and that from the first hoop to its end, follow; the body's without a tail."""
    body = [_carried(netting, found, *own) for own in _side_by_side(plan)]
    if TAIL not in netting.parts:
        return NOT_FOLLOWED, _follows(netting, found, _together(body))
    tail = _carried(netting, found, TAIL)
    return _follows(netting, found, tail), _follows(netting, found, _together([*body, tail]))


def tip_follows(
    netting: Netting, plan: Plan, throat: ThroatPlan, found: Equilibrium
) -> tuple[Follows, Follows]:
    """How a throat's length, and the way from the mouth to its tip, follow; unknown where it hangs slack."""
    own = _carried(netting, found, throat.part)
    if own.axial < HARDLY * netting.pull:
        return NOT_FOLLOWED, NOT_FOLLOWED
    ahead = [_carried(netting, found, *parts) for parts in _side_by_side(plan)[: throat.hoop - 1]]
    return _follows(netting, found, own), _follows(netting, found, _together([*ahead, own]))


def string_follows(netting: Netting, plan: Plan, throat: ThroatPlan, found: Equilibrium) -> Follows:
    """How a throat's strings follow: they grow by what the body behind its hoop does, less the throat."""
    tied = throat.strings.to_hoop
    behind = [s.part for s in plan.sections if s.from_hoop >= throat.hoop and (tied or np.inf) >= s.to_hoop]
    body = [_carried(netting, found, part) for part in (*behind, *((TAIL,) if tied is None else ()))]
    own = _carried(netting, found, throat.part)
    strings = _carried(netting, found, throat.strings_part)
    line = netting.bar_runs[strings.bars] == NONE
    pulled = max(float(strings.pulls[line].sum()), HARDLY)  # by all strings together, for a pull of 1 along
    back = replace(strings, bars=strings.bars[line], pulls=strings.pulls[line])
    weighed = _together([*body, own.times(-1.0), back.times(-1.0)]).times(1.0 / pulled)
    return _follows(netting, found, weighed)


@dataclass(frozen=True, eq=False)
class _Pulls:
    """What bars (k,) pull where a length is pulled at its ends with 1."""

    bars: Ints
    pulls: Floats
    axial: float = 0.0  # what their part passes on [N]

    def times(self, factor: float) -> _Pulls:
        return _Pulls(self.bars, self.pulls * factor)


def _together(several: list[_Pulls]) -> _Pulls:
    return _Pulls(
        np.concatenate([one.bars for one in several]), np.concatenate([one.pulls for one in several])
    )


def _carried(netting: Netting, found: Equilibrium, *parts: Part) -> _Pulls:
    """Tensions of parts side by side over the axial pull that they pass on together."""
    each = [netting.bars_of(part) for part in parts]
    bars = np.concatenate(each)
    axial = sum(_axial(netting, found, own) for own in each)
    return _Pulls(bars, found.tensions[bars] / max(axial, HARDLY * netting.pull), axial)


def _axial(netting: Netting, found: Equilibrium, bars: Ints) -> float:
    """What bars of a part pass on along the net [N]."""
    spans = found.positions[netting.bars[bars, 1]] - found.positions[netting.bars[bars, 0]]
    cosines = spans[:, 0] / np.maximum(np.linalg.norm(spans, axis=1), np.finfo(float).tiny)
    rows = np.bincount(netting.bar_rows[bars], found.tensions[bars] * cosines)
    lines = netting.bar_runs[bars] != NONE  # a line through a tip lies across, and passes nothing on
    return float(rows[distinct(netting.bar_rows[bars][~lines])].mean())


def _follows(netting: Netting, found: Equilibrium, pulled: _Pulls) -> Follows:
    bars = pulled.bars
    meshes = np.where(netting.bars_that(lambda kind: kind.netting)[bars], netting.bar_lengths[bars], 0.0)
    # A fitted length stretches in the program as its estimate would.
    stretched = netting.stretches(found.tensions)[bars]
    return Follows(
        meshes=float(pulled.pulls @ meshes),
        each=float(np.linalg.norm(pulled.pulls * meshes)),
        stretch=float(pulled.pulls @ stretched),
        hoops=tuple((-_inward(netting, found, pulled) / (2 * pi)).tolist()),
        lines=_by_lines(netting, pulled),
    )


def _by_lines(netting: Netting, pulled: _Pulls) -> float:
    """What each rib line by itself does to a length: a line off by a metre is so alike in all its bars."""
    ropes = netting.bars_that(lambda kind: kind.rope)[pulled.bars]
    parts, rows = netting.bar_parts[pulled.bars[ropes]], netting.bar_rows[pulled.bars[ropes]]
    long = [distinct(rows[parts == part]).size for part in range(len(netting.parts))]  # bars a line
    return float(np.linalg.norm(pulled.pulls[ropes] / np.sqrt(np.array(long)[parts])))


def _inward(netting: Netting, found: Equilibrium, pulled: _Pulls) -> Floats:
    """What bars draw each hoop inward with, all around, where a length is pulled with 1 (hoops,) [-]."""
    ends = netting.bars[pulled.bars]
    spans = found.positions[ends[:, 1]] - found.positions[ends[:, 0]]
    ways = spans / np.maximum(np.linalg.norm(spans, axis=1), np.finfo(float).tiny)[:, None]
    inward = np.zeros(netting.hoop_count)
    for end, sign in ((0, 1.0), (1, -1.0)):
        carriers = netting.knot_carriers[ends[:, end]]
        riding = (carriers >= 0) & (carriers < netting.hoop_count)
        seats = netting.knot_seats[ends[riding, end], 1:]
        outward = seats / np.maximum(np.linalg.norm(seats, axis=1), np.finfo(float).tiny)[:, None]
        drawn = -sign * np.sum(ways[riding, 1:] * outward, axis=1) * pulled.pulls[riding]
        inward += np.bincount(carriers[riding], drawn, netting.hoop_count)
    return inward
