"""Order of work: a checklist from bare hoops to the finished net, each step with its numbers."""

from __future__ import annotations

from dataclasses import dataclass

from net3d.chain import Design
from net3d.checks.throats import tip_place
from net3d.netting.ribs import nearest
from net3d.netting.throats import corner_knots
from net3d.plan.guides import GuidePlan
from net3d.plan.legs import at_corners
from net3d.plan.parts import has_anchor_line
from net3d.plan.plan import HoopPlan, ThroatPlan
from net3d.shop.amounts import string_count
from net3d.shop.hoop_marks import Marking, markings
from net3d.shop.lacing import Lacing, lace
from net3d.shop.tubes import tubes
from net3d.spec.spec import NetSpec
from net3d.tables.cautions import (
    BENDING,
    DIP,
    HOT_KNIFE,
    LINES,
    LOCAL_CODE,
    ON_THE_WATER,
    RUNNING_TWINE,
    WEIGHT,
    WILDLIFE,
)
from net3d.tables.escapes import escape_words
from net3d.tables.guides import bends_text, held_by
from net3d.tables.marks import is_turned_over, layers_text, turn_text
from net3d.tables.strings import string_text

FIRST_HOLDS = 3  # places where the first hoop is held before it is laced: common practice, no source


@dataclass(frozen=True)
class Step:
    """One thing to do."""

    work: str
    numbers: str = ""
    caution: str = ""


def steps(design: Design) -> tuple[Step, ...]:
    """Every step, bare hoops first."""
    return (
        *_hoops(design),
        *_netting(design),
        *_hanging(design),
        *_ribs(design),
        *_rigging(design),
        *_escapes(design),
        *_guides(design),
        *_dipping(design),
        *_stretching(design),
        *(_tie_back(design, throat, place) for place, throat in enumerate(design.plan.throats)),
        *_finishing(design),
    )


def _hoops(design: Design) -> list[Step]:
    hoops = design.plan.hoops
    marks = sum(hoop.meshes_around for hoop in hoops)
    look = "lay each on the floor, look whether it is flat and round, and put a reference mark on it."
    if design.plan.framed:
        look = "lay each on the floor, look whether it is flat and true, and put a reference mark on it."
    if not all(hoop.is_true for hoop in hoops):
        look = "and keep on each the reference mark that it was measured from."
    used = [str(hoop.number) for hoop in hoops if is_used(design.spec, hoop)]
    reused = Step(
        "Reused hoops: cut or melt off the old lacing and push the old netting out.",
        f"hoop{'' if len(used) == 1 else 's'} {', '.join(used)}",
        caution=HOT_KNIFE,
    )
    return [
        *([reused] if used else []),
        Step(
            f"Number the hoops from the mouth, {look}",
            f"{len(hoops)} hoops",
            caution=BENDING,
        ),
        *_turn_over(design),
        Step("Mark every hoop with tape and chalk.", f"{marks} marks on {len(hoops)} hoops"),
    ]


def is_used(spec: NetSpec, hoop: HoopPlan) -> bool:
    """Whether a hoop was in a net before: it is at hand, or was measured as it had become."""
    return spec.hoops[hoop.number - 1].have or not hoop.is_true


def _turn_over(design: Design) -> list[Step]:
    """Hoops that are sewn in the other way round than they were measured, before they are marked."""
    over = [str(hoop.number) for hoop in design.plan.hoops if is_turned_over(design.spec, hoop)]
    work = (
        "Turn these hoops over, before they are marked: the side that lay up when they were measured goes"
        " toward the tail. Marks run clockwise as seen from the mouth, so now on this other side."
    )
    return [Step(work, f"hoop{'' if len(over) == 1 else 's'} {', '.join(over)}")] if over else []


def _netting(design: Design) -> list[Step]:
    plan = design.plan
    knots = plan.knots + sum(throat.knots for throat in plan.throats)
    throats = f" and {_counted(len(plan.throats), 'throat')}" if plan.throats else ""
    if design.spec.netting.made == "sheet":
        pieces = sum(len(tube.panels) for tube in tubes(plan))
        pairs = sum(tube.seam_knots for tube in tubes(plan))
        return [
            Step(f"Cut the body{throats} from the sheet.", _counted(pieces, "piece"), HOT_KNIFE),
            Step(
                "Lace the seams, side knot to side knot, each pair to one.",
                f"{pairs} pairs of knots with {design.spec.lacing.twine.name}",
                RUNNING_TWINE,
            ),
        ]
    return [Step(f"Knit the body{throats}.", f"{knots:,} knots of {plan.twine.name}", RUNNING_TWINE)]


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _hanging(design: Design) -> list[Step]:
    """Each hoop in turn from the end where the maker starts."""
    spec, plan = design.spec, design.plan
    laced: dict[int, list[Lacing]] = {}
    for row in lace(plan, spec.lacing):
        laced.setdefault(row.hoop, []).append(row)
    order = [marking for marking in markings(spec, plan) if marking.body]
    if spec.start == "tail":
        order.reverse()
    before = [None, *(marking.hoop for marking in order[:-1])]
    return [
        step
        for marking, last in zip(order, before, strict=True)
        for step in _hang(design, marking, laced[marking.hoop.number], last)
    ]


