"""From an old net to another of the same meshes: what to cut open, knit on, take out and lace again."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from scipy.optimize import linear_sum_assignment

from net3d.errors import NetError
from net3d.plan.plan import HoopPlan, Plan, ThroatPlan
from net3d.shop.reuse import ALIKE
from net3d.spec.spec import NetSpec

NEAR = 0.02  # of its diameter: so near is a hoop that takes another's place; common practice, no source
OUT_OF_PLACE = 1e-4  # m: so little is in a change of place, where two hoops are as near
NEVER = 1e3  # m: a hoop that cannot take a place

Depth = tuple[bool, int]  # whether it is the tail, and its rows of bars
Change = tuple[int, int, bool]  # rows of bars that go, those that come, and whether it is a tail


class ReworkError(NetError):
    """Two nets of which one is not made of the other by knitting on and taking out rows."""


@dataclass(frozen=True)
class Opened:
    """A place where the old body is cut open. Rows of knots are those of the old net, from the mouth."""

    row: int  # whose knots are kept, the last before the cut
    out: int  # rows behind it that are taken out
    knit: int  # rows that are knitted on
    ends: bool = False  # whether nothing is behind

    @property
    def joined(self) -> int:
        """The row of old knots that the last row of bars is tied to."""
        return self.row + self.out + 1

    @property
    def turned(self) -> bool:
        """Whether what is behind comes to stand half a mesh turned."""
        return (self.knit - self.out) % 2 == 1


@dataclass(frozen=True)
class Hung:
    """A hoop of the new net, from 1: the old one in its place, and whether its lacing stays as it is."""

    hoop: int
    old: int | None
    stays: bool


@dataclass(frozen=True)
class Moved:
    """A throat of the new net, from 1: the old one that it is, and whether its lacing stays as it is."""

    throat: int
    old: int | None
    stays: bool


@dataclass(frozen=True)
class Rework:
    """All that makes the new net of the old one."""

    around: int
    opened: tuple[Opened, ...]  # mouth first
    hoops: tuple[Hung, ...]
    throats: tuple[Moved, ...]
    unlaced: tuple[int, ...]  # old hoops whose lacing is cut

    @property
    def cuts(self) -> int:
        """Bars that are cut to open the body: all around before and, where rows come out, behind them."""
        return 2 * self.around * sum((one.out > 0) + (not one.ends) for one in self.opened)

    @property
    def knots(self) -> int:
        """Knots that are tied, those of the rows that are joined with them."""
        return self.around * sum(one.knit + (not one.ends) for one in self.opened)


def rework(old: tuple[NetSpec, Plan], new: tuple[NetSpec, Plan]) -> Rework:
    """How the old net becomes the new one. Raises ReworkError where meshes or meshes around differ."""
    (_, was), (_, wanted) = old, new
    _refuse_others(was, wanted)
    opened, rows = _opened(was, wanted)
    places = {hoop.knot_row: hoop.number for hoop in was.hoops}
    aligned = {hoop.number: places.get(rows.get(hoop.knot_row, -1)) for hoop in wanted.hoops}
    taken = _hoops(was, wanted)
    hung = tuple(
        Hung(number, taken[number], taken[number] is not None and taken[number] == aligned[number])
        for number in aligned
    )
    kept = {one.old for one in hung if one.stays}
    unlaced = tuple(hoop.number for hoop in was.hoops if hoop.number not in kept)
    return Rework(was.meshes_around, opened, hung, _throats(was, wanted, hung), unlaced)


def _refuse_others(was: Plan, wanted: Plan) -> None:
    counts = {row.count for plan in (was, wanted) for piece in plan.body for row in piece.rows}
    if len(counts) > 1 or abs(wanted.stretched_mesh / was.stretched_mesh - 1.0) > ALIKE:
        raise ReworkError(
            "The two bodies are not of the same mesh and the same meshes around all along, so that one is "
            "not made of the other by rows. net3d reuse OLD --for NEW tells which pieces of the old one do."
        )


def _opened(was: Plan, wanted: Plan) -> tuple[tuple[Opened, ...], dict[int, int]]:
    """Where the body is opened, and the old row of every new row of knots that is an old one."""
    opened, rows = list[Opened](), {0: 0}
    whole, at, now = sum(rows for _, rows in _depths(was)), 0, 0
    for gone, come, tail in _changes(_depths(was), _depths(wanted)):
        if gone == come:  # where hoops alone change, they stand elsewhere on the same rows
            _link(rows, (now, at), gone)
        else:
            one = _between(at, gone, come, whole, tail)
            opened.append(one)
            _link(rows, (now, at), one.row - at)
            kept = at + gone - one.joined
            _link(rows, (now + come - kept, one.joined), kept)
        at, now = at + gone, now + come
    return tuple(opened), rows


def _depths(plan: Plan) -> list[Depth]:
    """Every part of the body with its rows of bars."""
    tail = [(True, plan.tail_rows)] if plan.tail else []
    return [*((False, section.bar_rows) for section in plan.sections), *tail]


def _changes(before: list[Depth], after: list[Depth]) -> list[Change]:
    """Rows that go and rows that come in their place, mouth first; whether it is a tail that changes.

    Of all ways to pair sections in their order the one that knits and takes out the fewest rows: the shortest
    path through a table of how many of either are dealt with.
    """
    ways: dict[tuple[int, int], tuple[int, list[Change]]] = {(0, 0): (0, [])}
    for i, j in product(range(len(before) + 1), range(len(after) + 1)):
        found = [ways[0, 0]] if not i and not j else []
        if i and j and before[i - 1][0] == after[j - 1][0]:
            (tail, gone), (_, come) = before[i - 1], after[j - 1]
            found.append(_longer(ways[i - 1, j - 1], (gone, come, tail), abs(gone - come)))
        if i:
            found.append(_longer(ways[i - 1, j], (before[i - 1][1], 0, False), before[i - 1][1]))
        if j:
            found.append(_longer(ways[i, j - 1], (0, after[j - 1][1], False), after[j - 1][1]))
        ways[i, j] = min(found, key=lambda way: way[0])
    return _together(ways[len(before), len(after)][1])


def _together(changes: list[Change]) -> list[Change]:
    """Changes with those made one that follow each other and would open the body at the same row."""
    merged: list[Change] = []
    for gone, come, tail in changes:
        last_gone, last_come, _ = merged[-1] if merged else (0, 0, False)
        whole = 0 in (gone, come) or 0 in (last_gone, last_come)
        if merged and whole and gone != come and last_gone != last_come:
            merged[-1] = (last_gone + gone, last_come + come, False)
        else:
            merged.append((gone, come, tail))
    return merged


def _longer(way: tuple[int, list[Change]], change: Change, rows: int) -> tuple[int, list[Change]]:
    return way[0] + rows, [*way[1], change]


def _link(rows: dict[int, int], first: tuple[int, int], count: int) -> None:
    """Note which new row of knots is which old one, so many after the first of both; each is so once."""
    new, old = first
    known = set(rows.values())
    for step in range(count + 1):
        if new + step not in rows and old + step not in known:
            rows[new + step] = old + step


def _between(at: int, gone: int, come: int, whole: int, tail: bool) -> Opened:
    """Rows of bars from row ``at`` on that become as many as come: opened in their middle, off the hoops.

    Where all go, or there are none, that is behind the hoop; a tail is changed at its end. Behind the
    ``whole`` body there is nothing to be joined.
    """
    kept = min(gone, come) if tail else max(min(gone, come) - 1, 0) // 2
    one = Opened(at + kept, max(gone - come, 0), max(come - gone, 0))
    return replace(one, ends=one.joined > whole)


def _hoops(was: Plan, wanted: Plan) -> dict[int, int | None]:
    """The old hoop that takes each place: the nearest in size, all together, and in place where two are."""
    cost = np.array([[_unlike(new, old) for old in was.hoops] for new in wanted.hoops])
    places, hoops = linear_sum_assignment(cost)
    fits = {
        int(place) + 1: int(hoop) + 1
        for place, hoop in zip(places, hoops, strict=True)
        if cost[place, hoop] < NEVER
    }
    return {hoop.number: fits.get(hoop.number) for hoop in wanted.hoops}


def _unlike(new: HoopPlan, old: HoopPlan) -> float:
    """How far an old hoop is from what a place wants [m]."""
    apart = abs(new.outside_diameter - old.outside_diameter)
    same = (new.material, new.rod_diameter, new.frame) == (old.material, old.rod_diameter, old.frame)
    if not same or apart > NEAR * new.outside_diameter:
        return NEVER
    return apart + OUT_OF_PLACE * abs(new.number - old.number)


def _throats(was: Plan, wanted: Plan, hung: tuple[Hung, ...]) -> tuple[Moved, ...]:
    """Every new throat by the first old one that is knitted like it and not taken yet."""
    left = list(was.throats)
    stays = {one.hoop: one.old for one in hung if one.stays}
    found = []
    for throat in wanted.throats:
        own = next((one for one in left if _knitted_alike(one, throat)), None)
        if own is not None:
            left.remove(own)
        kept = own is not None and stays.get(throat.hoop) == own.hoop
        found.append(Moved(throat.number, own.number if own else None, kept))
    return tuple(found)


def _knitted_alike(one: ThroatPlan, other: ThroatPlan) -> bool:
    counts = [[row.count for row in throat.piece.rows] for throat in (one, other)]
    return counts[0] == counts[1] and abs(one.bar / other.bar - 1.0) <= ALIKE
