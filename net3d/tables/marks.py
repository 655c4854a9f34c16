"""The marks sheet: where the chalk goes on every hoop."""

from __future__ import annotations

from net3d.drawings.hoop_words import corners_text, size_text
from net3d.parts import BRIDLE, Part
from net3d.plan.plan import HoopPlan, Plan
from net3d.shop.hoop_marks import Marking, markings, ties_on
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
FRAMED = (
    "A frame's reference mark is in the middle of its upper side. Its marks run on along the outside of"
    " the bend at every corner; the tape must lie close there."
)
SLIGHT = 1e-6  # of a pitch; less is nothing
TURNED = (
    "Clockwise as seen from the mouth, also for a hoop that is turned over: turn it over first, then mark it."
    " The top is where the netting's rows start."
)


def mark_notes(plan: Plan) -> tuple[str, ...]:
    """How to mark this net's hoops: lines from a centre carry no marks inward where a hoop is oval."""
    return (*NOTES, *((NESTED,) if plan.nests else ()), *((FRAMED,) if plan.framed else ()))


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
        Column("hanging_ratio", "hanging ratio"),
        Column("row_starts", "row starts"),
        Column("stepped_pitch", "one pitch on the tape", "reading"),
        Column("stepping_error", "stepping it overshoots by", "reading"),
        Column("takes", "marks take"),
        Column("ties", "tied between the marks"),
        *([Column("sewn_in", "sewn in")] if turned else []),
        *([Column("size", "size"), Column("corners", "corners at")] if plan.framed else []),
        *(Column("mark", f"mark {number}", "reading", number) for number in range(1, longest + 1)),
    )
    rows = tuple(
        (
            *_row(spec, plan, marking),
            *([text] if turned else []),
            *([size_text(spec.tape, marking.hoop), corners_text(spec, marking.hoop)] if plan.framed else []),
            *_padded(marking, longest),
        )
        for marking, text in zip(marked, sewn, strict=True)
    )
    title = f"{spec.title}: marks on the hoops"
    return Sheet("marks", title, spec.tape, columns, rows, notes, read_down=True)


def starts_text(marking: Marking) -> str:
    """Where the first mark stands, from the reference mark."""
    offset = marking.offset
    if offset < SLIGHT:
        return "on the reference mark"
    return "half a pitch off" if abs(offset - 0.5) < SLIGHT else f"{offset:.2f} of a pitch off"


def tied_text(part: Part) -> str:
    """What is tied to a hoop between its marks.

    >>> tied_text(BRIDLE), tied_text(Part.strings(1))
    ('bridle legs', 'strings of throat 1')
    """
    return "bridle legs" if part == BRIDLE else f"strings of throat {part.numbers[0]}"


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
    """What else is tied to a hoop and at which readings, on one line."""
    return "; ".join(
        f"{tied_text(ties.part)} at {spec.tape.readings(ties.readings)}" for ties in ties_on(spec, plan, hoop)
    )


def is_turned_over(spec: NetSpec, hoop: HoopPlan) -> bool:
    """Whether what was measured as a hoop's mouth side faces the tail."""
    return spec.hoops[hoop.number - 1].flip


def turn_text(spec: NetSpec, hoop: HoopPlan) -> str:
    """Where a hoop's reference mark stands, in meshes and along the hoop; empty where it is at the top."""
    meshes = hoop.meshes_turned
    if not meshes:
        return ""
    back = hoop.meshes_around - meshes
    meshes, way = (back, "counter-clockwise") if back < meshes else (meshes, "clockwise")
    far = spec.tape.length(meshes * hoop.pitch)
    return f"reference mark {meshes} {'mesh' if meshes == 1 else 'meshes'} ({far}) {way} of the top"


def sewn_text(spec: NetSpec, marking: Marking) -> str:
    """How a hoop is turned before it is sewn in, and which of its marks then takes the row's first knot."""
    hoop = marking.hoop
    over = "turned over" if is_turned_over(spec, hoop) else ""
    turned = turn_text(spec, hoop)
    start = f"the row starts at mark {marking.first}" if turned else ""
    return ", ".join(filter(None, (over, turned, start)))


def _stepped(marking: Marking) -> tuple[Cell, Cell]:
    """One pitch on the tape and by how much steps of it miss; nothing where pitches differ by the side."""
    if marking.hoop.outline.curve.spread:
        return None, None
    return marking.stepped_pitch, marking.stepping_error


def _padded(marking: Marking, longest: int) -> list[Cell]:
    return [*marking.readings, *[None] * (longest - len(marking.readings))]


def _row(spec: NetSpec, plan: Plan, marking: Marking) -> tuple[Cell, ...]:
    hoop = marking.hoop
    return (
        hoop.number,
        None if hoop.is_frame else hoop.outside_diameter,
        hoop.circumference,
        len(marking.readings),
        None if marking.hoop.outline.curve.spread else marking.pitch,
        hoop.hanging_ratio if marking.body else None,
        starts_text(marking),
        *_stepped(marking),
        takes_text(marking),
        ties_text(spec, plan, hoop) if marking.body else "",
    )
