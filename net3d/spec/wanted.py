"""A wanted list: read and checked as a spec is, and the specs of nets that are made of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, get_args

import tomlkit
from pydantic import ValidationError

from net3d.handbook.allowances import allowance
from net3d.handbook.twine import Twine, find_twine, plain_name
from net3d.outline.frames import Frame
from net3d.spec.bulk import overlong
from net3d.spec.faults import Fault
from net3d.spec.fish_rules import fish_faults
from net3d.spec.frame_rules import closing_faults, size_faults
from net3d.spec.read import checked, read_typed, typed_beside
from net3d.spec.report import message_of, path_of
from net3d.spec.resolve import twine_named
from net3d.spec.shop import with_shop
from net3d.spec.spec import NetSpec, Source
from net3d.spec.wanted_form import HandHoop, WantedForm, WantForm
from net3d.units import Tape, Units

_OWN = ("pile", "want", "rope", "netting", "title")  # what is not taken over into a spec as it stands


@dataclass(frozen=True)
class Hand:
    """A hoop or frame at hand: its size, of a frame that of the round hoop as long around. Lengths in m."""

    name: str
    diameter: float
    rod: float
    frame: Frame | None
    measured: bool  # not flat or not round
    typed: Mapping[str, Any]

    @property
    def widest(self) -> float:
        """The longer of its sides [m]."""
        return self.diameter if self.frame is None else max(self.frame.width, self.frame.height)

    @property
    def height(self) -> float:
        """How high it stands [m]."""
        return self.diameter if self.frame is None else self.frame.height

    def size(self, tape: Tape) -> str:
        """Across, of a frame both ways."""
        if self.frame is None:
            return tape.length(self.diameter)
        return f"{tape.length(self.frame.width)} by {tape.length(self.frame.height)} {self.frame.shape}"


@dataclass(frozen=True)
class Mesh:
    """A mesh that may be used: its size [m] and how it was typed."""

    stretched: float
    key: str
    typed: object


@dataclass(frozen=True)
class Wanted:
    """A wanted list in SI."""

    source: Source
    form: WantedForm
    hoops: tuple[Hand, ...]  # widest first
    meshes: tuple[Mesh, ...]

    @property
    def want(self) -> WantForm:
        """What the net must keep to."""
        return self.form.want

    @property
    def tape(self) -> Tape:
        """The maker's tape."""
        return Tape(self.form.units, self.form.marking.round or 0.0, self.form.prices.currency)

    @property
    def girths(self) -> tuple[float, float] | None:
        """Girths of the smallest and the largest fish [m]."""
        return self.form.fish.girths() if self.form.fish else None

    @property
    def longest(self) -> float | None:
        """Longest net that is allowed, by the truck or by the local code [m]."""
        given = [one for one in (self.want.longest, self.form.limits.length_max) if one is not None]
        return min(given, default=None)

    @property
    def _longest_typed(self) -> object:
        own, local = self.want.longest, self.form.limits.length_max
        if own is not None and (local is None or own < local):
            return self.source.typed["want"]["longest"]
        return self.source.typed["limits"]["length_max"]

    def typed(self, net: Mapping[str, Any]) -> dict[str, Any]:
        """The tables of a spec of one net: what is typed of the net, and what holds for all.

        Its own keys of ``rigging`` stand beside those that hold for all, its ``stock`` in their place.
        """
        shared = {key: value for key, value in self.source.typed.items() if key not in _OWN}
        tables = {"title": self.form.title, "units": self.form.units, **net, **shared}
        pull = allowance(f"bench_pull_{'inch' if self.tape.in_inches else 'metric'}")
        rigging = shared.get("rigging", {})
        bench = {} if {"pull", "current"} & set(rigging) else {"pull": self.tape.force(pull)}
        tables["rigging"] = {**bench, **rigging, **net.get("rigging", {})}
        tables |= {key: net[key] for key in ("stock",) if key in net}
        if self.longest is not None:
            tables["limits"] = {**shared.get("limits", {}), "length_max": self._longest_typed}
        order = ("title", "units", "shop", "netting", "hoop", "sections", "throat", "tail")
        return {key: tables[key] for key in (*order, *tables) if key in tables}

    def net(self, net: Mapping[str, Any]) -> NetSpec:
        """The spec of one net. Raises ``SpecError`` where it breaks a rule."""
        return checked(Source(self.source.name, "", self.typed(net), self.source.shop))

    @property
    def own_twine(self) -> Twine:
        """The twine of the netting."""
        return twine_named(self.form.netting.twine, self.form.twine)


