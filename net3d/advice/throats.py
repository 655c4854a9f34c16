"""What to change about throats, their strings and tips; a function a kind of finding."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor

from net3d.advice.amounts import half_meshes, typed_length, typed_number
from net3d.advice.trying import Case, Changes, Way

EVEN = (0.25, 0.0)  # tapers that lose meshes earlier
HELD = (0.1, 0.15, 0.2)  # shares of the pull that hold a tip further back
FAR = 6  # half meshes that a tip is taken back at the most, one by one


def tie_strings(case: Case) -> Iterator[Way]:
    """Strings of another length, or tied elsewhere, or a throat that does not reach so far."""
    number = case.numbers[0]
    yield from tie_right(case, number)
    yield to_other_hoops(case, number)
    yield less_deep(case, number)
    yield to_tail(case, number)


def tie_right(case: Case, number: int) -> Iterator[Way]:
    """A throat's strings as long as they should be, alone or with those of the others."""
    spec, shapes = case.base.spec, case.base.shape.throats
    tied = {
        f"throat.{throat.number}.strings.length": typed_length(spec.tape, throat.strings.to_tie)
        for throat in shapes
        if spec.throats[throat.number - 1].strings.length is not None
    }
    key = f"throat.{number}.strings.length"
    if key in tied:
        yield [{key: tied[key]}, tied, {key: "fit"}] if len(tied) > 1 else [tied, {key: "fit"}]
    elif spec.throats[number - 1].strings.share != 0.05:
        yield [{f"throat.{number}.strings.share": 0.05}]


def to_other_hoops(case: Case, number: int) -> Way:
    """Strings to another hoop, one further back first."""
    spec, planned = case.base.spec, case.base.plan.throats[number - 1].strings
    throat = spec.throats[number - 1]
    now = planned.to_hoop or len(spec.hoops) + 1
    behind = [hoop for hoop in range(throat.hoop + 1, len(spec.hoops) + 1) if hoop != now]
    own = {f"throat.{number}.strings.to_tail": False} if throat.strings.to_tail else {}
    return [
        {**own, f"throat.{number}.strings.to_hoop": hoop, **_fitted(case, number)}
        for hoop in sorted(behind, key=lambda hoop: (hoop < now, abs(hoop - now)))
    ]


def to_tail(case: Case, number: int) -> Way:
    """Strings to the gathered end of the tail."""
    spec, planned = case.base.spec, case.base.plan.throats[number - 1].strings
    if spec.tail is None or planned.to_hoop is None:
        return []
    key = f"throat.{number}.strings"
    hoop: Changes = {f"{key}.to_hoop": None} if spec.throats[number - 1].strings.to_hoop else {}
    return [{**hoop, f"{key}.to_tail": True, **_fitted(case, number)}]


def _fitted(case: Case, number: int) -> Changes:
    """Strings that are worked out anew where their length was given."""
    given = case.base.spec.throats[number - 1].strings.length is not None
    return {f"throat.{number}.strings.length": "fit"} if given else {}


def less_deep(case: Case, number: int) -> Way:
    """A throat that reaches less far, half a mesh after the other."""
    deep = case.base.spec.throats[number - 1].deep
    return [{f"throat.{number}.deep": less} for less in half_meshes(deep, -0.5, FAR)]


def reach_less(case: Case) -> Iterator[Way]:
    """A tip that stands past something: a throat as deep as leaves it before it, or more netting behind."""
    spec, number = case.base.spec, case.numbers[0]
    throat, shape = spec.throats[number - 1], case.base.shape.throats[number - 1]
    past = -case.finding.value * throat.stretched / 2
    start = ceil(2 * past / (shape.length / throat.deep)) / 2
    yield _nearer(case, number, throat.deep - max(start, 0.5))
    yield to_other_hoops(case, number)
    place = min(throat.hoop, len(spec.sections.deep))
    deep, more = spec.sections.deep[place - 1], ceil(2 * past / throat.stretched) / 2
    yield [
        {f"sections.deep.{place}": typed_number(deep + more)},
        {f"sections.deep.{place}": typed_number(deep + more + 1)},
    ]


def _nearer(case: Case, number: int, deep: float) -> Iterator[Changes]:
    """Depths by a secant on how far the tip stands past; the strings of a throat are fitted anew."""
    throat, was = case.base.spec.throats[number - 1], case.finding.value
    at, before = deep, throat.deep
    for _ in range(3):
        if at < 1:
            return
        changes = {f"throat.{number}.deep": typed_number(at), **_fitted(case, number)}
        yield changes
        now = case.value(changes)
        if now is None or now == was:
            return
        following = at - now * (before - at) / (was - now)
        was, before, at = now, at, min(floor(2 * following) / 2, at - 0.5)


