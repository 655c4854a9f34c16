"""The marks sheet: where the chalk goes on every hoop."""

from __future__ import annotations

from dataclasses import dataclass

from net3d.parts import Part
from net3d.plan.joins import Row
from net3d.plan.marking import mark_readings, step_around
from net3d.plan.plan import HoopPlan, Plan
from net3d.spec.spec import NetSpec
from net3d.tables.cautions import BENDING
from net3d.tables.sheet import Cell, Column, Sheet, noted

NESTED = (
    "Hoops laid nested about one centre, reference marks in line: a straight edge from the centre carries"
    " the outer hoop's marks inward to every hoop whose row starts alike."
)
NOTES = (
    (
        "Measure with the tape around the outside of the hoop, from the reference mark at the top, clockwise "
        "as seen from the mouth."
    ),
    (
        "Every reading is rounded once, so errors do not add up. Stepping one rounded pitch around instead "
        "overshoots the first mark by the figure shown (a minus sign: falls short of it)."
    ),
    (
        "Where a row starts half a pitch off, its first mark is not the reference mark: the half mesh before"
        " it turns the row."
    ),
)
TURNED = (
    "Clockwise as seen from the mouth, also for a hoop that is turned over: turn it over first, then mark it."
    " The top is where the netting's rows start."
)


@dataclass(frozen=True, eq=False)
class Marking:
    """One set of marks on a hoop. Lengths in m."""

    hoop: HoopPlan
    body: bool  # whether a mark takes the body
    throats: tuple[Part, ...]  # that it takes, in the same hitches
    row: Row  # its angles counted from the hoop's own reference mark
    first: int  # number of the mark that takes the first knot of the netting's row
    readings: tuple[float, ...]
    stepped_pitch: float
    stepping_error: float

    @property
    def pitch(self) -> float:
        """From mark to mark along the outside."""
        return self.hoop.outline.pitch(self.row.count)

    @property
    def starts(self) -> str:
        """Where the first mark stands, from the reference mark."""
        share = self.row.phase / self.row.pitch
        if share < 1e-6:
            return "on the reference mark"
        return "half a pitch off" if abs(share - 0.5) < 1e-6 else f"{share:.2f} of a pitch off"


def markings(spec: NetSpec, plan: Plan) -> tuple[Marking, ...]:
    """The marks of every hoop, mouth first; a throat's own marks after those of the body."""
    marked = []
    for hoop in plan.hoops:
        throats = [throat for throat in plan.throats if throat.hoop == hoop.number]
        shared = tuple(throat.part for throat in throats if not throat.own_marks)
        marked.append(_marking(spec, hoop, hoop.row, (True, shared)))
        marked += [
            _marking(spec, hoop, throat.piece.rows[0], (False, (throat.part,)))
            for throat in throats
            if throat.own_marks
        ]
    return tuple(marked)


def mark_notes(plan: Plan) -> tuple[str, ...]:
    """How to mark this net's hoops: lines from a centre carry no marks inward where a hoop is oval."""
    nested = () if any(hoop.outline.oval.numbers for hoop in plan.hoops) else (NESTED,)
    return (*NOTES, *nested)


def marks_sheet(spec: NetSpec, plan: Plan) -> Sheet:
    """Tape readings of every mark, one row a hoop; printed one column a hoop.

    Readings and lengths are SI [m] in the cells; the columns name the spec's unit.
    """
    marked = markings(spec, plan)
    longest = max(len(marking.readings) for marking in marked)
    sewn = [sewn_text(spec, marking) for marking in marked]
    turned = any(sewn)
    how = (*mark_notes(plan), *((TURNED,) if turned else ()))
    notes = (*noted("how", *how), *noted("caution", BENDING))
    columns = (
        Column("hoop", "hoop"),
        Column("outside_diameter", "outside diameter", "reading"),
        Column("outside_circumference", "outside circumference", "reading"),
        Column("marks", "marks"),
        Column("pitch", "pitch", "length"),
        Column("hanging_ratio", "hanging ratio E1"),
        Column("row_starts", "row starts"),
        Column("stepped_pitch", "one pitch on the tape", "reading"),
        Column("stepping_error", "stepping it overshoots by", "reading"),
        Column("takes", "marks take"),
        Column("ties", "tied between the marks"),
        *([Column("sewn_in", "sewn in")] if turned else []),
        *(Column("mark", f"mark {number}", "reading", number) for number in range(1, longest + 1)),
    )
    rows = tuple(
        (*_row(spec, plan, marking), *([text] if turned else []), *_padded(marking, longest))
        for marking, text in zip(marked, sewn, strict=True)
    )
    title = f"{spec.title}: marks on the hoops"
    return Sheet("marks", title, spec.tape, columns, rows, notes, read_down=True)