def read_wanted(path: str | Path) -> Wanted:
    """Read and check a wanted list. Raises ``SpecError`` with every problem of the file."""
    return wanted_of(read_typed(path))


def wanted_beside(text: str, path: str | Path) -> Wanted:
    """The wanted list of a text as if it stood in a file. Raises ``SpecError`` with every problem of it."""
    return wanted_of(typed_beside(text, path))


def wanted_of(source: Source) -> Wanted:
    """The wanted list of what was typed. Raises ``SpecError`` with every problem of it."""
    if too_long := overlong(source.typed):
        raise source.refusal(too_long.items())
    units = source.typed.get("units")
    units = units if units in get_args(Units) else None
    try:
        form = WantedForm.model_validate(with_shop(source.typed, source.shop), context={"units": units})
    except ValidationError as error:
        details = error.errors(include_url=False)
        raise source.refusal((path_of(one), message_of(one, WantedForm)) for one in details) from None
    if problems := list(_problems(form)):
        raise source.refusal(problems)
    return Wanted(source, form, _hoops(form, source.typed["pile"]), _meshes(form, source.typed["netting"]))


def _problems(form: WantedForm) -> Any:  # noqa: ANN401 - faults, one by one
    if not form.pile:
        yield ("pile",), "no hoop is at hand: add a [[pile]] for each, or one with repeat"
    for number, hoop in enumerate(form.pile):
        yield from ((fault.path, fault.message) for fault in _hoop_faults(form, number, hoop))
    if bool(form.netting.stretched) == bool(form.netting.bar):
        yield ("netting",), "give the meshes as stretched or as bar, one of them, in brackets"
    if form.want.hoops_min > form.want.hoops_max:
        yield ("want", "hoops_min"), f"fewest {form.want.hoops_min}, most {form.want.hoops_max}: write less"
    known = [plain_name(name) for name in form.twine]
    if plain_name(form.netting.twine) not in known and find_twine(form.netting.twine) is None:
        yield ("netting", "twine"), f"{form.netting.twine} is not in the twine table; `net3d twines` lists it"
    if form.fish:
        yield from ((fault.path, fault.message) for fault in fish_faults(form.fish))
    rigging = form.rigging.model_fields_set if form.rigging and form.rope else set()
    for key in sorted(rigging & {"rope", "rope_material"}):
        yield ("rigging", key), "nets take their rope from [[rope]], what is at hand: leave one of them out"
    if form.want.spend is not None and form.prices.hour is None:
        yield ("want", "spend"), "what a net costs is known with [prices] only: hour, and what is bought"


def _hoop_faults(form: WantedForm, number: int, hoop: HandHoop) -> Iterator[Fault]:
    path = ("pile", number)
    faults = list(size_faults(path, hoop))
    if hoop.shape == "round":
        if (hoop.diameter is None) == (hoop.circumference is None):
            yield Fault(path, "give diameter or circumference, one of them")
    elif hoop.gaps or hoop.across:
        yield Fault(path, "gaps and across are for round hoops: net3d takes a frame as flat and true")
    elif not faults and (frame := hoop.frame()) is not None:
        yield from closing_faults(path, hoop, frame, Tape(form.units))
    yield from faults


def _hoops(form: WantedForm, typed: list[Mapping[str, Any]]) -> tuple[Hand, ...]:
    hands, tape = list[Hand](), Tape(form.units)
    for hoop, keys in zip(form.pile, typed, strict=True):
        own = {key: value for key, value in keys.items() if key not in ("name", "repeat")} | {"have": True}
        frame = hoop.frame()
        hand = Hand("", hoop.outside_diameter(), hoop.rod, frame, _is_measured(hoop), own)
        hands += [replace(hand, name=hoop.name or f"the {hand.size(tape)} one")] * hoop.repeat
    return tuple(sorted(hands, key=lambda hand: -hand.diameter))


def _is_measured(hoop: HandHoop) -> bool:
    return bool(hoop.gaps or hoop.across)


def _meshes(form: WantedForm, typed: Mapping[str, Any]) -> tuple[Mesh, ...]:
    key = "stretched" if form.netting.stretched else "bar"
    sizes = getattr(form.netting, key)
    times = 1 if key == "stretched" else 2
    return tuple(Mesh(size * times, key, one) for size, one in zip(sizes, typed[key], strict=True))


def net_text(spec: NetSpec, remarks: str) -> str:
    """A spec as a file, remarks on top."""
    document = tomlkit.document()
    for line in remarks.splitlines():
        document.add(tomlkit.comment(line))
    for key, value in spec.source.typed.items():
        document.add(key, tomlkit.item(value))
    return tomlkit.dumps(document)
