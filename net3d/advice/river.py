"""What to change about rope, legs, rods and anchor; a function a kind of finding."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.advice.amounts import rod, sold_twines, typed_length
from net3d.advice.trying import Case, Way
from net3d.checks.anchors import sold_weight
from net3d.handbook.anchors import holdings
from net3d.handbook.hoops import hoop_materials
from net3d.handbook.rope import sold_sizes
from net3d.water.rings import sprung_rod

THICKER = (1.1, 1.25, 1.5, 2.0)  # times a rod's thickness


def stronger_rope(case: Case) -> Iterator[Way]:
    """Spliced ends, thicker rope, a longer line where it is steep."""
    spec = case.base.spec
    rigging, tape = spec.rigging, spec.tape
    if rigging.rope_ends == "knotted":
        yield [{"rigging.rope_ends": "spliced"}]
    sizes = [size for size in sold_sizes(rigging.rope_material, tape) if size > rigging.rope * (1 + 1e-6)]
    yield [{"rigging.rope": tape.thickness(size)} for size in sizes[:5]]
    yield [{"rigging.line": typed_length(tape, tape.sold_run(times * rigging.line))} for times in (1.5, 2, 3)]


def river_twine(case: Case) -> Iterator[Way]:
    """Twine that bears the river, or more of it."""
    spec = case.base.spec
    limit = spec.limits.threshold("twine_load").caution
    yield [{"netting.twine": twine.name} for twine in sold_twines(spec.twine, case.finding.value / limit)[:3]]
    if spec.rigging.current == case.base.loads[-1].current:
        yield _less_current(case)


def _less_current(case: Case) -> Way:
    """Water that flows slower: the pull goes by the square of the speed."""
    current = case.base.spec.rigging.current or 0.0
    tape = case.base.spec.tape
    return [{"rigging.current": tape.speed(share * current)} for share in (0.8, 0.6, 0.4)]


def stiffer_hoop(case: Case) -> Iterator[Way]:
    """A thicker rod for the hoop that is named, another material, or for the mouth more legs."""
    spec, number = case.base.spec, case.numbers[0]
    hoop, bridle = spec.hoops[number - 1], spec.rigging.bridle
    if bridle is not None and number == 1 and case.finding.code != "hoop-buckling":
        yield [{"rigging.bridle.legs": bridle.legs + more} for more in (1, 2, 3, 5)]
    yield [{f"hoop.{number}.rod": rod(spec, times * hoop.rod)} for times in THICKER]
    modulus = hoop_materials()[hoop.material].modulus
    yield [
        {f"hoop.{number}.material": name} for name, one in hoop_materials().items() if one.modulus > modulus
    ]


def thinner_rod(case: Case) -> Iterator[Way]:
    """A rod that can be sprung in; one bent hot is no change of the spec."""
    spec, number = case.base.spec, case.numbers[0]
    hoop = spec.hoops[number - 1]
    limit = spec.limits.threshold("hoop_sprung").caution
    thick = spec.tape.sold_rod(sprung_rod(hoop_materials()[hoop.material], hoop.diameter, limit))
    size = spec.tape.thickness(thick)
    like = [n for n, one in enumerate(spec.hoops, start=1) if one.rod > thick]
    yield [{f"hoop.{number}.rod": size}, {f"hoop.{n}.rod": size for n in like}]


def heavier_anchor(case: Case) -> Iterator[Way]:
    """A heavier anchor of its kind, another kind, or a longer line where it is steep."""
    spec, design = case.base.spec, case.base
    loads = next(one for one in design.loads if one.current == spec.rigging.current)
    if spec.anchor is None:
        return
    here = [holding for holding in holdings() if holding.bottom == spec.water.bottom]
    weights = {holding.type: sold_weight(spec, loads, holding) for holding in here}
    if spec.anchor.type in weights:
        yield [{"anchor.weight": spec.tape.mass(weights[spec.anchor.type])}]
    others = sorted((weight, kind) for kind, weight in weights.items() if kind != spec.anchor.type)
    yield [{"anchor.type": kind, "anchor.weight": spec.tape.mass(weight)} for weight, kind in others[:1]]


def open_water(case: Case) -> Iterator[Way]:
    """Less debris than brings a net out of the range of what was measured."""
    water = case.base.spec.water
    if water.blocked or water.caught:
        keys = {"water.blocked": water.blocked, "water.caught": water.caught}
        yield [
            {key: round(share * value, 2) for key, value in keys.items() if value} for share in (0.5, 0.25, 0)
        ]
