"""Laying pieces out on sheet netting of a stock size, all with their points running the same way.

The sheet has one fixed size and runs on in the other direction; pieces stand in strips across it, the
longest first, each in the first strip with room. Where the sheet runs on across, two tapered pieces that are
alike lie head to tail.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from math import floor

from net3d.handbook.allowances import allowance
from net3d.plan.taper import Taper


@dataclass(frozen=True)
class Cutting:
    """A piece to lay out, in meshes."""

    name: str
    across_first: float
    across_last: float
    deep: float
    saved: float = 0.0  # in width, when two of them lie head to tail

    @property
    def across(self) -> float:
        """As wide as it is at its widest [meshes]."""
        return max(self.across_first, self.across_last)

    @property
    def area(self) -> float:
        """Its mean width times its depth [meshes^2]."""
        return (self.across_first + self.across_last) / 2 * self.deep


def saved_head_to_tail(edge: Taper) -> float:
    """What is saved when two pieces lie head to tail along an edge that both have [meshes].

    The least, over the depth, of what the one has lost and the other still has to lose.

    >>> from net3d.plan.taper import taper
    >>> saved_head_to_tail(taper(4, 4)), saved_head_to_tail(taper(0, 4))
    (4.0, 0.0)
    """
    steps: list[float] = []
    for run in edge.runs:
        steps += [run.lost / run.rows] * run.rows
    lost = list(accumulate(steps, initial=0.0))
    least = min(here + there for here, there in zip(lost, reversed(lost), strict=True))
    return max(floor(2 * least) / 2, 0.0)


@dataclass(frozen=True)
class Laid:
    """A piece where it lies, in meshes from the sheet's corner."""

    names: tuple[str, ...]
    strip: int
    start: float  # in the direction of the sheet's fixed size
    along: float  # in the direction in which the sheet runs on
    fixed: float  # what it takes of the one
    run: float  # and of the other


@dataclass(frozen=True)
class Nest:
    """Pieces laid out on a sheet so many meshes wide (or deep) that runs on the other way."""

    size: float
    laid: tuple[Laid, ...]
    run: float  # meshes of the sheet that are used up
    waste: float  # part of those that is left over
    too_large: tuple[str, ...]  # pieces that the sheet cannot take


def nest(cuttings: Sequence[Cutting], size: float, runs_across: bool) -> Nest:
    """Lay pieces out on a sheet of a size across, or deep if it ``runs_across`` [meshes].

    Every piece takes ``cut_loss`` of a mesh more both ways, since the knots along a cut stay with one side.

    >>> laid = nest([Cutting("a", 10, 10, 5), Cutting("b", 9, 9, 5)], 20, False)
    >>> laid.run, [(piece.names, piece.start, piece.along) for piece in laid.laid]
    (5.5, [(('a',), 0.0, 0.0), (('b',), 10.5, 0.0)])
    """
    fits = [cutting for cutting in cuttings if _fixed(cutting, runs_across) <= size]
    too_large = tuple(cutting.name for cutting in cuttings if _fixed(cutting, runs_across) > size)
    floor_plan = _FloorPlan(size)
    for block in sorted(_blocks(fits, runs_across), key=lambda block: (-block[2], -block[1])):
        floor_plan.place(*block)
    used = sum(floor_plan.strips)
    area = sum(cutting.area for cutting in fits)
    waste = 1.0 - area / (used * size) if used else 0.0
    return Nest(size, tuple(floor_plan.laid), used, waste, too_large)


class _FloorPlan:
    """Strips across the sheet, each divided into slots in which pieces stand one behind the other."""

    def __init__(self, size: float) -> None:
        self.size = size
        self.strips: list[float] = []  # how much of the sheet's run each takes
        self.slots: list[list[tuple[float, float, float]]] = []  # start, fixed size, run taken so far
        self.laid: list[Laid] = []

    def place(self, names: tuple[str, ...], fixed: float, run: float) -> None:
        """In the first slot with room, else in a new slot, else in a new strip."""
        for strip, along in enumerate(accumulate(self.strips, initial=0.0)):
            if strip == len(self.strips):
                self.strips.append(run)
                self.slots.append([])
            spot = self._spot(strip, fixed, run)
            if spot is not None:
                start, taken = spot
                self.laid.append(Laid(names, strip, start, along + taken, fixed, run))
                return

    def _spot(self, strip: int, fixed: float, run: float) -> tuple[float, float] | None:
        """Where in a strip a piece has room, which is taken then: start, and what stands before it."""
        slots = self.slots[strip]
        for number, (start, room, taken) in enumerate(slots):
            if fixed <= room and taken + run <= self.strips[strip]:
                slots[number] = (start, room, taken + run)
                return start, taken
        start = sum((room for _, room, _ in slots), 0.0)
        if start + fixed > self.size:
            return None
        slots.append((start, fixed, run))
        return start, 0.0


def _fixed(cutting: Cutting, runs_across: bool) -> float:
    return (cutting.deep if runs_across else cutting.across) + allowance("cut_loss")


def _blocks(cuttings: Sequence[Cutting], runs_across: bool) -> list[tuple[tuple[str, ...], float, float]]:
    """Pieces as rectangles: names, what they take of the fixed size, what of the run."""
    loss = allowance("cut_loss")
    if not runs_across:
        return [((one.name,), one.across + loss, one.deep + loss) for one in cuttings]
    alike: dict[Cutting, int] = {}
    for one in cuttings:
        alike[one] = alike.get(one, 0) + 1
    blocks: list[tuple[tuple[str, ...], float, float]] = []
    for one, count in alike.items():
        pair = 2 * (one.across + loss) - one.saved
        blocks += [((one.name, one.name), one.deep + loss, pair)] * (count // 2)
        blocks += [((one.name,), one.deep + loss, one.across + loss)] * (count % 2)
    return blocks
