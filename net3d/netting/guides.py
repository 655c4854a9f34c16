"""Tying a wing or a leader: a wall of meshes between its two lines, from the mouth's edge to its last stake.

A wall of very many meshes is tied of fewer and larger ones, each bar of which stands for as many twines.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import ceil, sqrt

import numpy as np

from net3d.handbook.rope import Rope
from net3d.netting.cords import netting_cord, rope_cord
from net3d.netting.netting import FREE, NONE, Carrier, Floats, Ints, Netting
from net3d.outline.outline import Outline
from net3d.plan.guide_places import Station, stations
from net3d.plan.guides import GuidePlan

MOST_BARS = 800  # of a wall as it is solved and drawn
LEAST_LEG = 4  # meshes from bend to bend, as it is solved
MOUTH = 0  # carrier; the others are its stakes, or a second net's mouth


@dataclass(frozen=True, eq=False)
class Wall:
    """A guide on one side of the mouth, tied."""

    plan: GuidePlan
    side: str
    across: int  # meshes along its lines as it is solved
    deep: int
    twines: float  # that each bar of netting stands for
    netting: Netting
    start: Floats  # (n, 3) knots as it stands straight [m]
    loads: Floats  # (n, 3) weight, floats and leads [N]
    held: tuple[Station, ...]  # the mouth first

    @property
    def name(self) -> str:
        """What it is called in a sentence: wing 1, left."""
        if not self.plan.number:
            return f"the {self.plan.part.title}"
        where = f", {self.side}" if len(self.plan.sides) > 1 else ""
        return f"{self.plan.part.title}{where}"

    @property
    def bottom(self) -> float:
        """Height of the bottom it stands on, from the middle of the mouth [m]."""
        return float(self.start[:, 2].min())

    @property
    def float_knots(self) -> Ints:
        """Knots along the float line, mouth first (across + 1,)."""
        return np.arange(self.across + 1)

    @property
    def lead_knots(self) -> Ints:
        """Knots along the lead line, mouth first (across + 1,)."""
        return np.arange(len(self.start) - self.across - 1, len(self.start))

    @property
    def grouped(self) -> bool:
        """Whether a mesh as it is solved stands for several."""
        return self.deep < self.plan.spec.deep


def tie_wall(plan: GuidePlan, side: str, mouth: Outline, rope: Rope) -> Wall:
    """A guide on one side of the mouth.

    Parameters
    ----------
    plan : of the guide
    side : of the mouth
    mouth : outline of its hoop
    rope : of the lines
    """
    across, deep = grouping(plan.spec.long, plan.spec.deep, len(plan.spec.bends))
    held = stations(plan, side, mouth, deep + 1)
    start, carriers = _places(held, plan.spec.long, (across, deep))
    netting = _netting(plan, (across, deep), (start, carriers, _pitches(held, plan.spec.long, across)), rope)
    return Wall(
        plan,
        side,
        across,
        deep,
        plan.spec.long / across,
        netting,
        start,
        _loads(plan, netting, (across, deep)),
        held,
    )


def grouping(long: int, deep: int, bends: int = 0) -> tuple[int, int]:
    """Meshes along and deep of a wall as it is solved: all of them, or fewer and larger ones of its shape.

    Parameters
    ----------
    long, deep : its meshes [-]
    bends : at which it is held too [-]

    >>> grouping(30, 6), grouping(800, 48)
    ((30, 6), (50, 3))
    """
    group = max(1.0, sqrt(4.0 * long * deep / MOST_BARS))
    rows = max(1, min(deep, round(deep / group)))
    least = ceil(LEAST_LEG * (bends + 1) * deep / long) if bends else 1
    rows = max(rows, min(deep, least))
    return max(2, round(long * rows / deep)), rows


def _rows(across: int, deep: int) -> list[Ints]:
    """Knots of every row, float line first: across + 1 at whole meshes, across at halves."""
    counts = [across + 1 - row % 2 for row in range(2 * deep + 1)]
    ends = np.cumsum(counts)
    return [np.arange(end - count, end) for end, count in zip(ends, counts, strict=True)]


def _places(held: tuple[Station, ...], long: int, counts: tuple[int, int]) -> tuple[Floats, Ints]:
    """Knots of the wall drawn straight (n, 3) [m], and what holds them (n,)."""
    across, deep = counts
    columns = _columns(held, long, across)
    places, carriers = [], []
    for row in range(2 * deep + 1):
        up = deep - row / 2
        low, high = int(np.floor(up)), int(np.ceil(up))
        ends = np.array([(station.places[low] + station.places[high]) / 2 for station in held])
        along = np.arange(across + 1 - row % 2) + row % 2 / 2
        places.append(np.column_stack([np.interp(along, columns, ends[:, axis]) for axis in range(3)]))
        own = np.full(len(along), FREE)
        if row % 2 == 0:
            own[columns] = np.arange(len(held))
        carriers.append(own)
    return np.concatenate(places), np.concatenate(carriers)


def _pitches(held: tuple[Station, ...], long: int, across: int) -> Floats:
    """Meshes that each of those stands for that are solved, along the lines (across,)."""
    columns = _columns(held, long, across)
    meshes = np.interp(np.arange(across + 1), columns, [station.mesh for station in held])
    return np.diff(meshes)


def _columns(held: tuple[Station, ...], long: int, across: int) -> list[int]:
    """At which of the meshes that are solved it is held: as near as these come, no two at one."""
    columns = [round(station.mesh * across / long) for station in held]
    for number in range(1, len(columns)):
        columns[number] = max(columns[number], columns[number - 1] + 1)
    columns[-1] = across
    for number in range(len(columns) - 2, 0, -1):
        columns[number] = min(columns[number], columns[number + 1] - 1)
    return columns


def _bars(across: int, deep: int) -> tuple[Ints, Ints, int]:
    """Ends (m, 2) and row (m,) of every bar, netting first, and how many of these are netting."""
    rows = _rows(across, deep)
    ends, numbers = [], []
    for row, (above, below) in enumerate(pairwise(rows)):
        wide, narrow = (above, below) if len(above) > len(below) else (below, above)
        pairs = np.concatenate([np.stack([wide[:-1], narrow], 1), np.stack([wide[1:], narrow], 1)])
        ends.append(np.sort(pairs, axis=1))
        numbers.append(np.full(len(pairs), row))
    netted = sum(map(len, ends))
    for place, line in enumerate((rows[0], rows[-1])):
        ends.append(np.stack([line[:-1], line[1:]], axis=1))
        numbers.append(np.full(len(line) - 1, place))
    return np.concatenate(ends), np.concatenate(numbers), netted


def _netting(
    plan: GuidePlan, counts: tuple[int, int], places: tuple[Floats, Ints, Floats], rope: Rope
) -> Netting:
    across, deep = counts
    start, carriers, pitches = places
    bars, rows, netted = _bars(across, deep)
    spec, line = plan.spec, rope_cord(rope)
    cord, bar = netting_cord(spec.twine, spec.stretched), spec.deep * spec.stretched / deep / 2
    twines = spec.long / across

    def split(netting: float, lines: tuple[float, float]) -> Floats:
        return np.repeat([netting, *lines], [netted, across, across])

    lines = [line.length / spec.long * pitches for line in (plan.float_line, plan.lead_line)]
    none = np.full(len(bars), NONE)
    return Netting(
        parts=(plan.part, plan.lines_part),
        carriers=tuple(Carrier(f"end {number}", "") for number in range(carriers.max() + 1)),
        hoop_count=0,
        knot_carriers=carriers,
        knot_seats=np.where((carriers == FREE)[:, None], 0.0, start),
        knot_parts=np.zeros(len(start), dtype=np.int64),
        knot_rows=np.concatenate([np.full(len(row), n) for n, row in enumerate(_rows(across, deep))]),
        knot_rings=np.concatenate([np.full(len(row), n) for n, row in enumerate(_rows(across, deep))]),
        knot_angles=np.zeros(len(start)),
        knot_loads=np.zeros((len(start), 3)),
        bars=bars,
        bar_lengths=np.concatenate([np.full(netted, bar), *lines]),
        bar_stiffnesses=split(twines * cord.stiffness, (line.stiffness,) * 2),
        bar_stiffening=split(cord.stiffening, (line.stiffening,) * 2),
        bar_expected=np.zeros(len(bars)),
        bar_strengths=split(twines * cord.strength, (line.strength,) * 2),
        bar_diameters=split(cord.diameter, (line.diameter,) * 2),
        bar_weights=split(plan.weight / netted, (0.0, 0.0)),
        bar_parts=np.repeat([0, 1], [netted, 2 * across]),
        bar_rows=rows,
        bar_fits=none,
        bar_runs=none,
        bar_seams=none,
        fit_tensions=np.zeros(0),
        fit_least=np.zeros(0),
        run_lengths=np.zeros(0),
        run_stiffnesses=np.zeros(0),
        run_stiffening=np.zeros(0),
        pull=max(plan.float_line.force, abs(plan.weight)),
    )


def _loads(plan: GuidePlan, netting: Netting, counts: tuple[int, int]) -> Floats:
    """Weight of the netting, lift of floats and weight of leads in water, all evenly spread (n, 3) [N]."""
    rows, count = _rows(*counts), len(netting.knot_carriers)
    loads = np.zeros((count, 3))
    for end in range(2):
        loads[:, 2] -= np.bincount(netting.bars[:, end], netting.bar_weights / 2, count)
    for row, force in ((rows[0], plan.float_line.force), (rows[-1], -plan.lead_line.force)):
        share = np.ones(len(row))
        share[[0, -1]] = 0.5
        loads[row, 2] += force * share / share.sum()
    return loads
