"""A paper strip of a hoop's marks at full size, in lengths that a sheet of paper holds, to be joined."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from net3d.plan.plan import Plan
from net3d.shop.hoop_marks import Marking, markings, ties_on
from net3d.spec.spec import NetSpec
from net3d.tables.marks import takes_text, tied_text

BAND_LENGTHS = {"us-letter": 0.254, "a4": 0.27}  # m of strip on a sheet of paper laid on its long side
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
    length: float  # m, the last one shorter
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
    around = marking.hoop.circumference
    marks = _marks(spec, plan, marking)
    bands = tuple(
        Band(
            number + 1,
            min(band_length, around - number * band_length),
            tuple(
                StripMark(mark.at - number * band_length, mark.label, mark.reading, mark.tie)
                for mark in marks
                if number * band_length <= mark.at < (number + 1) * band_length
            ),
        )
        for number in range(ceil(around / band_length))
    )
    length = CHECK_LENGTHS[spec.tape.in_inches]
    about = f"{takes_text(marking)}: {marking.row.count} marks"
    return Strip(spec.title, marking.hoop.number, about, bands, length, spec.tape.thickness(length))


def _marks(spec: NetSpec, plan: Plan, marking: Marking) -> list[StripMark]:
    """Marks where they truly stand, labelled with the reading of the tape; ties beside them."""
    tape = spec.tape
    marks = [
        StripMark((marking.offset + number) * marking.pitch, str(number + 1), tape.reading(reading), False)
        for number, reading in enumerate(marking.readings)
    ]
    marks += [
        StripMark(reading, tied_text(ties.part), tape.reading(reading), True)
        for ties in (ties_on(spec, plan, marking.hoop) if marking.body else ())
        for reading in ties.readings
    ]
    return sorted(marks, key=lambda mark: mark.at)