def more_room(case: Case) -> Iterator[Way]:
    """A deeper tail, or a throat that reaches less far."""
    spec, number = case.base.spec, case.numbers[0]
    if spec.tail is not None:
        wanted = spec.limits.threshold("room_behind").caution - case.finding.value
        more = wanted * spec.hoops[-1].diameter / spec.netting.stretched
        start = ceil(2 * (spec.tail.deep + more)) / 2
        yield [{"tail.deep": typed_number(deep)} for deep in (start, start + 1, start + 2)]
    yield less_deep(case, number)


def clear(case: Case) -> Iterator[Way]:
    """A throat that is clear of what is around it: strings, taper, tip, what holds it, where it is tied."""
    spec, number = case.base.spec, case.numbers[0]
    throat, shape = spec.throats[number - 1], case.base.shape.throats[number - 1]
    given = throat.strings.length is not None
    if given and shape.string_length > shape.strings.to_tie + spec.tape.step:
        yield from tie_right(case, number)
    if throat.decreases is None:
        yield [{f"throat.{number}.taper": taper} for taper in EVEN if taper < throat.taper]
    yield [
        {f"throat.{number}.strings.share": share, **_fitted(case, number)}
        for share in HELD
        if share > throat.strings.share
    ]
    yield to_other_hoops(case, number)
    yield [{f"throat.{number}.tip": tip} for tip in _fewer(throat.tip) if throat.decreases is None]
    yield less_deep(case, number)
    yield to_tail(case, number)


def _fewer(tip: int) -> list[int]:
    return [count for count in (tip - 2, tip - 4) if count >= 4]


def open_wider(case: Case) -> Iterator[Way]:
    """A longer line through a square tip, and the meshes for it; more meshes at the tip of another."""
    spec, number = case.base.spec, case.numbers[0]
    if spec.fish is None:
        return
    girth = spec.fish.girth_max / spec.limits.threshold("opening_tight").caution
    throat = spec.throats[number - 1]
    meshes = max(ceil(girth / throat.stretched - 1e-9), throat.tip)
    count: Changes = {} if meshes == throat.tip else {f"throat.{number}.tip": meshes}
    if throat.style == "square":
        yield [{**count, f"throat.{number}.line": typed_length(spec.tape, girth, "up")}]
    else:
        yield [count]


def open_less(case: Case) -> Iterator[Way]:
    """A square tip on a line that keeps the fish, fewer meshes, or strings that draw it narrow."""
    spec, number = case.base.spec, case.numbers[0]
    if spec.fish is None:
        return
    girth = spec.fish.girth_max / spec.limits.threshold("opening_tight").caution
    throat, line = spec.throats[number - 1], typed_length(spec.tape, girth, "up")
    least = ceil(girth / throat.stretched - 1e-9)
    key = f"throat.{number}"
    if throat.decreases is None:
        yield [{f"{key}.tip": tip} for tip in _between(throat.tip, least)]
    over = throat.tip % throat.strings.points
    even: Changes = {f"{key}.tip": throat.tip - over} if over and throat.decreases is None else {}
    square: Changes = {} if throat.style == "square" else {f"{key}.style": "square", **even}
    yield [{**square, f"{key}.line": line}]
    yield to_other_hoops(case, number)


def _between(tip: int, least: int) -> list[int]:
    """Half the way down, and all of it."""
    return sorted({count for count in ((tip + least) // 2, least) if 3 <= count < tip}, reverse=True)


def part_tip(case: Case) -> Iterator[Way]:
    """As many meshes at a square tip as its strings divide."""
    spec, number = case.base.spec, case.numbers[0]
    throat = spec.throats[number - 1]
    points = throat.strings.points
    yield [{f"throat.{number}.tip": points * ceil(throat.tip / points)}]
    yield [{f"throat.{number}.strings.points": more} for more in (4, 3, 5) if throat.tip % more == 0]


def open_square(case: Case) -> Iterator[Way]:
    """Even corners, a longer line, or strings that draw its corners apart."""
    spec, number = case.base.spec, case.numbers[0]
    yield from part_tip(case)
    line = (spec.throats[number - 1].line or 0.0) * case.finding.value / case.finding.limit
    yield [{f"throat.{number}.line": typed_length(spec.tape, times * line, "up")} for times in (1.0, 1.1)]
    yield to_other_hoops(case, number)
