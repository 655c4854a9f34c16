"""A paper strip of a hoop's marks at full size, in lengths that a sheet of paper holds, to be joined."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil

from net3d.plan.plan import Plan
from net3d.shop.hoop_marks import Marking, markings, ties_on
from net3d.spec.spec import NetSpec
from net3d.tables.marks import takes_text, tied_text

BAND_LENGTHS = {"us-letter": 0.242, "a4": 0.258}  # m of strip on a sheet of paper on its long side, at most
LABEL = 0.022  # m from a mark to the end of its band, for its label
BEFORE_MARK = 0.003  # m: where there is less, the band ends so far before the mark
CHECK_LENGTHS = {True: 0.2032, False: 0.2}  # m to lay a rule against, in inch specs or not


@dataclass(frozen=True)
class StripMark:
    """A mark on a band: where, in m from its left end, what is written at it, and whether it is a tie."""

    at: float
    label: str
    reading: str
    tie: bool


@dataclass(frozen=True)
class Band:
    """One length of the strip."""

    number: int
    length: float  # m
    marks: tuple[StripMark, ...]


@dataclass(frozen=True)
class Strip:
    """All bands of one set of marks, and a length to check the printer's scale against."""

    title: str
    hoop: int
    about: str
    bands: tuple[Band, ...]
    check_length: float  # m
    check_text: str


def strips(spec: NetSpec, plan: Plan, hoop: int, paper: str) -> tuple[Strip, ...]:
    """The strips of a hoop: the body's marks, and a throat's own where it has its own. Raises IndexError."""
    wanted = [marking for marking in markings(spec, plan) if marking.hoop.number == hoop]
    if not wanted:
        raise IndexError(hoop)
    return tuple(_strip(spec, plan, marking, BAND_LENGTHS[paper]) for marking in wanted)


def _strip(spec: NetSpec, plan: Plan, marking: Marking, band_length: float) -> Strip:
    marks = _marks(spec, plan, marking)
    ends = _ends([mark.at for mark in marks if not mark.tie], marking.hoop.circumference, band_length)
    bands = tuple(
        Band(
            number,
            end - start,
            tuple(replace(mark, at=mark.at - start) for mark in marks if start <= mark.at < end),
        )
        for number, (start, end) in enumerate(pairwise(ends), start=1)
    )
    length = CHECK_LENGTHS[spec.tape.in_inches]
    about = f"{takes_text(marking)}: {marking.row.count} marks"
    return Strip(spec.title, marking.hoop.number, about, bands, length, spec.tape.thickness(length))


def _ends(marks: Sequence[float], around: float, longest: float) -> list[float]:
    """Where bands begin and end: all about as long, but just before a mark whose label had no room there.

    Parameters
    ----------
    marks : where they stand along the strip [m]
    around : how long it is [m]
    longest : a band may be [m]

    >>> _ends([0.0, 0.1, 0.19, 0.3], 0.4, 0.25)
    [0.0, 0.187, 0.4]
    """
    count = ceil(around / (longest - LABEL))
    ends = [around * number / count for number in range(1, count)]
    crowded = [
        next((at - BEFORE_MARK for at in marks if at - BEFORE_MARK < end < at + LABEL), end) for end in ends
    ]
    return [0.0, *crowded, around]


def _marks(spec: NetSpec, plan: Plan, marking: Marking) -> list[StripMark]:
    """Marks where they truly stand, labelled with the reading of the tape; ties beside them."""
    tape = spec.tape
    marks = [
        StripMark(marking.hoop.outline.length(arc), str(number), tape.reading(reading), False)
        for number, (arc, reading) in enumerate(
            zip(marking.row.angles().tolist(), marking.readings, strict=True), start=1
        )
    ]
    marks += [
        StripMark(reading, tied_text(ties.part), tape.reading(reading), True)
        for ties in (ties_on(spec, plan, marking.hoop) if marking.body else ())
        for reading in ties.readings
    ]
    return sorted(marks, key=lambda mark: mark.at)
