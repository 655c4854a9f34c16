"""Whether each throat fits: its strings, its room, its tip and what it does to the body."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

from net3d.checks.checks import Finding, Level
from net3d.checks.grading import graded
from net3d.plan.plan import Plan, ThroatPlan
from net3d.spec.spec import NetSpec
from net3d.statics.contact import INSIDE
from net3d.statics.shape import Passage, Shape, ThroatShape
from net3d.statics.throats import BEHIND_ITS_HOOP

TIGHT = "20%"


def check_throats(spec: NetSpec, plan: Plan, shape: Shape) -> list[Finding]:
    """Findings of every throat, in the order in which a maker would look."""
    findings: list[Finding] = []
    for planned, throat in zip(plan.throats, shape.throats, strict=bool(shape.throats)):
        findings += [_no_string_fits(spec, planned, throat)]
        findings += [_carries(spec, planned, throat), _hangs_loose(spec, planned, throat)]
        own = [passage for passage in throat.passages if passage.part == planned.part]
        findings += [_passing(_passage(spec, planned, passage), passage) for passage in own]
        if throat.pull_share >= spec.limits.threshold("string_hold").caution:  # loose strings go anywhere
            others = [passage for passage in throat.passages if passage.part != planned.part]
            findings += [_passing(_strings_pass(spec, planned, passage), passage) for passage in others]
        if len(planned.piece.changes) > BEHIND_ITS_HOOP:
            findings.append(_clear_of_body(spec, planned, throat))
        findings.append(_lies_on_body(spec, planned, throat))
        findings.append(_tip_before(spec, plan, shape, throat))
    if shape.throats:
        findings.append(_room_behind(spec, plan, shape))
    return findings


def check_decreases(plan: Plan) -> list[Finding]:
    """Whether meshes are lost where they were to be, in throats and in the body."""
    pieces = [(one.part, one.piece) for one in plan.throats]
    pieces += [(one.part, one.piece) for one in plan.sections]
    findings = []
    for part, piece in pieces:
        if not any(piece.wanted):
            continue
        first = next(row for row, change in enumerate(piece.changes, start=1) if change.gain)
        level = Level.CAUTION if piece.moved else Level.OK
        why = (
            "its edge is hung so wide that meshes cannot be taken together sooner"
            if piece.moved
            else "as planned"
        )
        name = part.place
        message = f"{name.capitalize()}: the first meshes are taken together in row {first}, {why}."
        numbers = float(first), float("nan")
        findings.append(Finding("decreases-moved", level, name, message, *numbers, REACH, part=part))
    return findings


REACH = "three knots lie within reach of two bars: geometry"


def _to_tie(spec: NetSpec, planned: ThroatPlan, throat: ThroatShape) -> str:
    strings = throat.strings
    if strings.to_tie < spec.limits.threshold("string_length").fail * planned.bar:
        return "No string that could be tied holds it: make it less deep first"
    shorter = _difference(spec, strings.to_tie - strings.tight)
    longer = _difference(spec, strings.loose - strings.to_tie)
    return (
        f"Tie its strings {spec.tape.length(strings.to_tie)} long; {shorter} shorter and the throat takes "
        f"{TIGHT} of the pull from the body, {longer} longer and it begins to hang loose in still water"
    )


def _difference(spec: NetSpec, metres: float) -> str:
    """A small difference of lengths, which may be less than the tape shows."""
    step = spec.marking.round
    return spec.tape.length(metres) if metres >= step / 2 else f"less than {spec.tape.length(step)}"


def _no_string_fits(spec: NetSpec, planned: ThroatPlan, throat: ThroatShape) -> Finding:
    """A throat that reaches to its ties leaves no length for strings that would hold it back."""
    bars = throat.strings.to_tie / planned.bar
    name = f"Throat {throat.number}"
    return graded(
        "no-string-fits",
        planned.part,
        bars,
        spec.limits.threshold("string_length"),
        (
            f"{name} leaves room for strings of {spec.tape.length(throat.strings.to_tie)}.",
            f"{name} reaches so near to its ties that hardly a string of any length holds it back. Make it "
            f"less deep, tie its strings to a hoop further back, or put more depth between the hoops.",
        ),
    )


def _carries(spec: NetSpec, planned: ThroatPlan, throat: ThroatShape) -> Finding:
    """By how much the body bags since the strings carry its pull; their share is the cause."""
    short = spec.tape.length(max(throat.strings.to_tie - throat.string_length, 0.0))
    behind = "the tail" if planned.strings.to_hoop is None else f"hoop {planned.strings.to_hoop}"
    name, advice = f"Throat {throat.number}", _to_tie(spec, planned, throat)
    return graded(
        "strings-carry-pull",
        planned.part,
        throat.bag / planned.bar,
        spec.limits.threshold("body_bag"),
        (
            f"{name} takes {throat.pull_share:.1%} of the pull from the body, which hangs as long as it "
            f"would. {advice}{_own_mesh(spec, planned, throat)}.",
            f"{name}'s strings are {short} too short: between hoop {throat.hoop} and {behind} they draw the "
            f"body {spec.tape.length(throat.bag)} shorter than it would hang, so that it bags, and carry "
            f"{throat.pull_share:.0%} of the pull. {advice}.",
        ),
    )


def _own_mesh(spec: NetSpec, planned: ThroatPlan, throat: ThroatShape) -> str:
    """Where strings are to be fitted to the net as tied, by how much they may be out."""
    if not wants_fitting(spec, planned, throat):
        return ""
    sure = throat.string_follows.either_way(spec.tolerances)
    return (
        f". Fit them to your own mesh, which may ask for {spec.tape.either_way(sure)} more or less: "
        "the table of strings goes by ten meshes of the finished body"
    )


def wants_fitting(spec: NetSpec, planned: ThroatPlan, throat: ThroatShape) -> bool:
    """Whether the mesh alone may put the strings out by more than does."""
    sure = throat.string_follows.either_way(spec.tolerances)
    return sure > spec.limits.threshold("body_bag").caution * planned.bar


def _hangs_loose(spec: NetSpec, planned: ThroatPlan, throat: ThroatShape) -> Finding:
    long = throat.string_length - throat.strings.to_tie
    name = f"Throat {throat.number}"
    why = (
        f"{name}'s strings are {spec.tape.length(long)} too long: nothing holds its tip back, and it hangs "
        f"loose. {_to_tie(spec, planned, throat)}."
        if long > spec.marking.round
        else f"{name} reaches so far that its strings stand across the net and hold nothing back. Make it "
        f"less deep, or tie its strings to a hoop further back."
    )
    return graded(
        "strings-loose",
        planned.part,
        throat.pull_share,
        spec.limits.threshold("string_hold"),
        (f"{name}'s tip is held back.", why),
    )


def _passage(spec: NetSpec, planned: ThroatPlan, passage: Passage) -> Finding:
    # A throat that lies on a waist may stand out of it by what lying on it is found within.
    inside = 0.0 if -INSIDE <= passage.room < 0 else passage.room
    room = spec.tape.length(abs(inside))
    name, place = f"Throat {planned.number}", _place(passage)
    if inside < 0:
        bad = f"{name} stands {room} outside {place}."
    elif inside < spec.marking.round / 2:
        bad = f"{name} lies against {place}."
    else:
        bad = f"{name} passes {place} only {room} from it, and a bar is {spec.tape.mesh(planned.bar)}."
    return graded(
        "throat-touches",
        planned.part,
        inside / planned.bar,
        spec.limits.threshold("throat_room"),
        (
            f"{name} passes {place} with {room} to spare.",
            f"{bad} Lose its meshes sooner (taper), or leave fewer at its tip.",
        ),
    )


def _strings_pass(spec: NetSpec, planned: ThroatPlan, passage: Passage) -> Finding:
    room = spec.tape.length(abs(passage.room))
    name, place = f"The strings of throat {planned.number}", _place(passage)
    where = f"{room} outside" if passage.room < 0 else f"only {room} inside"
    return graded(
        "strings-touch",
        planned.strings_part,
        passage.room / planned.bar,
        spec.limits.threshold("string_room"),
        (
            f"{name} pass {room} inside {place}.",
            f"{name} pass {where} {place}. Tie them to a smaller hoop, or to the nearest one behind the tip.",
        ),
    )


def _passing(found: Finding, passage: Passage) -> Finding:
    """A finding of what a throat or its strings pass, and there may be several of it."""
    return replace(found, where=f"{found.where} at {passage.place}")


def _place(passage: Passage) -> str:
    past, numbers = passage.past, " and ".join(map(str, passage.past.numbers))
    return f"the waist between hoops {numbers}" if past.kind.body else past.title


def _clear_of_body(spec: NetSpec, planned: ThroatPlan, throat: ThroatShape) -> Finding:
    name = f"Throat {throat.number}"
    room = spec.tape.length(max(throat.clearance, 0.0))
    return graded(
        "throat-near-body",
        planned.part,
        throat.clearance / planned.bar,
        spec.limits.threshold("throat_room"),
        (
            f"{name} keeps {room} clear of the body from two meshes behind hoop {throat.hoop} on.",
            f"{name} comes within {room} of the body more than two meshes behind hoop {throat.hoop}; a bar "
            f"is {spec.tape.mesh(planned.bar)}. Lose its meshes sooner (taper), or leave fewer at its tip.",
        ),
    )


def _lies_on_body(spec: NetSpec, planned: ThroatPlan, throat: ThroatShape) -> Finding:
    name = f"Throat {throat.number}"
    return graded(
        "throat-lies-on-body",
        planned.part,
        throat.lying_share,
        spec.limits.threshold("throat_lying"),
        (
            f"{name} hangs free of the body.",
            f"{name} sags: {throat.lying_share:.0%} of its knots lie on the body. "
            f"{_to_tie(spec, planned, throat)}.",
        ),
    )


def _tip_before(spec: NetSpec, plan: Plan, shape: Shape, throat: ThroatShape) -> Finding:
    """The tip must end before the next throat's hoop and before the hoop its own strings tie to."""
    planned = plan.throats[throat.number - 1]
    ahead = [
        (other.hoop, f"throat {other.number}'s hoop") for other in plan.throats if other.hoop > throat.hoop
    ]
    if planned.strings.to_hoop is not None:
        ahead.append((planned.strings.to_hoop, "the hoop that its strings tie to"))
    places = [(float(shape.hoop_positions[hoop - 1]), what) for hoop, what in ahead]
    place, what = min([*places, (shape.tail_end, "the end of the net")])
    room = place - throat.tip_position
    name = f"Throat {throat.number}"
    deep = len(planned.piece.changes) / 2
    meshes = ceil(2 * max(-room, 0.0) * deep / max(throat.length, planned.bar)) / 2
    stands = f"{name}'s tip stands {tip_place(spec, shape, throat.tip_position)}"
    return graded(
        "throat-tip-past",
        planned.part,
        room / planned.bar,
        spec.limits.threshold("tip_before"),
        (
            f"{stands}.",
            f"{stands}: {spec.tape.length(abs(room))} past {what}. Make the throat about {meshes:g} meshes "
            f"less deep, or put more depth between the hoops.",
        ),
    )


def tip_place(spec: NetSpec, shape: Shape, place: float) -> str:
    """Where a place, counted from the mouth hoop [m], is for the maker: how far behind which hoop."""
    behind = [number for number, hoop in enumerate(shape.hoop_positions, start=1) if hoop <= place]
    number = behind[-1] if behind else 1
    distance = spec.tape.length(place - float(shape.hoop_positions[number - 1]))
    return f"{distance} behind hoop {number}"


def _room_behind(spec: NetSpec, plan: Plan, shape: Shape) -> Finding:
    """Behind the last throat's tip the fish need room, up to the end of the tail."""
    last = max(shape.throats, key=lambda throat: throat.tip_position)
    end = float(shape.tail_end)
    room = end - last.tip_position
    part = plan.throats[last.number - 1].part
    across = plan.hoops[-1].widest
    text = f"{spec.tape.length(max(room, 0.0))} of room behind throat {last.number}'s tip"
    return graded(
        "room-behind-throat",
        part,
        room / across,
        spec.limits.threshold("room_behind"),
        (
            f"There is {text}.",
            f"There is only {text}, and the last hoop is {spec.tape.length(across)} across. Make the tail or "
            f"the last sections deeper, or the throat less deep.",
        ),
    )
