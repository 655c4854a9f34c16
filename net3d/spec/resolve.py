"""From the form a maker filled in to the spec that all later stages read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from functools import cache
from typing import TYPE_CHECKING, Any, TypeVar

from net3d.handbook.ageing import Left, broken, weathered
from net3d.handbook.allowances import allowance
from net3d.handbook.fibres import fibres
from net3d.handbook.limits import Limit, default_limits
from net3d.handbook.tolerances import tolerance
from net3d.handbook.twine import Spool, Twine, find_twine, lacing_twine, plain_name, twine_of
from net3d.outline.girth import diameter_of, girth_of
from net3d.spec.escape_form import EscapeForm
from net3d.spec.escapes import EscapeSpec
from net3d.spec.form import HoopForm, LocalRules, NetForm, SpareHoop, TwineForm
from net3d.spec.guide_form import GuideForm, LeaderForm, WingForm
from net3d.spec.guides import Bend, GuideAnchor, GuideSpec
from net3d.spec.holes import Tear
from net3d.spec.hoops import HoopSpec, LineSpec
from net3d.spec.measured import BuiltSpec, TolerancesSpec
from net3d.spec.river_form import RiggingForm
from net3d.spec.shop_form import LacingForm, StockForm
from net3d.spec.spec import (
    AnchorSpec,
    BridleSpec,
    FishSpec,
    LacingSpec,
    LimitsSpec,
    MarkingSpec,
    NetSpec,
    NettingSpec,
    PricesSpec,
    QuoteSpec,
    RiggingSpec,
    SectionsSpec,
    Source,
    StaticsSpec,
    StockSpec,
    StringsSpec,
    TailSpec,
    ThroatSpec,
    WaterSpec,
)
from net3d.spec.table import Table
from net3d.spec.throat_form import FishForm, ThroatForm
from net3d.units import Tape

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

Record = TypeVar("Record", bound="DataclassInstance")
Twines = Mapping[str, TwineForm]  # the maker's own

OWN = "your spec"
FOOT = 0.3048  # m
THIN_ROD = 0.006  # m: of an escape's frame; common practice, no source
TEN = 10  # meshes that are measured together
ALIKE = 0.02  # part of the diameter by which hoops that may take each other's place differ; common practice


def resolve(form: NetForm, source: Source) -> NetSpec:
    """The spec of a form that breaks no rule: sizes worked out, equal hoops repeated, twine looked up."""
    body = form.netting.twine
    old = _old(form)
    return NetSpec(
        source=source,
        title=form.title,
        units=form.units,
        netting=_record(NettingSpec, form.netting, stretched=_mesh(form)),
        twine=_aged(twine_named(body, form.twine), old),
        hoops=_hoops(form.hoop, form.built.hoops),
        pile=tuple(_spare(hoop, number) for number, hoop in enumerate(form.pile, start=1)),
        sections=_sections(form),
        lines=tuple(_record(LineSpec, line) for line in form.line),
        guides=_guides(form),
        escapes=tuple(_escape(escape, place) for place, escape in enumerate(form.escape, start=1)),
        tail=None if form.tail is None else _record(TailSpec, form.tail),
        throats=tuple(_throat(form, throat, number, old) for number, throat in enumerate(form.throat)),
        fish=None if form.fish is None else _fish(form.fish),
        rigging=_rigging(form.rigging, Tape(form.units)),
        water=_record(WaterSpec, form.water),
        anchor=None if form.anchor is None else _record(AnchorSpec, form.anchor),
        start=form.start,
        lacing=_lacing(form.lacing, body, form.twine),
        stock=_stock(form.stock, Tape(form.units)),
        prices=_record(PricesSpec, form.prices),
        quote=_record(QuoteSpec, form.quote),
        marking=MarkingSpec(round=Tape(form.units, form.marking.round or 0.0).step),
        statics=_record(StaticsSpec, form.statics),
        built=_record(BuiltSpec, form.built, planned=form.netting.stretched_mesh()),
        old=old,
        holes=tuple(_record(Tear, hole) for hole in form.hole),
        tolerances=_tolerances(form),
        limits=_record(LimitsSpec, form.limits, own=_own_limits(form.limits)),
    )


def _record(kind: type[Record], form: Table, **worked_out: object) -> Record:
    """A record of what was worked out, and else of what its form says."""
    said = {key: getattr(form, key) for key in _keys(kind) if key not in worked_out}
    return kind(**said, **worked_out)


@cache
def _keys(kind: Any) -> tuple[str, ...]:  # noqa: ANN401 - any record
    return tuple(field.name for field in fields(kind))


def _mesh(form: NetForm) -> float:
    """The body's stretched mesh, as built where that was measured [m]."""
    ten = form.built.ten_meshes
    return form.netting.stretched_mesh() if ten is None else ten / TEN


