"""Netting cut from sheet: pieces whose meshes are lost at the seams, and the panels to cut them from.

Where two edges cut B meet in a seam, the seam's knot takes the last loop of the one panel and the first of
the other: a bating there. Where both are cut N, the seam passes a row between two knots and loses nothing.
So a tube seamed from panels is the same netting as one knotted in the round with its batings at the seams.
Where meshes are lost evenly, each seam loses its own cycle by cycle, as a straight edge is cut by eye.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import accumulate
from math import floor, pi

import numpy as np

from net3d.errors import Problem, SpecError
from net3d.plan.decreases import Edge, Piece, Reach, share_out, stands
from net3d.plan.joins import PLAIN, Join, Row, RowChange, join_rows
from net3d.plan.narrowing import meshes_deep
from net3d.plan.placing import half_pitch
from net3d.plan.taper import Run, Taper, joined, taper

PANELS = (1, 2, 4)
SEAM_ANGLES = {1: (0.0,), 2: (pi / 2,), 4: (pi / 4, 3 * pi / 4)}  # on the right side; the left mirrors it
EXTRAS = {1: (0,), 2: (0, 1), 4: (0, 3, 1, 2)}  # which seams lose the odd meshes, mirrored pairs first

Seams = tuple[int, ...]  # places around in half knots: 2 k on knot k, 2 k + 1 between knots k and k + 1


@dataclass(frozen=True)
class Panel:
    """A flat piece of netting between two seams, as it is cut from the sheet."""

    across_first: float  # meshes, seam to seam
    across_last: float
    left: Taper  # seen from the first row, the side that comes first going around
    right: Taper
    knots: int  # in it, side knots included, those of its first row too
    first_knots: int  # along its first edge, side knots included

    @property
    def deep(self) -> float:
        """Depth [meshes]."""
        return self.left.deep


@dataclass(frozen=True)
class _SeamRow:
    """Where the seams stand in a row, and how many meshes each still has to lose (or gain)."""

    row: Row
    seams: Seams
    done: tuple[int, ...]


@dataclass(frozen=True)
class _Step:
    """What the seams do from a row to the next, and whether reach keeps one from losing a mesh there."""

    change: RowChange
    lost: tuple[int, ...]  # at each seam
    held: bool


def first_seams(row: Row, panels: int) -> Seams:
    """Where the seams of 1, 2 or 4 panels start: at the top, the sides, or between; never at the bottom.

    What lies on the river's bed wears first, so no seam lies there: common practice, no source.

    >>> first_seams(Row(44), 1), first_seams(Row(44), 4)
    ((0,), (11, 33, 55, 77))
    """
    half = half_pitch(row) or 0
    if panels == 1:
        return (-half % (2 * row.count),)
    right = [round(2 * (angle - row.phase) / row.pitch) for angle in SEAM_ANGLES[panels]]
    return tuple(sorted([*right, *((-2 * half - place) % (2 * row.count) for place in right)]))


def cut_down(edge: Edge, wanted: tuple[int, ...], seams: Seams) -> Piece | None:
    """A piece that loses ``wanted[k]`` meshes in row k + 1, or as near as seams allow, all at the seams.

    Below zero a row gains meshes. A seam changes at most one mesh a row, and only where it passes through a
    knot. Meshes that are lost evenly are lost cycle by cycle, as edges are cut straight; off a hoop that is
    hung too wide for that, from as few meshes further down as will do. None where some cannot stand in any
    row, or where two seams would meet.
    """
    shares = _shares(sum(wanted), len(seams))
    if is_even(wanted):
        for late, cycles in enumerate(_straight(shares, seams, len(wanted))):
            piece = _followed(edge, wanted, seams, cycles, put_off=False)
            if piece is not None:
                return replace(piece, moved=late > 0)
    return _followed(edge, wanted, seams, tuple(_in_step(wanted, share) for share in shares))


def is_even(wanted: tuple[int, ...]) -> bool:
    """Whether rows lose (or gain) meshes evenly, so that edges are cut straight."""
    return wanted == share_out(sum(wanted), len(wanted), 0.0)


def _followed(
    edge: Edge,
    wanted: tuple[int, ...],
    seams: Seams,
    quotas: tuple[tuple[int, ...], ...],
    put_off: bool = True,
) -> Piece | None:
    """The piece whose seams have lost their quotas by each row, or as soon below as they can, if put off."""
    state, reach = _SeamRow(edge.row, seams, (0,) * len(seams)), _all_of(edge.row)
    rows, changes, held = [edge.row], [], False
    for number in range(len(wanted)):
        step = _change_at_seams(edge, reach, state, (number, quotas))
        if step.held and not put_off:
            return None
        join = join_rows(state.row, step.change)
        reach = reach.below(join)
        done = tuple(before + one for before, one in zip(state.done, step.lost, strict=True))
        state = _SeamRow(join.below, step_seams(state.seams, join), done)
        if len(set(state.seams)) < len(seams):  # a panel has run out to a point before the others
            return None
        held = held or step.held
        rows.append(join.below)
        changes.append(step.change)
    if state.done != tuple(quota[-1] for quota in quotas):
        return None
    return Piece(tuple(rows), tuple(changes), wanted, held, seams)


def narrow_to_seams(edge: Edge, wanted: tuple[int, ...], key: str, seams: Seams) -> Piece:
    """The same; raises SpecError for the spec's ``key`` where the seams cannot take it."""
    piece = cut_down(edge, wanted, seams)
    if piece is not None:
        return piece
    raise SpecError("seams", (Problem(key, _refusal(edge, wanted, len(seams))),))


