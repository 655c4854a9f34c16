"""A hole mended: what to cut first, the passes of the twine, and what it takes."""

from __future__ import annotations

from collections.abc import Sequence

from net3d.handbook.allowances import allowance
from net3d.mending.lattice import Lattice
from net3d.mending.mended import Mended
from net3d.mending.trail import Pass, numbered
from net3d.plan.plan import Plan
from net3d.shop.lacing import lace
from net3d.shop.repairs import mesh_bar, repairs
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
RELACED = (
    "Tie hoop {hoop} to its netting at three places, cut the old hitches a quarter of the way around and sew "
    "that quarter before the next is cut, so that knots stay at their marks."
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


def mend_steps(mended: Mended) -> tuple[tuple[str, str], ...]:
    """What to do, step by step, each with its knots: one step a pass of the twine, every knot it comes to."""
    lattice, made = mended.hole.lattice, mended.way
    cut = _bars(lattice, made.trim.cut)
    start, finish = numbered(lattice, (made.trim.start, made.trim.finish))
    return (
        (f"Pick the torn ends out of the knots at the rim{', and cut:' if cut else '.'}", ", ".join(cut)),
        (f"Make the twine fast at {start}.", ""),
        *(_pass_step(lattice, one) for one in made.passes),
        (
            f"End at {finish}: make the twine fast and cut it.",
            "Draw the mend wide, then long: look it over.",
        ),
    )


def _pass_step(lattice: Lattice, one: Pass) -> tuple[str, str]:
    """A pass as it is read out at the bench; the knot at which it ends is tied in the next."""
    told = [
        f"{name} tie" if knot in one.tied and knot not in one.stops[at + 1 :] else name
        for at, (knot, name) in enumerate(zip(one.stops, numbered(lattice, one.stops), strict=True))
    ]
    way = "clockwise" if one.clockwise else "back"
    return f"Knit rows {one.row} and {one.row + 1}, {way}, from {told[0]}:", ", ".join(told[1:])


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
    title = f"{spec.title}: ways to close hole {mended.hole.number}"
    return Sheet("repairs", title, spec.tape, columns, rows, notes)


def relacing_sheet(spec: NetSpec, plan: Plan, hoop: int) -> Sheet:
    """The lacing of a worn hoop, from 1, cut and sewn anew by itself: one row a row of netting sewn to it."""
    columns = (
        Column("takes", "takes"),
        Column("hitches", "hitches"),
        Column("twine", "twine", "run"),
        Column("minutes", "minutes"),
    )
    rates, waste = spec.prices, 1.0 + allowance("waste_share")
    rows = tuple(
        (
            ", ".join([*(["body"] if one.body else []), *(part.title for part in one.throats)]),
            one.hitches,
            one.length * waste,
            max(round(60 * one.hitches * (1 / rates.cuts_per_hour + 1 / rates.hitches_per_hour)), 1),
        )
        for one in lace(plan, spec.lacing)
        if one.hoop == hoop
    )
    title = f"{spec.title}: hoop {hoop} laced anew"
    return Sheet("relacing", title, spec.tape, columns, rows, noted("how", RELACED.format(hoop=hoop)))


def mend_facts(spec: NetSpec, plan: Plan, mended: Mended) -> tuple[tuple[str, str], ...]:
    """What a mend takes, by name."""
    made, (one,) = mended.way, (one for one in repairs(spec, plan, mended) if one.way == "mend")
    start, finish = numbered(mended.hole.lattice, (made.trim.start, made.trim.finish))
    return (
        ("start", start),
        ("finish", finish),
        ("to knit", f"{_many(made.bars, 'bar', 'bars')}, {_many(one.knots, 'knot', 'knots')}"),
        ("twine", spec.tape.text(one.twine, "run")),
        ("torn", _many(len(made.trim.torn), "bar", "bars")),
        ("cut first", _many(one.cuts, "bar", "bars") if one.cuts else "nothing more"),
        ("mesh, stretched", spec.tape.mesh(2 * mesh_bar(plan, mended.hole)[0])),
        ("time", f"about {max(round(60 * one.hours), 1)} min"),
    )


def _notes(spec: NetSpec, plan: Plan, mended: Mended) -> tuple[Note, ...]:
    facts, made = dict(mend_facts(spec, plan, mended)), mended.way
    cut = ", ".join(_bars(mended.hole.lattice, made.trim.cut)) or facts["cut first"]
    return noted(
        "how",
        f"{_many(len(made.trim.torn), 'bar is', 'bars are')} torn. Cut first: {cut}. {TRIMMED}",
        f"Start at {facts['start']}, finish at {facts['finish']}: "
        f"{facts['to knit'].replace(', ', ' and ')}, {facts['twine']} of twine, {facts['time']}.",
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
