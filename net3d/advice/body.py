"""What to change about hoops, meshes and sections; a function a kind of finding, the ways to it in order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from math import ceil, floor

from net3d.advice.amounts import half_meshes, less_force, rod, sold_twines, typed_length
from net3d.advice.river import stronger_rope
from net3d.advice.throats import tie_right
from net3d.advice.trying import Case, Changes, Way
from net3d.checks.checks import Level
from net3d.outline.girth import girth_of
from net3d.plan.cutting import PANELS
from net3d.statics.shape import EndState

RODS = ("out-of-reach", "rods-strain", "section-slack", "section-loose")
THICKER = (1.25, 1.5, 2.0)  # times a rod's thickness
STEPS = 4  # of half a mesh that are tried one after the other


def hang_narrower(case: Case) -> Iterator[Way]:
    """Fewer meshes around, a smaller mesh, a larger hoop."""
    return _hung(case, "hanging_ratio_low", more=False)


def hang_wider(case: Case) -> Iterator[Way]:
    """More meshes around, a larger mesh, a smaller hoop."""
    return _hung(case, "hanging_ratio_high", more=True)


def _hung(case: Case, limit: str, *, more: bool) -> Iterator[Way]:
    """``E1 = girth / (N m)``: each of the three as far as the caution. Source: ISO 1107, definitions."""
    spec, plan, (number,) = case.base.spec, case.base.plan, case.numbers
    hoop, wanted = plan.hoops[number - 1], spec.limits.threshold(limit).caution
    own = number > 1 and "around" in spec.source.typed["sections"]
    count = hoop.knot_girth / (wanted * plan.stretched_mesh)
    around = ceil(count - 1e-9) if more else floor(count + 1e-9)
    yield [{f"sections.around.{number - 1}" if own else "netting.around": around}]
    mesh, typed = hoop.knot_girth / (wanted * hoop.meshes_around), spec.source.typed["netting"]
    key, bars = ("stretched", 1) if "stretched" in typed else ("bar", 2)
    yield [{f"netting.{key}": typed_length(spec.tape, mesh / bars, "up" if more else "down")}]
    girth = wanted * hoop.meshes_around * plan.stretched_mesh
    diameter = hoop.outside_diameter - hoop.knot_circle_diameter * (1 - girth / hoop.knot_girth)
    yield [hoop_size(case, number, diameter, grow=not more)]


def hoop_size(case: Case, number: int, diameter: float, *, grow: bool) -> Changes:
    """A hoop of another size [m], typed the way it was."""
    frame = case.base.plan.hoops[number - 1].frame
    if frame is not None:
        told = asdict(frame.measured(girth_of(diameter))) | {"circumference": girth_of(diameter)}
        return {
            f"hoop.{number}.{key}": typed_length(case.base.spec.tape, told[key], "up" if grow else "down")
            for key in ("width", "height", "circumference")
            if key in case.hoop(number)
        }
    around = "circumference" in case.hoop(number)
    size = girth_of(diameter) if around else diameter
    key = f"hoop.{number}.{'circumference' if around else 'diameter'}"
    return {key: typed_length(case.base.spec.tape, size, "up" if grow else "down")}


def lose_later(case: Case) -> Iterator[Way]:
    """Meshes lost later, in a deeper piece, or hung on more meshes; of a throat or of a section."""
    spec, number = case.base.spec, case.numbers[0]
    planned = next((one for one in case.base.plan.throats if one.part == case.finding.part), None)
    if planned is not None:
        throat = spec.throats[number - 1]
        if throat.decreases:
            yield [{f"throat.{number}.decreases": [-change.gain for change in planned.piece.changes]}]
        else:
            yield [{f"throat.{number}.taper": taper} for taper in (0.75, 1) if taper > throat.taper]
        yield [{f"throat.{number}.deep": deep} for deep in half_meshes(throat.deep, 0.5, STEPS)]
    else:
        yield deeper(case, number)
    yield [{"netting.around": spec.netting.around + more} for more in (2, 4, 8)]


def come_to_rest(case: Case) -> Iterator[Way]:
    """Strings that are fitted, rods that the netting reaches, or hoops that do not fold."""
    state, throats = case.base.shape.state, enumerate(case.base.spec.throats, start=1)
    given = [number for number, throat in throats if throat.strings.length is not None]
    yield [{f"throat.{number}.strings.length": "fit" for number in given}]
    if state is EndState.OUT_OF_REACH:
        yield from other_rods(case)
    if state is EndState.FOLDED:
        spacing = case.base.spec.sections.spacing
        yield from _rods(case, [place for place, rod in enumerate(spacing, start=1) if rod is not None])
        yield from thicker_hoops(case)
        pull = case.base.spec.rigging.pull or case.base.spec.rigging.bench_pull
        yield [{"rigging.pull": less_force(case.base.spec.tape, share * pull)} for share in (0.5, 0.25, 0.1)]


def thicker_hoops(case: Case) -> Iterator[Way]:
    """Thicker rods for the hoop that is named, or for all."""
    spec = case.base.spec
    numbers = case.numbers or range(1, len(spec.hoops) + 1)
    yield [
        {f"hoop.{number}.rod": rod(spec, times * spec.hoops[number - 1].rod) for number in numbers}
        for times in THICKER
    ]


def other_rods(case: Case) -> Iterator[Way]:
    """Spreader rods about as long as the netting hangs without them, or none."""
    spec = case.base.spec
    odd = {
        finding.part.numbers[0]
        for finding in case.base.findings
        if finding.part and finding.code in RODS and finding.level is not Level.OK
    }
    yield from _rods(case, [place for place in sorted(odd) if spec.sections.spacing[place - 1] is not None])


def _rods(case: Case, places: list[int]) -> Iterator[Way]:
    """The rods of some sections about as long as the netting hangs there without them, or none."""
    spec, free = case.base.spec, case.base.shape.free_lengths
    if not places or not free:
        return
    yield [
        {
            f"sections.spacing.{place}": typed_length(spec.tape, free[place - 1] + steps * spec.tape.step)
            for place in places
        }
        for steps in (0, 1, -1)
    ]
    yield [{f"sections.spacing.{place}": "free" for place in places}]


def tighten(case: Case) -> Iterator[Way]:
    """What carries the pull past a section is changed, or its netting has less depth to spare."""
    (first, _) = case.numbers
    if case.base.spec.sections.spacing[first - 1] is not None:
        yield from other_rods(case)
    yield from strings_past(case, first)
    yield shallower(case, first)
    yield more_pull(case)


def part_hoops(case: Case) -> Iterator[Way]:
    """Hoops that are drawn rod against rod: strings that let them go, or more netting between them."""
    (first, _) = case.numbers
    yield from strings_past(case, first)
    yield deeper(case, first)


def strings_past(case: Case, section: int) -> Iterator[Way]:
    """The strings of throats that carry the pull past a section, tied as long as they should be."""
    past = [throat for throat in case.base.shape.throats if throat.hoop <= section]
    for throat in sorted(past, key=lambda throat: -throat.pull_share):
        yield from tie_right(case, throat.number)


def even_out(case: Case) -> Iterator[Way]:
    """More legs, a thicker mouth hoop, more depth, or more pull."""
    spec, (first, _) = case.base.spec, case.numbers
    bridle = spec.rigging.bridle
    if bridle is not None and first == 1:
        yield [{"rigging.bridle.legs": bridle.legs + more} for more in (1, 2, 3)]
        yield [{"hoop.1.rod": rod(spec, times * spec.hoops[0].rod)} for times in THICKER]
    yield deeper(case, first)
    yield more_pull(case)


def deeper(case: Case, section: int) -> Way:
    """A section with more depth."""
    deep = case.base.spec.sections.deep[section - 1]
    return [{f"sections.deep.{section}": more} for more in half_meshes(deep, 0.5, STEPS)]


def shallower(case: Case, section: int) -> Way:
    """A section with less depth."""
    deep = case.base.spec.sections.deep[section - 1]
    return [{f"sections.deep.{section}": less} for less in half_meshes(deep, -0.5, STEPS)]


def more_pull(case: Case) -> Way:
    """A net that is pulled harder."""
    pull = case.base.spec.rigging.pull or case.base.spec.rigging.bench_pull
    return [{"rigging.pull": case.base.spec.tape.force(times * pull)} for times in (1.5, 2, 3, 5)]


def stronger(case: Case) -> Iterator[Way]:
    """Twine or rope that bears what the finding names, or less pull."""
    spec, part, share = case.base.spec, case.finding.part, case.finding.value
    limit = spec.limits.threshold("twine_load").caution
    if part is not None and part.kind.rope:
        yield from stronger_rope(case)
    else:
        throat = case.numbers[0] if part is not None and part.kind.throat else 0
        now, key = (spec.throats[throat - 1].twine, f"throat.{throat}") if throat else (spec.twine, "netting")
        enough = sold_twines(now, share / limit)
        yield [{f"{key}.twine": twine.name} for twine in enough[:3]]
    if spec.rigging.pull:
        yield [{"rigging.pull": less_force(spec.tape, spec.rigging.pull * limit / share)}]


def keep_mesh_rule(case: Case) -> Iterator[Way]:
    """A mesh as large as the maker's own rule asks."""
    spec, (key, bars) = case.base.spec, ("stretched", 1)
    if "bar" in spec.source.typed["netting"]:
        key, bars = "bar", 2
    least = 2 * case.finding.limit if case.finding.code == "local-bar" else case.finding.limit
    yield [{f"netting.{key}": typed_length(spec.tape, least / bars, "up")}]