def throat_to_seams(edge: Edge, wanted: tuple[int, ...], key: str, panels: int | None) -> Piece:
    """A throat of 1, 2 or 4 panels, the fewest that do unless ``panels`` says how many.

    Raises SpecError for the spec's ``key`` where none do.
    """
    for number in (panels,) if panels else PANELS[:-1]:
        piece = cut_down(edge, wanted, first_seams(edge.row, number))
        if piece is not None:
            return piece
    return narrow_to_seams(edge, wanted, key, first_seams(edge.row, panels or PANELS[-1]))


def last_seams(piece: Piece) -> Seams:
    """Where the seams of a piece pass its last row; none for a piece knotted in the round."""
    return _Course.along((piece,)).places[-1] if piece.seams else ()


def step_seams(seams: Seams, join: Join) -> Seams:
    """Where the seams pass the next row.

    Through the knot where the two loops beside the seam are taken together, or where the loop that it passes
    is taken; between the knots of the two loops otherwise.
    """
    return tuple(_step(seam, join) for seam in seams)


def panels_of(pieces: tuple[Piece, ...]) -> tuple[Panel, ...]:
    """The panels that pieces hanging from each other are cut from, each as deep as all of them.

    Raises ValueError for pieces without seams, which are knotted in the round.
    """
    course = _Course.along(pieces)
    seams = range(len(course.places[0]))
    tapers = [course.taper(seam) for seam in seams]
    return tuple(
        Panel(
            across_first=course.width(0, seam),
            across_last=course.width(-1, seam),
            left=tapers[seam],
            right=tapers[(seam + 1) % len(tapers)],
            knots=sum(course.knots(number, seam) for number in range(len(course.rows))),
            first_knots=course.knots(0, seam),
        )
        for seam in seams
    )


def seam_knots(pieces: tuple[Piece, ...]) -> int:
    """How many knots the seams make, each of two side knots.

    Raises ValueError for pieces without seams.
    """
    return sum(place % 2 == 0 for places in _Course.along(pieces).places for place in places)


@dataclass(frozen=True)
class _Course:
    """The seams of pieces that hang from each other, followed from the first row to the last."""

    rows: tuple[Row, ...]
    changes: tuple[RowChange, ...]
    places: tuple[Seams, ...]  # one entry a row

    @classmethod
    def along(cls, pieces: tuple[Piece, ...]) -> _Course:
        if not pieces or not pieces[0].seams:
            raise ValueError("this netting is knotted in the round, not cut")
        joins = [join for piece in pieces for join in piece.joins]
        return cls(
            (pieces[0].rows[0], *(join.below for join in joins)),
            tuple(change for piece in pieces for change in piece.changes),
            tuple(accumulate(joins, step_seams, initial=pieces[0].seams)),
        )

    def width(self, number: int, seam: int) -> float:
        """Meshes in a row from a seam to the next one around."""
        places, around = self.places[number], 2 * self.rows[number].count
        between = (places[(seam + 1) % len(places)] - places[seam]) % around
        return (between or around) / 2

    def knots(self, number: int, seam: int) -> int:
        """Knots in a row of the panel behind a seam, its side knots included."""
        first = self.places[number][seam]
        return (first + round(2 * self.width(number, seam))) // 2 - (first + 1) // 2 + 1

    def taper(self, seam: int) -> Taper:
        """How both edges at a seam are cut; half an N of its own comes first where it starts off a knot."""
        steps = zip(self.places, self.places[1:], self.changes, strict=False)
        runs = [_cut(before[seam], after[seam], change) for before, after, change in steps]
        halves = self.places[0][seam] % 2
        return Taper((*runs[:halves], *joined(runs[halves:])))