def _hoops(forms: tuple[HoopForm, ...], tapes: tuple[float, ...]) -> tuple[HoopSpec, ...]:
    standing = [hoop for hoop in forms for _ in range(hoop.repeat)]
    hoops = [_hoop(hoop, number) for number, hoop in enumerate(standing, start=1)]
    measured = [diameter_of(girth) for girth in tapes] or [hoop.diameter for hoop in hoops]
    return tuple(_measured(hoop, own) for hoop, own in zip(hoops, measured, strict=True))


def _measured(hoop: HoopSpec, diameter: float) -> HoopSpec:
    frame = hoop.frame
    if frame is not None and diameter != hoop.diameter:
        frame = frame.measured(girth_of(diameter))
    return replace(hoop, diameter=diameter, frame=frame)


def _hoop(hoop: HoopForm, number: int) -> HoopSpec:
    diameter = hoop.outside_diameter()
    within = ALIKE * diameter if hoop.within is None else hoop.within
    own = {"diameter": diameter, "within": within, "name": f"hoop {number}", "frame": hoop.frame()}
    return _record(HoopSpec, hoop, **own)


def _spare(hoop: SpareHoop, number: int) -> HoopSpec:
    name = hoop.name or f"spare {number}"
    diameter = hoop.outside_diameter()
    own = {"diameter": diameter, "turn": 0, "flip": False, "within": 0.0, "name": name, "frame": None}
    return _record(HoopSpec, hoop, **own)


def _sections(form: NetForm) -> SectionsSpec:
    count, said = len(form.sections.deep), form.sections
    spacing, around = said.spacing or (None,) * count, said.around or (form.netting.around,) * count
    return _record(SectionsSpec, said, spacing=spacing, around=around)


def _throat(form: NetForm, throat: ThroatForm, number: int, old: Left | None) -> ThroatSpec:
    """A throat with what it does not say taken from the body."""
    body = (form.netting.around, *form.sections.around)
    own_mesh = throat.stretched or (2 * throat.bar if throat.bar else None)
    strings = throat.strings
    return _record(
        ThroatSpec,
        throat,
        around=throat.around or body[min(throat.hoop, len(body)) - 1],
        stretched=_throat_mesh(form, own_mesh or form.netting.stretched_mesh(), number),
        twine=_aged(twine_named(throat.twine or form.netting.twine, form.twine), old),
        decreases=throat.decreases or None,
        strings=_record(StringsSpec, strings, points=min(strings.points, throat.tip)),
    )


def _escape(form: EscapeForm, place: int) -> EscapeSpec:
    width, height = (form.inside, form.inside) if form.kind == "rings" else (form.width, form.height)
    return _record(EscapeSpec, form, place=place, width=width, height=height, rod=form.rod or THIN_ROD)


def _guides(form: NetForm) -> tuple[GuideSpec, ...]:
    """Wings, then the leader."""
    wings = [_guide(form, wing, "wing", number) for number, wing in enumerate(form.wing, start=1)]
    return (*wings, *([] if form.leader is None else [_guide(form, form.leader, "leader", 0)]))


def _guide(form: NetForm, guide: GuideForm, word: str, number: int) -> GuideSpec:
    """A wing or leader with what it does not say taken from the body."""
    wing = guide if isinstance(guide, WingForm) else None
    return _record(
        GuideSpec,
        guide,
        word=word,
        number=number,
        side=wing.side if wing else "middle",
        angle=wing.angle if wing else 0.0,
        stretched=guide.stretched or (2 * guide.bar if guide.bar else form.netting.stretched_mesh()),
        twine=twine_named(guide.twine or form.netting.twine, form.twine),
        lead_hanging=guide.lead_hanging or guide.hanging,
        rope=guide.rope or form.rigging.rope,
        anchor=None if guide.anchor is None else _record(GuideAnchor, guide.anchor),
        bends=tuple(_record(Bend, bend) for bend in wing.bends) if wing else (),
        pair=isinstance(guide, LeaderForm) and guide.pair,
    )


def _fish(fish: FishForm) -> FishSpec:
    return FishSpec(*fish.girths(), fish.lengths(), fish.length is None, fish.body())


