"""From the form a maker filled in to the spec that all later stages read."""

from __future__ import annotations

from dataclasses import replace

from net3d.handbook.allowances import allowance
from net3d.handbook.fibres import fibres
from net3d.handbook.limits import Limit, default_limits
from net3d.handbook.twine import Spool, Twine, find_twine, lacing_twine, plain_name, twine_of
from net3d.spec.form import BareHoop, HoopForm, LocalRules, NetForm, SpareHoop, TwineForm
from net3d.spec.shop import LacingSpec, StockSpec
from net3d.spec.spec import (
    FishSpec,
    HoopSpec,
    LimitsSpec,
    MarkingSpec,
    NetSpec,
    NettingSpec,
    SectionsSpec,
    Source,
    StringsSpec,
    ThroatSpec,
)
from net3d.spec.throat_form import FishForm, ThroatForm
from net3d.units import Tape

OWN = "your spec"
ALIKE = 0.02  # part of the diameter by which hoops that may take each other's place differ; common practice


def resolve(form: NetForm, source: Source) -> NetSpec:
    """The spec of a form that breaks no rule: sizes worked out, equal hoops repeated, twine looked up."""
    netting = form.netting
    standing = [hoop for hoop in form.hoop for _ in range(hoop.repeat)]
    hoops = tuple(_hoop(hoop, number) for number, hoop in enumerate(standing, start=1))
    return NetSpec(
        source=source,
        title=form.title,
        units=form.units,
        netting=NettingSpec(around=netting.around, stretched=netting.stretched_mesh(), made=netting.made),
        twine=_twine(netting.twine, form.twine),
        hoops=hoops,
        pile=tuple(_spare(hoop, number) for number, hoop in enumerate(form.pile, start=1)),
        sections=SectionsSpec(
            deep=form.sections.deep,
            spacing=form.sections.spacing or (None,) * (len(hoops) - 1),
            around=form.sections.around or (netting.around,) * (len(hoops) - 1),
        ),
        tail=form.tail,
        throats=tuple(_throat(form, throat) for throat in form.throat),
        fish=_fish(form.fish),
        rigging=form.rigging,
        water=form.water,
        anchor=form.anchor,
        start=form.start,
        lacing=_lacing(form),
        stock=_stock(form),
        prices=form.prices,
        marking=MarkingSpec(round=Tape(form.units, form.marking.round or 0.0).step),
        statics=form.statics,
        limits=_limits(form.limits),
    )


def _hoop(hoop: HoopForm, number: int) -> HoopSpec:
    diameter = hoop.outside_diameter()
    return _bare_hoop(hoop, f"hoop {number}").model_copy(
        update={
            "turn": hoop.turn,
            "flip": hoop.flip,
            "within": ALIKE * diameter if hoop.within is None else hoop.within,
        }
    )


def _spare(hoop: SpareHoop, number: int) -> HoopSpec:
    return _bare_hoop(hoop, hoop.name or f"spare {number}")


def _bare_hoop(hoop: BareHoop, name: str) -> HoopSpec:
    return HoopSpec(
        diameter=hoop.outside_diameter(),
        rod=hoop.rod,
        material=hoop.material,
        gaps=hoop.gaps,
        across=hoop.across,
        name=name,
    )


def _throat(form: NetForm, throat: ThroatForm) -> ThroatSpec:
    """A throat with what it does not say taken from the body."""
    body = (form.netting.around, *form.sections.around)
    own_mesh = throat.stretched or (2 * throat.bar if throat.bar else None)
    strings = throat.strings
    return ThroatSpec(
        hoop=throat.hoop,
        deep=throat.deep,
        tip=throat.tip,
        style=throat.style,
        around=throat.around or body[min(throat.hoop, len(body)) - 1],
        stretched=own_mesh or form.netting.stretched_mesh(),
        twine=_twine(throat.twine or form.netting.twine, form.twine),
        taper=throat.taper,
        decreases=throat.decreases or None,
        line=throat.line,
        panels=throat.panels,
        strings=StringsSpec(
            to_hoop=strings.to_hoop,
            to_tail=strings.to_tail,
            points=min(strings.points, throat.tip),
            turn=strings.turn,
            length=strings.length,
            share=strings.share,
        ),
    )


def _lacing(form: NetForm) -> LacingSpec:
    lacing, netting = form.lacing, _twine(form.netting.twine, form.twine)
    twine = _twine(lacing.twine, form.twine) if lacing.twine else lacing_twine(netting)
    return LacingSpec(twine=twine, hitches=lacing.hitches, mouth=lacing.mouth, take_up=lacing.take_up)


def _stock(form: NetForm) -> StockSpec:
    """How things are sold, with what the spec does not say filled in from the handbook."""
    made = "inch" if Tape(form.units).in_inches else "metric"
    usual = {
        "spool": allowance(f"spool_{made}"),
        "coil": allowance(f"coil_{made}"),
        "dip": allowance(f"dip_can_{made}"),
        "needle": allowance("needle_fill"),
        "dip_share": allowance("dip_share"),
    }
    missing = {key: value for key, value in usual.items() if getattr(form.stock, key) is None}
    return form.stock.model_copy(update=missing)


def _fish(fish: FishForm | None) -> FishSpec | None:
    if fish is None:
        return None
    least, most = fish.girths()
    return FishSpec(girth_min=least, girth_max=most)


def _twine(name: str, own: dict[str, TwineForm]) -> Twine:
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


def _limits(form: LocalRules) -> LimitsSpec:
    local = {key: getattr(form, key) for key in LocalRules.model_fields}
    return LimitsSpec(**local, overrides=_overrides(form))


def _overrides(form: LocalRules) -> dict[str, Limit]:
    overrides = {}
    for key, typed in form.thresholds().items():
        given = {name: value for name, value in typed.model_dump().items() if value is not None}
        if given:
            overrides[key] = replace(default_limits()[key], **given, source=OWN)
    return overrides