def _cut(before: int, after: int, change: RowChange) -> Run:
    """The cut from a row to the next: along a bar where the seam passes through knots of both."""
    if before % 2 or after % 2:
        return Run("N", 0.5)
    return Run("B", 1, outward=before // 2 in change.creasings)


def _step(place: int, join: Join) -> int:
    knot = place // 2
    if place % 2:
        (taken,) = join.owner[(join.left == knot) & (join.right != knot)]
        return 2 * int(taken)
    extra = join.owner[(join.left == knot) & (join.right == knot)]
    if len(extra):
        return 2 * int(extra[0])
    (before,) = join.owner[(join.right == knot) & (join.left != knot)]
    (after,) = join.owner[(join.left == knot) & (join.right != knot)]
    return 2 * int(before) + (0 if before == after else 1)


def _change_at_seams(
    edge: Edge, reach: Reach, state: _SeamRow, due: tuple[int, tuple[tuple[int, ...], ...]]
) -> _Step:
    """Which seams lose or gain a mesh in this row: those that are due and can."""
    number, quotas = due
    change, lost, held = PLAIN, [0] * len(state.seams), False
    for seam, (place, quota) in enumerate(zip(state.seams, quotas, strict=True)):
        if place % 2 or not _is_due(quota, state.done[seam], number):
            continue
        one = 1 if quota[-1] > 0 else -1
        more = _with_seam(change, place // 2, one, state.row)
        if one < 0 or stands(edge, reach.below(join_rows(state.row, more)), number + 1):
            change, lost[seam] = more, one
        else:
            held = True
    return _Step(change, tuple(lost), held)


def _is_due(quota: tuple[int, ...], done: int, number: int) -> bool:
    """Whether a seam is behind, or has so much left that it cannot pass two rows without losing any."""
    left, rows_left = abs(quota[-1] - done), len(quota) - 1 - number
    behind = abs(quota[number + 1]) > abs(done)
    return left > 0 and (behind or left > rows_left - 2)


def _with_seam(change: RowChange, knot: int, losing: int, row: Row) -> RowChange:
    if losing > 0:
        return RowChange((*change.batings, (knot - 1) % row.count), change.creasings)
    return RowChange(change.batings, (*change.creasings, knot))


def _refusal(edge: Edge, wanted: tuple[int, ...], seams: int) -> str:
    lost, deep = sum(wanted), meshes_deep(len(wanted))
    places = first_seams(edge.row, seams)
    fewer_lost = (
        (less, share_out(less, len(wanted), 0.0)) for less in range(min(lost - 1, seams * len(wanted)), 0, -1)
    )
    most = next((less for less, shares in fewer_lost if cut_down(edge, shares, places)), 0)
    fewer = f"lose {most} at most, down to {edge.row.count - most} meshes around, " if most else ""
    more = "cut it from more panels, " if seams < PANELS[-1] else ""
    return (
        f"{lost} of {edge.row.count} meshes cannot be lost in a depth of {deep} at {seams} "
        f"seam{'s' if seams > 1 else ''}: a seam takes one mesh a row, and none close to a hoop that is hung "
        f'wide. What would work: {fewer}make it deeper, {more}or knit it: made = "hand-tied"'
    )


def _shares(total: int, seams: int) -> tuple[int, ...]:
    """How many meshes each seam loses (or gains), the left as the right."""
    odd = EXTRAS[seams][: total % seams]
    return tuple(total // seams + (seam in odd) for seam in range(seams))


def _straight(shares: tuple[int, ...], seams: Seams, joins: int) -> Iterator[tuple[tuple[int, ...], ...]]:
    """How many meshes each seam is to have lost by each row (seams, rows + 1), cut straight.

    From the first row on, then with N before the cycles: one, two, as many as leave the rows for them.
    """
    starts = [(share, place % 2) for share, place in zip(shares, seams, strict=True)]
    spare = min(joins - abs(share) - half for share, half in starts)
    for lead in range(0, spare + 1, 2):
        yield tuple(_cycle_by_cycle(share, joins, half + lead) for share, half in starts)


def _cycle_by_cycle(share: int, joins: int, lead: int) -> tuple[int, ...]:
    """The same of one seam; ``lead`` rows come before its cycles."""
    sign = 1 if share > 0 else -1
    runs = taper(abs(share) / 2, (joins - lead) / 2).runs
    losses = [sign * (run.cut == "B") for run in runs for _ in range(run.rows)]
    return tuple(accumulate([0] * lead + losses, initial=0))


def _in_step(wanted: tuple[int, ...], share: int) -> tuple[int, ...]:
    """The same where a seam loses its share in step with the whole row."""
    total = sum(wanted)
    return tuple(floor(lost * share / total + 0.5) if total else 0 for lost in accumulate(wanted, initial=0))


def _all_of(row: Row) -> Reach:
    return Reach(np.arange(row.count), np.zeros(row.count, dtype=int), row.count)
