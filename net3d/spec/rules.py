"""Rules that tie several keys of a spec together. Each is kept to where its own inputs are fine."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from net3d.handbook.limits import default_limits
from net3d.handbook.twine import find_twine, near_twines, plain_name
from net3d.spec.draft import Draft
from net3d.spec.form import HoopForm
from net3d.spec.locate import Path
from net3d.spec.spec import Table
from net3d.spec.wording import listed, shown
from net3d.units import format_length

MAX_BARS = 2_000_000
MAX_HOOPS = 1000


@dataclass(frozen=True)
class Fault:
    """A rule that is broken, and where."""

    path: Path
    message: str


def faults(draft: Draft) -> list[Fault]:
    """All broken rules of a draft."""
    return [fault for rule in RULES for fault in rule(draft)]


def _one_mesh_size(draft: Draft) -> Iterator[Fault]:
    yield from _exactly_one(("netting",), getattr(draft.form, "netting", None), ("stretched", "bar"))


def _one_hoop_size(draft: Draft) -> Iterator[Fault]:
    for number, hoop in _hoops(draft):
        yield from _exactly_one(("hoop", number), hoop, ("diameter", "circumference"))


def _one_twine_weight(draft: Draft) -> Iterator[Fault]:
    for name, twine in (draft.form.twine or {}).items():
        yield from _exactly_one(("twine", name), twine, ("tex", "length_per_weight"))


def _exactly_one(table: Path, record: Table | None, keys: tuple[str, str]) -> Iterator[Fault]:
    if record is None:
        return
    typed = [key for key in keys if key in record.model_fields_set]
    if len(typed) == 2:
        message = f"{keys[0]} is given too; they say the same thing, so leave one of them out"
        yield Fault((*table, keys[1]), message)
    elif not typed:
        yield Fault(table, f"{keys[0]} or {keys[1]} is missing: give one of them")


def _hoops(draft: Draft) -> Iterator[tuple[int, HoopForm]]:
    hoops = getattr(draft.form, "hoop", None) or ()
    return ((number, hoop) for number, hoop in enumerate(hoops) if hoop is not None)


def _hoop_count(draft: Draft) -> int | None:
    hoops: tuple[HoopForm, ...] | None = getattr(draft.form, "hoop", None)
    if hoops is None or not all(draft.fine("hoop", number, "repeat") for number in range(len(hoops))):
        return None
    return sum(hoop.repeat for hoop in hoops)


def _enough_hoops(draft: Draft) -> Iterator[Fault]:
    count = _hoop_count(draft)
    if count is not None and count < 2:
        message = f"a net needs at least two hoops, and {count} is given: add a [[hoop]], or a repeat"
        yield Fault(("hoop",), message)
    elif count is not None and count > MAX_HOOPS:
        yield Fault(
            ("hoop",), f"{count} hoops are more than net3d works out: at most {MAX_HOOPS} are allowed"
        )


def _entry_per_section(draft: Draft) -> Iterator[Fault]:
    count = _hoop_count(draft)
    if count is None or count < 2:
        return
    for key, what in (("deep", "depths"), ("spacing", "spacings")):
        if draft.given("sections", key):
            entries = len(getattr(draft.form.sections, key))
            if entries != count - 1 and (entries or key == "deep"):
                yield Fault(
                    ("sections", key),
                    f"{count} hoops have {count - 1} sections between them, and {entries} {what} are given: "
                    f"write {count - 1}, mouth first",
                )


def _rod_leaves_room(draft: Draft) -> Iterator[Fault]:
    for number, hoop in _hoops(draft):
        diameter = _known_diameter(draft, number, hoop)
        if diameter and draft.given("hoop", number, "rod") and diameter <= 2 * hoop.rod:
            units = draft.form.units
            yield Fault(
                ("hoop", number, "rod"),
                f"a rod of {format_length(hoop.rod, units)} leaves no room inside a hoop of "
                f"{format_length(diameter, units)}: the rod must be thinner than half of the hoop",
            )


def _known_diameter(draft: Draft, number: int, hoop: HoopForm) -> float | None:
    keys = [key for key in ("diameter", "circumference") if key in hoop.model_fields_set]
    fine = draft.fine("units") and len(keys) == 1 and draft.given("hoop", number, keys[0])
    return hoop.outside_diameter() if fine else None


def _meshes_reach_around(draft: Draft) -> Iterator[Fault]:
    mesh = _known_mesh(draft)
    if mesh is None or not draft.given("netting", "around"):
        return
    circles = [
        (math.pi * (diameter - 2 * hoop.rod), number)
        for number, hoop in _hoops(draft)
        if (diameter := _known_diameter(draft, number, hoop)) and draft.given("hoop", number, "rod")
    ]
    circle, number = max(circles, default=(0.0, 0))
    if circle >= draft.form.netting.around * mesh:
        yield Fault(("netting", "around"), _too_wide(draft, circle, mesh, f"hoop[{number + 1}]"))


def _too_wide(draft: Draft, circle: float, mesh: float, hoop: str) -> str:
    around, units = draft.form.netting.around, draft.form.units
    size, length = format_length(mesh, units), format_length(circle, units)
    return (
        f"{around} meshes of {size} stretched cannot be tied to {hoop}: its knots stand on a circle "
        f"{length} around (E1 = {circle / around / mesh:.3g}, and it must be below 1). "
        f"Take {math.floor(circle / mesh) + 1} meshes around or more, or a larger mesh"
    )


def _known_mesh(draft: Draft) -> float | None:
    netting = getattr(draft.form, "netting", None)
    if netting is None or not draft.fine("units"):
        return None
    keys = [key for key in ("stretched", "bar") if key in netting.model_fields_set]
    fine = len(keys) == 1 and draft.given("netting", keys[0])
    return netting.stretched_mesh() if fine else None


def _not_too_many_bars(draft: Draft) -> Iterator[Fault]:
    if not (draft.given("netting", "around") and draft.given("sections", "deep")):
        return
    tail = draft.form.tail.deep if draft.given("tail", "deep") and draft.form.tail else 0
    around = draft.form.netting.around
    bars = round(4 * around * (sum(draft.form.sections.deep) + tail))
    if bars > MAX_BARS:
        yield Fault(
            ("netting", "around"),
            f"{around} meshes around make a net of {bars:,} bars, and at most {MAX_BARS:,} are allowed: "
            "take fewer meshes around or fewer deep",
        )


def _twine_is_known(draft: Draft) -> Iterator[Fault]:
    if not draft.given("netting", "twine"):
        return
    name = draft.form.netting.twine
    own = tuple(getattr(draft.form, "twine", None) or ())
    if plain_name(name) not in map(plain_name, own) and find_twine(name) is None:
        near = near_twines(name, own)
        hint = f"; the nearest are {listed(near)}" if near else ""
        yield Fault(
            ("netting", "twine"),
            f"{shown(name)} is not in the twine table{hint}. A [twine.NAME] adds your own",
        )


def _caution_before_fail(draft: Draft) -> Iterator[Fault]:
    if not draft.fine("limits"):
        return
    for key, typed in draft.form.limits.thresholds().items():
        default = default_limits()[key]
        caution = default.caution if typed.caution is None else typed.caution
        fail = default.fail if typed.fail is None else typed.fail
        if (caution > fail) if default.sense == "max" else (caution < fail):
            order = "below" if default.sense == "max" else "above"
            yield Fault(
                ("limits", key),
                f"caution ({caution:g}) must not lie past fail ({fail:g}): it must be {order} it",
            )


RULES: tuple[Callable[[Draft], Iterator[Fault]], ...] = (
    _one_mesh_size,
    _one_hoop_size,
    _one_twine_weight,
    _enough_hoops,
    _entry_per_section,
    _rod_leaves_room,
    _meshes_reach_around,
    _not_too_many_bars,
    _twine_is_known,
    _caution_before_fail,
)
