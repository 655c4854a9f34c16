"""A hole mended: what to cut first, the passes of the twine, and what it takes."""

from __future__ import annotations

from collections.abc import Sequence

from net3d.handbook.allowances import allowance
from net3d.handbook.knots import knot_factor
from net3d.mending.lattice import Lattice
from net3d.mending.mended import Mended
from net3d.mending.trail import numbered
from net3d.plan.plan import Plan
from net3d.shop.repairs import repairs
from net3d.spec.spec import NetSpec
from net3d.tables.sheet import Column, Note, Sheet, noted

NUMBERING = (
    "Rows and knots are those of the knitting table (net3d cuts): 7:12 is knot 12 of row 7, clockwise as "
    "seen from the mouth. Every knot is tied when the twine comes to it the last time."
)
TRIMMED = (
    "Trimmed like this every knot at the rim keeps two bars, but for the two where the twine starts and "
    "ends, which keep three."
)
WAYS = {
    "mend": "mended knot by knot",
    "patch": "a patch laced in",
    "new": "knitted anew",
}
PATCHED = (
    "A patch covers the hole squared to a block of whole knots, and is laced in with a hitch at every knot "
    "of the rim. Knitted anew is the throat, or the body from hoop to hoop, and laced to its hoops again, "
    "the old lacing cut first."
)
RATES = "By the rates under [prices]: knots_per_hour, hitches_per_hour, cuts_per_hour."
GAUGE = "Knit on the gauge of the net as it is now, and draw every knot as tight as its neighbours."


def mend_sheet(spec: NetSpec, plan: Plan, mended: Mended) -> Sheet:
    """One row a pass of the twine, from the start to the finish."""
    lattice, made = mended.hole.lattice, mended.way
    columns = (
        Column("pass", "pass"),
        Column("between_rows", "between rows"),
        Column("way", "way around"),
        Column("bars", "bars"),
        Column("ties", "tie at"),
    )
    rows = tuple(
        (
            number,
            f"{one.row} and {one.row + 1}",
            "clockwise" if one.clockwise else "back",
            len(one.bars),
            _ranges(lattice, one.tied) or "nothing",
        )
        for number, one in enumerate(made.passes, start=1)
    )
    title = f"{spec.title}: hole {mended.hole.number}, in {mended.hole.place}"
    return Sheet("mend", title, spec.tape, columns, rows, _notes(spec, plan, mended))


def repair_sheet(spec: NetSpec, plan: Plan, mended: Mended) -> Sheet:
    """The ways to close a hole, least work first."""
    columns = (
        Column("way", "way"),
        Column("knots", "knots"),
        Column("hitches", "hitches"),
        Column("cuts", "cuts"),
        Column("twine", "twine", "run"),
        Column("minutes", "minutes"),
    )
    ways = repairs(spec, plan, mended)
    rows = tuple(
        (WAYS[one.way], one.knots, one.hitches, one.cuts, one.twine, max(round(60 * one.hours), 1))
        for one in ways
    )
    least, next_ = (WAYS[one.way] for one in ways[:2])
    told = f"Least work: {least}. Next: {next_}, {ways[1].hours / ways[0].hours:.1f} times as long."
    notes = (*noted("fact", told), *noted("how", PATCHED), *noted("source", RATES))
    return Sheet(
        "repairs", f"{spec.title}: ways to close hole {mended.hole.number}", spec.tape, columns, rows, notes
    )


def _notes(spec: NetSpec, plan: Plan, mended: Mended) -> tuple[Note, ...]:
    lattice, made = mended.hole.lattice, mended.way
    start, finish = numbered(lattice, (made.trim.start, made.trim.finish))
    twine = made.twine(plan.bar, plan.twine.diameter, knot_factor()) * (1 + allowance("waste_share"))
    minutes = 60 * (made.ties / spec.prices.knots_per_hour + len(made.trim.cut) / spec.prices.cuts_per_hour)
    cut = "nothing more" if not made.trim.cut else ", ".join(_bars(lattice, made.trim.cut))
    return noted(
        "how",
        f"{_many(len(made.trim.torn), 'bar is', 'bars are')} torn. Cut first: {cut}. {TRIMMED}",
        f"Start at {start}, finish at {finish}: {_many(made.bars, 'bar', 'bars')} and {made.ties} knots, "
        f"{spec.tape.text(twine, 'run')} of twine, about {max(round(minutes), 1)} min.",
        NUMBERING,
        GAUGE,
    )


def _many(count: int, one: str, more: str) -> str:
    return f"{count} {one if count == 1 else more}"


def _bars(lattice: Lattice, bars: frozenset[int]) -> list[str]:
    return [" to ".join(numbered(lattice, tuple(lattice.ends[bar].tolist()))) for bar in sorted(bars)]


def _ranges(lattice: Lattice, knots: Sequence[int]) -> str:
    """Knots in their order, neighbours that follow each other told by the first and the last."""
    runs: list[list[int]] = []
    for knot in knots:
        joined = runs and abs(knot - runs[-1][-1]) == 1 and _row(lattice, knot) == _row(lattice, runs[-1][-1])
        if joined and (len(runs[-1]) < 2 or knot - runs[-1][-1] == runs[-1][-1] - runs[-1][-2]):
            runs[-1].append(knot)
        else:
            runs.append([knot])
    ends = [tuple(numbered(lattice, tuple(run))) for run in runs]
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]}-{run[-1].split(':')[1]}" for run in ends)


def _row(lattice: Lattice, knot: int) -> int:
    return lattice.row_and_place(knot)[0]