def _hang(design: Design, marking: Marking, laced: list[Lacing], last: HoopPlan | None) -> list[Step]:
    hoop = marking.hoop
    steps = [_turn(design, marking)] if hoop.meshes_turned else []
    if last is None:
        line = f"its first knot on mark {marking.first}" if steps else "reference marks in line"
        steps.append(
            Step(
                f"Hang hoop {hoop.number}, netting inside it, and hold the netting loosely in {FIRST_HOLDS}"
                f" places on row {hoop.knot_row} of its knots, {line}.",
                f"row {hoop.knot_row}, counted from the mouth",
                BENDING,
            )
        )
    steps += [_lace(design, marking, row, last) for row in laced]
    return steps


def _turn(design: Design, marking: Marking) -> Step:
    """A hoop that does not go in with its reference mark at the top."""
    return Step(
        f"Turn hoop {marking.hoop.number} before it is laced: {turn_text(design.spec, marking.hoop)}, as seen"
        " from the mouth.",
        f"the first knot of its row goes on mark {marking.first}",
    )


def _lace(design: Design, marking: Marking, row: Lacing, last: HoopPlan | None) -> Step:
    hoop = marking.hoop
    both = ", every hitch through both layers" if row.body and row.throats else ""
    away = (
        "" if last is None else f"{abs(hoop.knot_row - last.knot_row) / 2:g} meshes from hoop {last.number}; "
    )
    start = (
        "the first half a pitch off the reference mark" if hoop.half_pitch_off else "the first on the mark"
    )
    if hoop.meshes_turned:
        start = f"the first on mark {marking.first}"
    body = f"row {hoop.knot_row}, {away}" if row.body else ""
    return Step(
        f"Lace hoop {row.hoop}: {layers_text(row.body, row.throats)}{both}.",
        f"{body}{row.knots} knots, {start}; {row.hitches_per_knot} hitches each, "
        f"{design.spec.tape.run(row.length)} of {row.twine.name}",
        RUNNING_TWINE if last is None else "",
    )


def _dipping(design: Design) -> list[Step]:
    """Before the strings are tied: dip draws meshes and knots to what they stay."""
    work = "Dip the net, and the twine for its strings, and hang it outdoors for days, until it is dry."
    return [Step(work, "", DIP)] if design.spec.stock.dipped else []


def _stretching(design: Design) -> list[Step]:
    """How the net is held while its strings are tied: in air it would sag by its own weight."""
    if not design.plan.throats:
        return []
    anchored, free = ("tail", "mouth") if design.spec.rigging.anchor == "tail" else ("mouth", "tail")
    return [
        Step(
            f"Stretch the net: make the {anchored} fast, pull at the {free} by a weight over a pulley, and"
            " hold every hoop up by a line to its top, all middles at one height: in air the net sags by its"
            " own weight.",
            f"{design.spec.tape.force(design.plan.bench_pull)} of pull",
            WEIGHT,
        ),
        Step("Measure ten meshes of the finished body, stretched.", "the table of strings goes by them"),
    ]


def _tie_back(design: Design, throat: ThroatPlan, place: int) -> Step:
    hung = design.shape.throats[place]
    strings = throat.strings
    to = (
        "the gathered tail"
        if strings.to_hoop is None
        else f"hoop {strings.to_hoop}, at {strings.points} places"
    )
    line = (
        ""
        if throat.tip_line is None
        else f"Run the line through the tip, {design.spec.tape.length(throat.tip_line)} around. "
    )
    return Step(
        f"{line}Tie throat {throat.number} back to {to}, all strings alike, with a knot that can be moved,"
        f" the tip centred and open, {tip_place(design.spec, design.shape, hung.tip_position)}.",
        f"{string_count(throat)} strings{_at_corners(throat)}, {string_text(design, hung)}",
    )


def _at_corners(throat: ThroatPlan) -> str:
    """At which knots of a square tip its strings are tied; 1 is at the top, or the first after it."""
    if throat.tip_line is None:
        return ""
    row = throat.piece.rows[-1]
    knots, _ = corner_knots(row, throat.strings)
    numbers = ", ".join(str(knot + 1) for knot in sorted(knots))
    return f" at the tip's knots {numbers} of {row.count}, counted clockwise from the top"