def _rigging(rigging: RiggingForm, tape: Tape) -> RiggingSpec:
    line = rigging.line or (10 * FOOT if tape.in_inches else 3.0)
    bridle = None if rigging.bridle is None else _record(BridleSpec, rigging.bridle)
    bench = rigging.bench_pull or allowance(f"bench_pull_{'inch' if tape.in_inches else 'metric'}")
    return _record(RiggingSpec, rigging, bridle=bridle, line=line, bench_pull=bench)


def _lacing(lacing: LacingForm, netting: str, own: Twines) -> LacingSpec:
    twine = twine_named(lacing.twine, own) if lacing.twine else lacing_twine(twine_named(netting, own))
    return _record(LacingSpec, lacing, twine=twine)


def _stock(stock: StockForm, tape: Tape) -> StockSpec:
    """How things are sold, with what the spec does not say filled in from the handbook."""
    made = "inch" if tape.in_inches else "metric"
    usual = {
        "spool": allowance(f"spool_{made}"),
        "coil": allowance(f"coil_{made}"),
        "dip": allowance(f"dip_can_{made}"),
        "needle": allowance("needle_fill"),
        "dip_share": allowance("dip_share"),
    }
    have = {
        "have_twine": tuple((plain_name(name), mass) for name, mass in stock.have.twine.items()),
        "have_rope": stock.have.rope or 0.0,
        "have_dip": stock.have.dip or 0.0,
    }
    return _record(StockSpec, stock, **have, **{k: v for k, v in usual.items() if getattr(stock, k) is None})


def _throat_mesh(form: NetForm, planned: float, number: int) -> float:
    """A throat's mesh: as measured, or off by as much as the body's [m]."""
    if form.built.throats:
        return form.built.throats[number] / TEN
    return planned * (_mesh(form) / form.netting.stretched_mesh())  # a body as planned leaves it as it is


def _tolerances(form: NetForm) -> TolerancesSpec:
    """Tolerances, with those of lengths and of the twine filled in from the handbook."""
    said, made = form.tolerances, "inch" if Tape(form.units).in_inches else "metric"
    lengths = {key: tolerance(f"{key}_{made}") for key in ("tape", "string") if getattr(said, key) is None}
    dip = said.dip if form.stock.dipped else 0.0
    known = "secant" if twine_named(form.netting.twine, form.twine).guessed else "law"
    stretch = tolerance(f"stretch_by_{known}") if said.stretch is None else said.stretch
    off = _record(TolerancesSpec, said, dip=dip, stretch=stretch, **lengths)
    ten = form.built.ten_meshes
    if ten is None:
        return off
    # What was measured on the finished net is as sure as the reading.
    return replace(off, gauge=off.string / ten, wet=0.0 if form.built.wet else off.wet, dip=0.0)


def twine_named(name: str, own: Twines) -> Twine:
    """A twine by its name: one of the maker's own, or of the table. Raises LookupError for any other."""
    for own_name, form in own.items():
        if plain_name(own_name) == plain_name(name):
            return _own_twine(own_name, form)
    twine = find_twine(name)
    if twine is None:
        raise LookupError(name)
    return twine


def _own_twine(name: str, form: TwineForm) -> Twine:
    spool = Spool(name, form.diameter, form.weight_in_tex(), form.strength, OWN)
    return twine_of(spool, fibres()[form.fibre], form.stiffness)


def _old(form: NetForm) -> Left | None:
    """What is left of the netting's strength, as measured, or else by its age."""
    said, twine = form.old, twine_named(form.netting.twine, form.twine)
    if said is None:
        return None
    fibre = next(one for one in fibres().values() if one.name == twine.material)
    if said.broke:
        return broken(said.broke, twine.wet_knotted_strength / (1.0 if said.wet else fibre.wet_ratio))
    dipped = form.stock.dipped if said.dipped is None else said.dipped
    return weathered(fibre.key, said.months or 0.0, said.kept, dipped)


def _aged(twine: Twine, old: Left | None) -> Twine:
    """Twine as strong as it is left at least, which is what it is judged by."""
    return twine if old is None else replace(twine, wet_knotted_strength=old.low * twine.wet_knotted_strength)


def _own_limits(form: LocalRules) -> tuple[Limit, ...]:
    typed = [(default_limits()[key], given) for key, given in form.thresholds().items()]
    return tuple(
        replace(
            limit,
            caution=limit.caution if given.caution is None else given.caution,
            fail=limit.fail if given.fail is None else given.fail,
            source=OWN,
        )
        for limit, given in typed
        if not (given.caution is None and given.fail is None)
    )