def ties(spec: NetSpec, plan: Plan, hoop: HoopPlan) -> list[tuple[str, tuple[float, ...]]]:
    """What else is tied to a hoop, and at which tape readings [m]: bridle legs, throats' strings."""
    tied = []
    if hoop.number == 1 and spec.rigging.bridle is not None:
        tied.append(("bridle legs", Row(spec.rigging.bridle.legs)))
    tied += [
        (f"strings of throat {throat.number}", Row(throat.strings.points, throat.strings.turn))
        for throat in plan.throats
        if throat.strings.to_hoop == hoop.number
    ]
    return [(what, _readings(spec, hoop, row)) for what, row in tied]


def layers_text(body: bool, throats: tuple[Part, ...]) -> str:
    """What a hitch takes, layer by layer.

    >>> layers_text(True, (Part.throat(1),))
    'body and throat 1'
    """
    return " and ".join([*(["body"] if body else []), *(throat.title for throat in throats)])


def takes_text(marking: Marking) -> str:
    """What every mark takes."""
    return layers_text(marking.body, marking.throats)


def ties_text(spec: NetSpec, plan: Plan, hoop: HoopPlan) -> str:
    """The same as ``ties`` in the spec's units, on one line."""
    return "; ".join(f"{what} at {spec.tape.readings(readings)}" for what, readings in ties(spec, plan, hoop))


def _marking(spec: NetSpec, hoop: HoopPlan, row: Row, takes: tuple[bool, tuple[Part, ...]]) -> Marking:
    """Marks for a row of netting, on a hoop that may be turned under it."""
    own = row.seen_from(hoop.turn)
    first = row.place_of_first(hoop.turn)
    steps = step_around(hoop.circumference, row.count, spec.marking.round)
    return Marking(hoop, *takes, own, first, _readings(spec, hoop, row), *steps)


def is_turned_over(spec: NetSpec, hoop: HoopPlan) -> bool:
    """Whether what was measured as a hoop's mouth side faces the tail."""
    return spec.hoops[hoop.number - 1].flip


def turn_text(spec: NetSpec, hoop: HoopPlan) -> str:
    """Where a hoop's reference mark stands, in meshes and along the hoop; empty where it is at the top."""
    meshes = hoop.meshes_turned
    if not meshes:
        return ""
    far = spec.tape.length(meshes * hoop.pitch)
    return f"reference mark {meshes} {'mesh' if meshes == 1 else 'meshes'} ({far}) clockwise of the top"


def sewn_text(spec: NetSpec, marking: Marking) -> str:
    """How a hoop is turned before it is sewn in, and which of its marks then takes the row's first knot."""
    hoop = marking.hoop
    over = "turned over" if is_turned_over(spec, hoop) else ""
    turned = turn_text(spec, hoop)
    start = f"the row starts at mark {marking.first}" if turned else ""
    return ", ".join(filter(None, (over, turned, start)))


def _readings(spec: NetSpec, hoop: HoopPlan, row: Row) -> tuple[float, ...]:
    """Tape readings of some places, from the hoop's own reference mark clockwise."""
    own = row.seen_from(hoop.turn)
    offset = hoop.outline.length(own.phase)
    return tuple(mark_readings(hoop.circumference, own.count, offset, spec.marking.round).tolist())


def _padded(marking: Marking, longest: int) -> list[Cell]:
    return [*marking.readings, *[None] * (longest - len(marking.readings))]


def _row(spec: NetSpec, plan: Plan, marking: Marking) -> tuple[Cell, ...]:
    hoop = marking.hoop
    return (
        hoop.number,
        hoop.outside_diameter,
        hoop.circumference,
        len(marking.readings),
        marking.pitch,
        hoop.hanging_ratio if marking.body else None,
        marking.starts,
        marking.stepped_pitch,
        marking.stepping_error,
        takes_text(marking),
        ties_text(spec, plan, hoop) if marking.body else "",
    )