def _ribs(design: Design) -> list[Step]:
    """Each set of rib lines, when the hoops at their ends are sewn in."""
    tape, steps = design.spec.tape.length, []
    for rib in design.plan.ribs:
        first, last = (design.plan.hoops[place - 1] for place in (rib.from_hoop, rib.to_hoop))
        meshes = (last.knot_row - first.knot_row) / 2
        marks = ", ".join(str(knot + 1) for knot in nearest(first.row.angles(), rib.starts))
        steps.append(
            Step(
                f"Tie {len(rib.starts)} rib lines to hoop {first.number}, at marks {marks}, lace the netting "
                f"to each along one column of meshes, and tie them to hoop {last.number}.",
                f"{tape(rib.length)} from hoop to hoop, a knot every {tape(rib.length / meshes)}",
            )
        )
    return steps


def _rigging(design: Design) -> list[Step]:
    rigging = design.spec.rigging
    steps: list[Step] = []
    if design.plan.tail is not None:
        steps.append(
            Step(
                "Run the drawstring through the last row of the tail and draw it shut.",
                f"{design.plan.tail.rows[-1].count} meshes",
            )
        )
    if rigging.bridle is not None:
        mouth = design.plan.hoops[0]
        first = f"the first leg at the {'top' if mouth.meshes_turned else 'reference mark'}"
        if at_corners(mouth, rigging.bridle.legs):
            first = "a leg at every corner"
        legs = (
            f"{rigging.bridle.legs} legs, {design.spec.tape.length(rigging.bridle.length)} from hoop to ring"
        )
        steps.append(Step(f"Splice the bridle to the mouth hoop and the ring, {first}.", legs))
    if has_anchor_line(design.spec, design.plan):
        anchored = "the gathered tail" if rigging.anchor == "tail" else "the bridle's ring"
        line = f"{design.spec.tape.length(rigging.line)} from {anchored} to the anchor"
        steps.append(Step("Splice the anchor line.", line))
    return steps


def _escapes(design: Design) -> list[Step]:
    """Each way out: what is cut and where, and how its frame is laced; lines across the mouth; floats."""
    spec, plan = design.spec, design.plan
    return [Step(*words) for escape in plan.escapes for words in escape_words(spec, plan, escape)]


def _guides(design: Design) -> list[Step]:
    """Each wing and the leader: hung on its lines, then tied to the mouth."""
    tape, steps = design.spec.tape, []
    if design.plan.pair:
        steps.append(
            Step("Make the second net as this one, but without a leader.", "all of the steps before")
        )
    for guide in design.plan.guides:
        floats, leads = guide.float_line, guide.lead_line
        two = len(guide.sides) > 1
        each, twice = ("each of its two pieces", ", twice") if two else ("it", "")
        made = "Cut" if design.spec.netting.made == "sheet" else "Knit"
        at = "the middle of the mouth" if guide.spec.side == "middle" else "the side of the mouth"
        steps += [
            Step(
                f"{made} {guide.part.title}, a flat piece{twice}.",
                f"{guide.spec.long} meshes long and {guide.spec.deep} deep, of {guide.twine.name}",
                HOT_KNIFE if made == "Cut" else RUNNING_TWINE,
            ),
            Step(
                f"Hang {guide.part.title} on its lines, {each} with the meshes evenly taken up, floats on "
                "the upper line and leads on the lower.",
                f"{guide.spec.long} meshes on {tape.length(floats.length)} above and "
                f"{tape.length(leads.length)} below, {floats.pieces} floats, {leads.pieces} leads",
            ),
            Step(
                f"Sew the end of {guide.part.title} to {at}, from the bottom up, and {_far_end(guide)}; "
                "leave the lines a little slack.",
                f"{guide.spec.deep} meshes up, {tape.length(guide.height)} high; lines "
                f"{guide.spec.slack:.1%} longer than the way; {_turns(design, guide)}",
                LINES,
            ),
        ]
    return steps


def _far_end(guide: GuidePlan) -> str:
    """What is done with its far end."""
    if guide.spec.pair:
        return "its other end to the middle of the mouth of the second net"
    if guide.spec.anchor is None:
        return "its other end to a stake"
    return "its other end to a pole, head and foot of which are tied to the line of an anchor"


def _turns(design: Design, guide: GuidePlan) -> str:
    """What holds it, and where it turns."""
    turns = f", it turns {bends_text(guide)}" if guide.spec.bends else ""
    return f"held by {held_by(design.spec, guide)}{turns}"


def _finishing(design: Design) -> list[Step]:
    tape, shape = design.spec.tape, design.shape
    sure = tape.either_way(shape.length_follows.either_way(design.spec.tolerances))
    apart = ", ".join(tape.length(section.length) for section in shape.sections)
    tips = ", throat tips centred and open" if design.plan.throats else ""
    return [
        Step(
            f"Stretch the net out and look: no meshes bagging, none bar-tight alone{tips}.",
            f"{tape.length(shape.length)} from the first hoop to the last, {sure} either way; hoop to hoop"
            f" {apart}",
        ),
        Step("Look it over once more, tag it, and compare it with the rules of your water.", "", LOCAL_CODE),
        Step("Set it.", "", f"{ON_THE_WATER} {WILDLIFE}"),
    ]