def keep_hoop_rule(case: Case) -> Iterator[Way]:
    """Hoops no larger than the maker's own rule allows."""
    most = case.finding.limit
    large = [hoop.number for hoop in case.base.plan.hoops if hoop.widest > most]
    sizes = [hoop_size(case, number, most, grow=False) for number in large]
    yield [{key: value for size in sizes for key, value in size.items()}]


def keep_length_rule(case: Case) -> Iterator[Way]:
    """Less depth in the tail, or in the deepest section, by as many meshes as the net is too long."""
    spec, over = case.base.spec, case.finding.value - case.finding.limit
    if spec.tail is not None:
        start = spec.tail.deep - over / spec.netting.stretched
        yield [{"tail.deep": deep} for deep in half_meshes(start, -0.5, STEPS)]
    section = max(case.base.shape.sections, key=lambda section: section.length)
    deep = spec.sections.deep[section.from_hoop - 1]
    start = deep * (1 - over / section.length) + 0.5
    yield [{f"sections.deep.{section.from_hoop}": less} for less in half_meshes(start, -0.5, STEPS)]


def keep_count_rule(case: Case) -> Iterator[Way]:
    """One hoop less at the tail, and the section before it."""
    count = len(case.base.spec.hoops)
    gone = range(count, round(case.finding.limit), -1)
    keys = [key for number in gone for key in (f"hoop.{number}", f"sections.deep.{number - 1}")]
    yield [dict.fromkeys(keys)]


def cut_smaller(case: Case) -> Iterator[Way]:
    """The body or a throat cut from more panels."""
    spec, plan = case.base.spec, case.base.plan
    throat = next((one for one in plan.throats if one.part == case.finding.part), None)
    if throat is None:
        now, key = len(plan.body[0].seams), "netting.panels"
    else:
        now, key = len(throat.piece.seams), f"throat.{throat.number}.panels"
    if spec.stock.webbing_across:
        yield [{key: panels} for panels in PANELS if panels > now]
