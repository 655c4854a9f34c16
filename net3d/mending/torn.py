"""What is torn of a net, as a maker counts it: knots by their row and their place around."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from net3d.errors import Problem
from net3d.mending.lattice import Lattice, lattice_of
from net3d.mending.trimming import HoleError
from net3d.parts import TAIL, Part
from net3d.plan.decreases import Piece
from net3d.plan.plan import Plan
from net3d.spec.holes import RUN_SHAPE, BarEnds, KnotRun, Tear, read_run
from net3d.spec.spec import NetSpec


@dataclass(frozen=True, eq=False)
class Hole:
    """A hole of a net."""

    number: int  # from 1
    throat: int | None  # None: in the body
    lattice: Lattice  # of the piece it is in
    bars: frozenset[int]  # that are torn, of the lattice

    @property
    def place(self) -> str:
        """In what it is."""
        return "the body" if self.throat is None else f"throat {self.throat}"


def holes_of(spec: NetSpec, plan: Plan) -> tuple[Hole, ...]:
    """The holes that a spec tells of. Raises SpecError with all that is no knot or bar of the net."""
    holes, wrong = list[Hole](), list[Problem]()
    for number, hole in enumerate(spec.holes, start=1):
        try:
            holes.append(hole_in(plan, hole, number))
        except HoleError as error:
            wrong += [Problem(f"hole[{number}]", line) for line in str(error).splitlines()]
    if wrong:
        raise spec.source.problems(wrong)
    return tuple(holes)


def hole_in(plan: Plan, hole: Tear, number: int = 1) -> Hole:
    """A hole in the netting of a plan.

    Parameters
    ----------
    plan, hole : the net, and what is torn of it
    number : of the hole, from 1
    """
    lattice = lattice_of(*pieces_of(plan, hole.throat))
    row = plan.hoops[hole.hoop - 1].knot_row if hole.hoop else 0
    return Hole(number, hole.throat, lattice, torn_bars(lattice, hole, row))


def typed_hole(plan: Plan, texts: tuple[str, ...], throat: int | None) -> Hole:
    """The hole of torn knots such as 7:12-15. Raises HoleError with all that are no knots of the netting.

    Parameters
    ----------
    plan, texts : the net, and its torn knots
    throat : that they are in, from 1; None: the body
    """
    lattice = lattice_of(*pieces_of(plan, throat))
    runs = [(text, read_run(text)) for text in texts]
    wrong = [f"{text!r} is no row and knot: {RUN_SHAPE}." for text, run in runs if run is None]
    read = tuple(run for _, run in runs if run is not None)
    if wrong := wrong + [fault for run in read for fault in _fault(lattice, run, 0)]:
        raise HoleError("\n".join(wrong))
    return hole_in(plan, Tear(throat, None, read, ()))


def pieces_of(plan: Plan, throat: int | None) -> tuple[Piece, ...]:
    """The body from the mouth to the tail, or a throat. Raises HoleError where there is none."""
    if throat is None:
        return plan.body
    if not 1 <= throat <= len(plan.throats):
        raise HoleError(f"There is no throat {throat}: the net has {len(plan.throats)}.")
    return (plan.throats[throat - 1].piece,)


def parts_of(plan: Plan, throat: int | None) -> tuple[Part, ...]:
    """The parts whose bars, one after the other, are those of the lattice of a piece."""
    if throat is not None:
        return (plan.throats[throat - 1].part,)
    return (*(section.part for section in plan.sections), *((TAIL,) if plan.tail else ()))


def torn_bars(lattice: Lattice, hole: Tear, row: int = 0) -> frozenset[int]:
    """The bars that are torn: those named, and those at torn knots.

    Raises HoleError with everything that is no knot or bar of the netting, a line each.

    Parameters
    ----------
    lattice, hole : the netting, and what is torn of it
    row : from which its rows are counted
    """
    wrong = [fault for run in hole.knots for fault in _fault(lattice, run, row)]
    named = [_bar(lattice, (upper, lower), row) for upper, lower in hole.bars]
    wrong += [
        f"there is no bar from {a}:{b} to {c}:{d}: write two knots that are tied to each other."
        for ((a, b), (c, d)), found in zip(hole.bars, named, strict=True)
        if not found
    ]
    if wrong:
        raise HoleError("\n".join(wrong))
    knots = {knot for run in hole.knots for knot in _knots(lattice, run, row)}
    return lattice.bars_at(knots).union(*named)


def _fault(lattice: Lattice, run: KnotRun, row: int) -> Iterator[str]:
    most, own = len(lattice.counts) - 2, run.row + row
    if not 1 <= own <= most:
        rows = f"{max(1 - row, 0)} to {most - row}"
        yield f"'{run}': there is no row {run.row} to be torn: write a row from {rows}."
    elif not (1 <= run.first <= lattice.counts[own] and 1 <= run.last <= lattice.counts[own]):
        yield f"'{run}': row {run.row} has knots 1 to {lattice.counts[own]}."


def _knots(lattice: Lattice, run: KnotRun, row: int) -> set[int]:
    own = run.row + row
    over = range((run.last - run.first) % lattice.counts[own] + 1)
    return {lattice.knot(own, run.first - 1 + more) for more in over}


def _bar(lattice: Lattice, ends: BarEnds, row: int) -> frozenset[int]:
    """The bar between two knots, or both where two are; nothing where they are not tied to each other."""
    rows = len(lattice.counts)
    if not all(0 <= at + row < rows and 1 <= knot <= lattice.counts[at + row] for at, knot in ends):
        return frozenset()
    wanted = sorted(lattice.knot(at + row, knot - 1) for at, knot in ends)
    return frozenset(np.flatnonzero((np.sort(lattice.ends, axis=1) == wanted).all(axis=1)).tolist())
