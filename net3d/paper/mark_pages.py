"""The hoops and their marks on paper: a table of the hoops, then the tape readings of each."""

from __future__ import annotations

from collections.abc import Mapping

from net3d.chain import Design
from net3d.drawings.hoop_words import corners_text, size_text
from net3d.paper.pages import REST, Cautions, Drawing, Facts, Notes, Page, Readings, listing
from net3d.parts import Part
from net3d.shop.hoop_marks import Marking, markings, ties_on
from net3d.tables.marks import marks_sheet, sewn_text, starts_text, takes_text, tied_text

SETS = (
    (48, 4, 23.0),
    (56, 4, 18.0),
    (72, 4, 16.0),
    (100, 5, 15.0),
)  # marks at most, columns, figures [pt]
ELSEWHERE = (  # columns that stand on the page of each hoop, or are of no use at the bench
    "hanging_ratio",
    "stepped_pitch",
    "stepping_error",
    "ties",
    "corners",
    "mark",
)
ROOM_FOR_TURNS = ("row_starts", "pitch")  # columns that give way to how hoops are turned


def mark_pages(design: Design, drawings: Mapping[str, str]) -> tuple[Page, ...]:
    """The hoops together, then every set of marks; hoops marked alike share a page."""
    alike: dict[tuple[object, ...], list[Marking]] = {}
    for marking in markings(design.spec, design.plan):
        tied = tuple((ties.part, ties.readings) for ties in ties_on(design.spec, design.plan, marking.hoop))
        sewn = sewn_text(design.spec, marking)
        alike.setdefault((marking.readings, marking.body, marking.throats, tied, sewn), []).append(marking)
    pages = (page for group in alike.values() for page in _pages(design, group, drawings))
    return (_hoops_page(design, drawings), *pages)


def _hoops_page(design: Design, drawings: Mapping[str, str]) -> Page:
    sheet = marks_sheet(design.spec, design.plan)
    keys = [column.key for column in sheet.columns]
    left_out = (*ELSEWHERE, *(ROOM_FOR_TURNS if "sewn_in" in keys else ()))
    shown = sheet.picked([key for key in keys if key not in left_out])
    table = listing(shown, wide=["row_starts", "takes", "sewn_in", "size"])
    nested = drawings.get("nested-hoops") if design.plan.nests else None
    picture = [Drawing(nested, "The hoops nested about one centre", height=5.1)] if nested else []
    return Page("Hoops and marks", (table, Cautions(sheet.cautions), *picture, Notes(sheet.remarks)))


def _pages(design: Design, group: list[Marking], drawings: Mapping[str, str]) -> list[Page]:
    marking, name = group[0], _name(group)
    cells, most = _cells(design, marking), SETS[-1][0]
    first, *others = [cells[start : start + most] for start in range(0, len(cells), most)]
    view = drawings.get(Part.hoop(marking.hoop.number).name)
    picture = [Drawing(view, f"Hoop {marking.hoop.number}", height=REST)] if view else []
    return [
        Page(name, (Facts(tuple(_facts(design, marking))), _readings(first), *picture)),
        *(Page(f"{name}, continued", (_readings(chunk),)) for chunk in others),
    ]


def _readings(cells: tuple[tuple[str, str, str], ...]) -> Readings:
    """As large as leaves room for the hoop's drawing below."""
    across, size = next((across, size) for most, across, size in SETS if len(cells) <= most)
    return Readings(cells, across, size)


def _name(group: list[Marking]) -> str:
    numbers = [str(marking.hoop.number) for marking in group]
    own = "" if group[0].body else f", marks of {takes_text(group[0])}"
    if len(numbers) == 1:
        return f"Hoop {numbers[0]}{own}"
    return f"Hoops {', '.join(numbers[:-1])} and {numbers[-1]}, marked alike{own}"


def _cells(design: Design, marking: Marking) -> tuple[tuple[str, str, str], ...]:
    return tuple(
        (str(number), design.spec.tape.reading(reading), "")
        for number, reading in enumerate(marking.readings, start=1)
    )


def miss_text(miss: str, nothing: str, *, past: bool) -> str:
    """How far from a mark one comes out, told by the tape.

    >>> miss_text("3/8 in", "0 in", past=True), miss_text("0 in", "0 in", past=False)
    ('3/8 in past', 'on')
    """
    if miss == nothing:
        return "on"
    return f"{miss} {'past' if past else 'short of'}"


def _facts(design: Design, marking: Marking) -> list[tuple[str, str]]:
    spec, hoop, tape = design.spec, marking.hoop, design.spec.tape.length
    ends = miss_text(tape(abs(marking.stepping_error)), tape(0.0), past=marking.stepping_error > 0)
    steps = f"{len(marking.readings)} steps of it end {ends} the first mark"
    one_pitch = f"{tape(marking.stepped_pitch)} on the tape; {steps}"
    if hoop.frame and hoop.frame.sides:
        one_pitch = f"by the side, {', '.join(map(str, hoop.frame.sides))} meshes: go by the readings alone"
    corners = [("Corners at", corners_text(spec, hoop))] if hoop.is_frame else []
    facts = [
        *([("Frame", size_text(spec.tape, hoop))] if hoop.is_frame else []),
        ("Around the outside", tape(hoop.circumference)),
        ("Marks", f"{len(marking.readings)}, the first {starts_text(marking)}"),
        ("Every mark takes", takes_text(marking)),
        ("One pitch", one_pitch),
        *corners,
    ]
    sewn = sewn_text(spec, marking)
    facts += [("Sewn in", sewn)] if sewn else []
    tied = ties_on(spec, design.plan, hoop) if marking.body else ()
    return facts + [(f"Tie {tied_text(ties.part)} at", ", ".join(map(tape, ties.readings))) for ties in tied]
