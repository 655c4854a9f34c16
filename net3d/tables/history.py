"""The history of a net: what was done to it, what went into it, and what is due."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date

from net3d.handbook.allowances import allowance, allowance_source
from net3d.spec.log import Entry
from net3d.spec.spec import NetSpec
from net3d.tables.sheet import Column, Note, Sheet, noted

MOVES = {"bridle moved", "built"}
DAYS_A_YEAR = 365.25


def history_sheet(spec: NetSpec, entries: Sequence[Entry], today: date) -> Sheet:
    """One row a thing that was done, the oldest first.

    Parameters
    ----------
    spec, entries : the net, and its record
    today : from which what is due is reckoned
    """
    columns = (Column("date", "day"), Column("kind", "what"), Column("note", "note"), Column("took", "took"))
    rows = tuple((one.day.isoformat(), one.kind, one.note, _took(spec, one)) for one in entries)
    notes = (*noted("fact", *_totals(spec, entries)), *_due(spec, entries, today))
    return Sheet("history", f"{spec.title}: its record", spec.tape, columns, rows, notes)


def _took(spec: NetSpec, entry: Entry) -> str:
    twine = [f"{name} {spec.tape.text(length, 'run')}" for name, length in entry.twine.items()]
    return ", ".join([*twine, *([f"dip {spec.tape.mass(entry.dip)}"] if entry.dip else [])])


def _totals(spec: NetSpec, entries: Sequence[Entry]) -> list[str]:
    """What went into the net over the years."""
    twine = defaultdict[str, float](float)
    for one in entries:
        for name, length in one.twine.items():
            twine[name] += length
    all_of_it = Entry(date.min, "", "note", "", twine, sum(one.dip for one in entries))
    took = _took(spec, all_of_it)
    return [f"All it took so far: {took}."] if took else []


def _due(spec: NetSpec, entries: Sequence[Entry], today: date) -> tuple[Note, ...]:
    """A bridle that stays where it is wears the same knots and bends the hoop the same way."""
    last = max((one.day for one in entries if one.kind in MOVES), default=None)
    years = allowance("bridle_years")
    if spec.rigging.bridle is None or last is None or (today - last).days < years * DAYS_A_YEAR:
        return ()
    legs = spec.rigging.bridle.legs
    text = (
        f"Due: the bridle's {legs} legs stand where they stood on {last.isoformat()}. Move them round to "
        f"other knots every year or two ({allowance_source('bridle_years')}), and log it as bridle moved."
    )
    return noted("how", text)
