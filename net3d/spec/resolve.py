"""From the form a maker filled in to the spec that all later stages read."""

from __future__ import annotations

from dataclasses import replace

from net3d.handbook.fibres import fibres
from net3d.handbook.limits import Limit, default_limits
from net3d.handbook.twine import Spool, Twine, find_twine, plain_name, twine_of
from net3d.spec.form import HoopForm, LocalRules, NetForm, TwineForm
from net3d.spec.spec import HoopSpec, LimitsSpec, MarkingSpec, NetSpec, NettingSpec, SectionsSpec
from net3d.units import default_step

OWN = "your spec"


def resolve(form: NetForm) -> NetSpec:
    """The spec of a form that breaks no rule: sizes worked out, equal hoops repeated, twine looked up."""
    netting = form.netting
    hoops = tuple(_hoop(hoop) for hoop in form.hoop for _ in range(hoop.repeat))
    return NetSpec(
        title=form.title,
        units=form.units,
        netting=NettingSpec(around=netting.around, stretched=netting.stretched_mesh(), made=netting.made),
        twine=_twine(netting.twine, form.twine),
        hoops=hoops,
        sections=SectionsSpec(
            deep=form.sections.deep,
            spacing=form.sections.spacing or (None,) * (len(hoops) - 1),
            around=(netting.around,) * (len(hoops) - 1),
        ),
        tail=form.tail,
        rigging=form.rigging,
        marking=MarkingSpec(round=form.marking.round or default_step(form.units)),
        statics=form.statics,
        limits=_limits(form.limits),
    )


def _hoop(hoop: HoopForm) -> HoopSpec:
    return HoopSpec(diameter=hoop.outside_diameter(), rod=hoop.rod, material=hoop.material)


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
