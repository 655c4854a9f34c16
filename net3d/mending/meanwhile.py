"""A net with its holes, until they are mended: where it comes to rest, and what its bars then carry."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.mending.opening import Opening, opening_of
from net3d.mending.torn import Hole, holes_of, parts_of
from net3d.netting.netting import FREE, Bools, Carrier, Floats, Ints, Netting
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.statics.equilibrium import find_equilibrium
from net3d.statics.loads import total_loads
from net3d.statics.settle import with_lengths
from net3d.statics.shape import EndState, Shape
from net3d.statics.solver import SolverLimits
from net3d.water.loads import Loads
from net3d.water.standing import knot_loads


@dataclass(frozen=True, eq=False)
class Rest:
    """Where a net with its holes comes to rest in one water; m bars of the whole net."""

    current: float  # as the spec means it, 0 in still water [m/s]
    state: EndState
    positions: Floats  # (n, 3) from the anchor [m]; of knots that are gone without meaning
    tensions: Floats  # (m,) 0 where gone [N]
    residual: float  # largest unbalanced force, as a share of the pull
    whole: Floats  # (m,) tensions of the whole net in the same water [N]


@dataclass(frozen=True, eq=False)
class Torn:
    """A net with its holes; m bars of the whole net."""

    holes: tuple[Hole, ...]
    bars: tuple[Ints, ...]  # of each hole's piece, in the order of its lattice: their numbers in the net
    openings: tuple[Opening, ...]  # that each leaves, its rim in numbers of the lattice
    gone: Bools  # (m,) torn, or fallen out with what is
    rests: tuple[Rest, ...]  # in still water, then in the fastest current that the spec names

    def widened(self, bars: int) -> Torn:
        """The same of a net that has so many bars, those behind its own not torn."""
        return replace(self, gone=np.pad(self.gone, (0, bars - len(self.gone))))

    @property
    def rim(self) -> Ints:
        """Numbers of the bars around all holes."""
        around = [own[sorted(opening.rim)] for own, opening in zip(self.bars, self.openings, strict=True)]
        every = np.unique(np.concatenate(around))
        return every[every >= 0]


def torn_net(spec: NetSpec, plan: Plan, tied: tuple[Netting, Shape], loads: tuple[Loads, ...]) -> Torn | None:
    """The net of a spec with its holes, strings as they were tied to the whole one.

    None without holes, or where the whole net has no shape.
    Throats are taken to hang free of the body, and what is left to be dragged as it is in the whole net.
    Raises SpecError for a hole that is in no netting of the net.

    Parameters
    ----------
    spec, plan : the net
    tied : its netting, and its shape as it hangs whole
    loads : in the currents that the spec names, slowest first
    """
    (netting, shape), holes = tied, holes_of(spec, plan)
    if not holes or not shape.at_rest:
        return None
    bars = tuple(_bars(netting, plan, hole) for hole in holes)
    torn = np.zeros(len(netting.bars) + 1, dtype=bool)  # the last for bars that a way out left none of
    for hole, own in zip(holes, bars, strict=True):
        torn[own[sorted(hole.bars)]] = True
    gone = torn[:-1] | _falls_out(netting, torn[:-1])
    lost = np.append(gone, True)
    openings = tuple(_opening(plan, hole, lost[own]) for hole, own in zip(holes, bars, strict=True))
    fast = with_lengths(netting, shape.bar_rest_lengths)
    rests = [_rest(fast, gone, shape.bar_tensions, None)]
    rests += [_rest(row.standing.tied, gone, row.standing.tensions, row) for row in loads[-1:]]
    return Torn(holes, bars, openings, gone, tuple(rests))


def _rest(netting: Netting, gone: Bools, whole: Floats, load: Loads | None) -> Rest:
    """The net without the bars that are gone (m,), dragged as far as the others are in a current."""
    left = without_bars(netting, gone)
    pushed = total_loads(left)
    if load is not None:
        drag = load.standing.drag
        pushed = pushed + knot_loads(left, replace(drag, bar_forces=drag.bar_forces[~gone]))
    found = find_equilibrium(left, pushed, SolverLimits())
    tensions = np.zeros(len(gone))
    tensions[~gone] = found.tensions
    current = 0.0 if load is None else load.current
    return Rest(current, found.state, found.positions, tensions, found.residual, whole)


def without_bars(netting: Netting, gone: Bools) -> Netting:
    """The net without some of its bars (m,); knots that nothing is tied to any more stay where they are."""
    kept = {name: getattr(netting, name)[~gone] for name in vars(netting) if name.startswith("bar_")}
    tied = np.bincount(netting.bars[~gone].ravel(), minlength=len(netting.knot_carriers)) > 0
    lost = (netting.knot_carriers == FREE) & ~tied
    return replace(
        netting,
        bars=netting.bars[~gone],
        carriers=(*netting.carriers, Carrier("torn out", "")),
        knot_carriers=np.where(lost, len(netting.carriers), netting.knot_carriers),
        **kept,
    )


def _bars(netting: Netting, plan: Plan, hole: Hole) -> Ints:
    """Numbers of the bars of a hole's piece in the order of its lattice; -1 where a way out was cut."""
    own = np.concatenate([netting.bars_of(part) for part in parts_of(plan, hole.throat)])
    if hole.throat is not None or not plan.escapes:
        return own
    cut = {knot for escape in plan.escapes for one in escape.apertures for knot in one.cut}
    kept = np.ones(len(hole.lattice.ends), dtype=bool)
    kept[list(hole.lattice.bars_at({hole.lattice.knot(row, place) for row, place in cut}))] = False
    numbers = np.full(len(kept), -1)
    numbers[kept] = own
    return numbers


def _falls_out(netting: Netting, torn: Bools) -> Bools:
    """Bars (m,) of pieces that hang on nothing any more."""
    from scipy.sparse import coo_matrix, csgraph  # noqa: PLC0415 - loads slowly, and only holes need it

    left, count = netting.bars[~torn], len(netting.knot_carriers)
    graph = coo_matrix((np.ones(len(left)), left.T), (count, count))
    _, labels = csgraph.connected_components(graph, directed=False)
    held = np.isin(labels, labels[netting.knot_carriers != FREE])
    return np.asarray(~held[netting.bars[:, 0]] & ~torn)


def _opening(plan: Plan, hole: Hole, gone: Bools) -> Opening:
    """The opening of a hole, half meshes at its edges closed by the hoop or by the tip's line."""
    throat = None if hole.throat is None else plan.throats[hole.throat - 1]
    bar = plan.bar if throat is None else throat.bar
    first = plan.hoops[0 if throat is None else throat.hoop - 1]
    pitch = first.knot_girth / hole.lattice.counts[0]
    torn = set(np.flatnonzero(gone).tolist())
    return opening_of(hole.lattice, torn, bar, (pitch, min(pitch, 2 * bar)))
