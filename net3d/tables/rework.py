"""How an old net is made into another: steps in their order, and what they take."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.plan.plan import Plan
from net3d.shop.lacing import Lacing, lace
from net3d.shop.rework import Opened, Rework, rework
from net3d.spec.spec import NetSpec
from net3d.tables.sheet import Column, Sheet, noted

Net = tuple[NetSpec, Plan]
ROWS = (
    "Rows of knots are those of the old net, from row 0 at the mouth, as net3d cuts numbers them. Keep the "
    "old reference marks in line: sew every hoop in with its own mark at the mark of the netting."
)
ALIKE = "Nothing: body, hoops and throats are those of the old net."
RATES = "By the rates under [prices] of the new net; fitting, strings and rigging are not in it."


def rework_sheet(old: Net, new: Net) -> Sheet:
    """One row a step, from the old net to the new one."""
    found = rework(old, new)
    told = tuple(enumerate(list(_steps(old, new, found)) or [ALIKE], start=1))
    columns = (Column("step", "step"), Column("work", "work"))
    (was, _), (spec, _) = old, new
    notes = (*noted("fact", _sum(old, new, found)), *noted("how", ROWS), *noted("source", RATES))
    return Sheet("rework", f"{spec.title}: made of {was.title}", spec.tape, columns, told, notes)


def _steps(old: Net, new: Net, found: Rework) -> Iterator[str]:
    if found.unlaced:
        yield f"Cut the lacing of {_hoops(found.unlaced)} of the old net, and take {_it(found.unlaced)} out."
    for one in reversed(found.opened):
        yield _opening(one, found.around)
    yield from _throats(found)
    for hung in found.hoops:
        own = f"old hoop {hung.old}" if hung.old else "a new hoop"
        if not hung.stays:
            row = new[1].hoops[hung.hoop - 1].knot_row
            yield f"Hoop {hung.hoop}: sew {own} in at row {row} of the new net."
    spare = {hoop.number for hoop in old[1].hoops} - {hung.old for hung in found.hoops}
    if spare:
        yield f"Left over: {_hoops(tuple(sorted(spare)))} of the old net."


def _opening(one: Opened, around: int) -> str:
    turned = " What is behind is turned by half a mesh." if one.turned and not one.ends else ""
    if one.ends:
        return _at_the_end(one, around)
    if one.out:
        return (
            f"Cut the body open all around behind row {one.row} and before row {one.joined}, and take the "
            f"{one.out} rows between out. Join row {one.row} to the {around} knots of row {one.joined} with "
            f"one row of bars.{turned}"
        )
    return (
        f"Cut the body open all around between rows {one.row} and {one.joined}. Knit {one.knit} rows of "
        f"{around} knots on to row {one.row}, and tie the next row of bars to the {around} knots of row "
        f"{one.joined}.{turned}"
    )


def _at_the_end(one: Opened, around: int) -> str:
    if one.out:
        return f"Cut the netting off behind row {one.row}, which is the last one then."
    return f"Knit {one.knit} rows of {around} knots on to the last row, {one.row}."


def _throats(found: Rework) -> Iterator[str]:
    for one in found.throats:
        if one.old is None:
            yield f"Throat {one.throat}: knit it, and sew it in at its hoop."
        elif not one.stays:
            yield f"Throat {one.throat}: it is old throat {one.old}; sew it in at its new hoop."


def _hoops(numbers: tuple[int, ...]) -> str:
    *most, last = map(str, numbers)
    return f"hoops {', '.join(most)} and {last}" if most else f"hoop {last}"


def _it(numbers: tuple[int, ...]) -> str:
    return "them" if len(numbers) > 1 else "it"


def _sum(old: Net, new: Net, found: Rework) -> str:
    """Knots, hitches, cuts and hours."""
    (was, old_plan), (spec, plan) = old, new
    sewn = {one.hoop for one in found.hoops if not one.stays}
    sewn |= {plan.throats[one.throat - 1].hoop for one in found.throats if not one.stays}
    again = _hitches(lace(plan, spec.lacing), sewn)
    unlaced = _hitches(lace(old_plan, was.lacing), set(found.unlaced))
    throats = sum(plan.throats[one.throat - 1].knots for one in found.throats if one.old is None)
    knots, cuts, rates = found.knots + throats, found.cuts + unlaced, spec.prices
    hours = knots / rates.knots_per_hour + again / rates.hitches_per_hour + cuts / rates.cuts_per_hour
    return (
        f"In all {knots:,} knots, {again:,} hitches to sew and {cuts:,} cuts, {unlaced:,} of them old "
        f"hitches: about {hours:.1f} h."
    )


def _hitches(rows: tuple[Lacing, ...], hoops: set[int]) -> int:
    return sum(row.hitches for row in rows if row.hoop in hoops)
