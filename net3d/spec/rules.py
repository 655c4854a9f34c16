"""Rules that tie several keys of a spec together. Each is kept to where its own inputs are fine."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from net3d.handbook.limits import default_limits
from net3d.outline.girth import girth_of
from net3d.spec.draft import Draft
from net3d.spec.escape_rules import ESCAPE_RULES
from net3d.spec.faults import Fault, bare_hoops, exactly_one, hoop_count, hoops, too_wide, twine_fault
from net3d.spec.fish_rules import FISH_RULES
from net3d.spec.form import HoopForm
from net3d.spec.frame_rules import FRAME_RULES
from net3d.spec.guide_rules import GUIDE_RULES
from net3d.spec.keys import Path
from net3d.spec.measures import (
    MAX_HOOPS,
    knot_circles,
    known_diameter,
    known_frame,
    known_mesh,
    rows_inward,
)
from net3d.spec.old_rules import OLD_RULES
from net3d.spec.site_rules import SITE_RULES
from net3d.spec.throat_rules import THROAT_RULES
from net3d.units import Tape

MAX_BARS = 2_000_000
LEAST_CAUTION = 0.001
LEAST_HANGING = 0.001  # E1: narrower, netting is a rope


def faults(draft: Draft) -> list[Fault]:
    """All broken rules of a draft."""
    return [fault for rule in RULES for fault in rule(draft)]


def _one_mesh_size(draft: Draft) -> Iterator[Fault]:
    yield from exactly_one(("netting",), getattr(draft.form, "netting", None), ("stretched", "bar"))


def _one_hoop_size(draft: Draft) -> Iterator[Fault]:
    for path, hoop in bare_hoops(draft):
        if not (isinstance(hoop, HoopForm) and hoop.shape != "round"):
            yield from exactly_one(path, hoop, ("diameter", "circumference"))


def _one_twine_weight(draft: Draft) -> Iterator[Fault]:
    for name, twine in (draft.form.twine or {}).items():
        yield from exactly_one(("twine", name), twine, ("tex", "length_per_weight"))


def _enough_hoops(draft: Draft) -> Iterator[Fault]:
    count = hoop_count(draft)
    if count is not None and count < 2:
        message = f"a net needs at least two hoops, and {count} is given: add a [[hoop]], or a repeat"
        yield Fault(("hoop",), message)
    elif count is not None and count > MAX_HOOPS:
        yield Fault(
            ("hoop",), f"{count} hoops are more than net3d works out: at most {MAX_HOOPS} are allowed"
        )


def _entry_per_section(draft: Draft) -> Iterator[Fault]:
    count = hoop_count(draft)
    if count is None or count < 2:
        return
    for key, what in (("deep", "depths"), ("spacing", "spacings"), ("around", "counts")):
        if draft.given("sections", key):
            entries = len(getattr(draft.form.sections, key))
            if entries != count - 1 and (entries or key == "deep"):
                yield Fault(
                    ("sections", key),
                    f"{count} hoops have {count - 1} sections between them, and {entries} {what} are given: "
                    f"write {count - 1}, mouth first",
                )


def _rod_leaves_room(draft: Draft) -> Iterator[Fault]:
    for path, hoop in bare_hoops(draft):
        diameter = known_diameter(draft, path, hoop)
        if diameter and draft.given(*path, "rod") and diameter <= 2 * hoop.rod:
            tape = Tape(draft.form.units)
            yield Fault(
                (*path, "rod"),
                f"a rod of {tape.thickness(hoop.rod)} leaves no room inside a hoop of "
                f"{tape.length(diameter)}: the rod must be thinner than half of the hoop",
            )


def _meshes_reach_around(draft: Draft) -> Iterator[Fault]:
    mesh = known_mesh(draft)
    counts = _counts_at_hoops(draft)
    if mesh is None or counts is None:
        return
    around, key = counts
    circles = [
        (girth_of(diameter) / around.get(place, around[0]), number, place)
        for place, (diameter, number) in knot_circles(draft).items()
    ]
    pitch, number, place = max(circles, default=(0.0, 0, 0))
    if pitch >= mesh:
        count = around.get(place, around[0])
        yield Fault(key, too_wide(draft, pitch * count, (count, mesh), f"hoop[{number + 1}]"))
    narrow, number, place = min(circles, default=(mesh, 0, 0))
    if 0 < narrow < LEAST_HANGING * mesh:
        size = Tape(draft.form.units).length(mesh)
        yield Fault(
            ("netting",),
            f"meshes of {size} stretched hang at E1 = {narrow / mesh:.2g} on hoop[{number + 1}], and it must "
            f"be {LEAST_HANGING:g} or more: take a smaller mesh, fewer meshes around or a larger hoop",
        )


def _counts_at_hoops(draft: Draft) -> tuple[dict[int, int], Path] | None:
    """Meshes around at every hoop by its place, and the key that says so; the first stands for all others."""
    if not draft.given("netting", "around"):
        return None
    counts = {0: draft.form.netting.around}
    if not draft.given("sections", "around") or not draft.form.sections.around:
        return counts, ("netting", "around")
    counts |= dict(enumerate(draft.form.sections.around, start=1))
    return counts, ("sections", "around")


def _not_too_many_bars(draft: Draft) -> Iterator[Fault]:
    if not (draft.given("netting", "around") and draft.given("sections", "deep")):
        return
    tail = draft.form.tail.deep if draft.given("tail", "deep") and draft.form.tail else 0
    around = max([draft.form.netting.around, *_given_counts(draft)])
    body = round(4 * around * (sum(draft.form.sections.deep) + tail))
    throats = _throat_bars(draft, around)
    bars = body + sum(throats.values())
    if bars <= MAX_BARS:
        return
    most = max(throats, key=lambda number: throats[number], default=0)
    if throats.get(most, 0) > body:
        yield Fault(
            ("throat", most, "deep"),
            f"this throat has up to {throats[most]:,} bars and the whole net {bars:,}, and at most "
            f"{MAX_BARS:,} are allowed: make it less deep, or take fewer meshes around",
        )
        return
    yield Fault(
        ("netting", "around"),
        f"{around} meshes around make a net of {bars:,} bars, and at most {MAX_BARS:,} are allowed: "
        "take fewer meshes around or fewer deep",
    )


def _given_counts(draft: Draft) -> tuple[int, ...]:
    return draft.form.sections.around if draft.given("sections", "around") else ()


def _throat_bars(draft: Draft, around: int) -> dict[int, int]:
    """The most bars that each throat can have, by its number from 0."""
    throats = getattr(draft.form, "throat", None) or ()
    return {
        number: round(4 * max(throat.around or around, throat.tip) * throat.deep)
        for number, throat in enumerate(throats)
        if throat is not None
        and all(draft.given("throat", number, key) for key in ("deep", "tip"))
        and draft.fine("throat", number, "around")
    }


def _sections_reach(draft: Draft) -> Iterator[Fault]:
    """Netting drawn out straight is longer than the step from one hoop's knots in to the next one's.

    ``|R_i - R_i+1| < deep x m``, with the radii of the knot circles and the stretched mesh.
    """
    mesh, circles, counts = known_mesh(draft), knot_circles(draft), _counts_at_hoops(draft)
    if mesh is None or hoop_count(draft) is None or not draft.given("sections", "deep"):
        return
    around = counts[0] if counts else {0: math.inf}
    for place, deep in enumerate(draft.form.sections.deep):
        ends = [(circles[at][0] / 2, around.get(at, around[0])) for at in (place, place + 1) if at in circles]
        step = abs(ends[0][0] - ends[-1][0]) if len(ends) == 2 else 0.0
        if min(ends, default=(0.0, 0))[0] > 0.0 and step >= deep * mesh:  # no rod fills its hoop
            (inner, _), (outer, count) = sorted(ends)
            least = rows_inward((outer, inner), mesh / 2, math.pi / count) / 2
            message = _too_short(draft, place, (deep * mesh, step), least)
            yield Fault(("sections", "deep", place), message)


def _too_short(draft: Draft, place: int, sizes: tuple[float, float], least: float) -> str:
    deep = draft.form.sections.deep[place]
    span, apart = (Tape(draft.form.units).length(size) for size in sizes)
    return (
        f"{deep:g} meshes do not reach from hoop {place + 1} to hoop {place + 2}: drawn out straight they "
        f"are {span} long, and the radii of the two hoops differ by {apart}. Write {least:g} or more, or "
        f"make the hoops more alike"
    )


def _twine_is_known(draft: Draft) -> Iterator[Fault]:
    if draft.given("netting", "twine"):
        yield from twine_fault(draft, ("netting", "twine"), draft.form.netting.twine)


def _enough_stations(draft: Draft) -> Iterator[Fault]:
    """A bow shows from four heights on, an oval from two diameters."""
    for path, hoop in bare_hoops(draft):
        for key, least in (("gaps", 4), ("across", 2)):
            count = len(getattr(hoop, key, None) or ())
            if draft.given(*path, key) and 0 < count < least:
                message = f"{count} measures do not show a shape: write {least} or more, equally spaced"
                yield Fault((*path, key), message)


def _hoops_are_near_true(draft: Draft) -> Iterator[Fault]:
    """A hoop that is bent further than this is no hoop to work with, or was measured wrong."""
    for path, hoop in bare_hoops(draft):
        across = hoop.across if draft.fine("units") and draft.given(*path, "across") else ()
        if across and max(across) > 2 * min(across):
            sizes = [Tape(draft.form.units).length(size) for size in (max(across), min(across))]
            message = (
                f"{sizes[0]} one way and {sizes[1]} another is more than twice as wide: measure again, or "
                "bend the hoop rounder"
            )
            yield Fault((*path, "across"), message)
        diameter = known_diameter(draft, path, hoop)
        gaps = hoop.gaps if draft.given(*path, "gaps") else ()
        if diameter and gaps and max(gaps) - min(gaps) > diameter / 2:
            sizes = [Tape(draft.form.units).length(size) for size in (max(gaps) - min(gaps), diameter)]
            message = (
                f"a hoop of {sizes[1]} that stands {sizes[0]} off the floor is bent by more than half its "
                "diameter: measure again, or bend the hoop flatter"
            )
            yield Fault((*path, "gaps"), message)


def _bridle_reaches(draft: Draft) -> Iterator[Fault]:
    """Bridle legs are longer than the mouth hoop's radius, or they meet nowhere."""
    radius = _known_radius(draft, 0)
    legs = draft.form.rigging.bridle if draft.given("rigging", "bridle", "length") else None
    if radius is not None and legs is not None and legs.length <= radius:
        size = Tape(draft.form.units).length(radius)
        message = (
            f"legs must be longer than {size}, from the middle of the mouth to its hoop, to meet in a ring "
            "ahead of it"
        )
        yield Fault(("rigging", "bridle", "length"), message)


def _tail_closes(draft: Draft) -> Iterator[Fault]:
    """A tail reaches from the last hoop to the middle, or it cannot be gathered."""
    last = len(getattr(draft.form, "hoop", None) or ()) - 1
    radius, mesh = _known_radius(draft, last), known_mesh(draft)
    if radius is None or mesh is None or not draft.given("tail", "deep") or draft.form.tail is None:
        return
    if draft.form.tail.deep * mesh <= radius:
        least = math.floor(2 * radius / mesh + 1) / 2
        size = Tape(draft.form.units).length(radius)
        message = (
            f"{draft.form.tail.deep:g} meshes do not reach from the last hoop to the middle, {size} away, to "
            f"be gathered there: write {least:g} or more"
        )
        yield Fault(("tail", "deep"), message)


def _known_radius(draft: Draft, number: int) -> float | None:
    """From the middle of a hoop table's hoops to where they reach farthest [m], where that is known."""
    hoop = dict(hoops(draft)).get(number)
    frame = None if hoop is None else known_frame(draft, ("hoop", number), hoop)
    if frame is not None:
        return frame.reach
    diameter = None if hoop is None else known_diameter(draft, ("hoop", number), hoop)
    return None if diameter is None else diameter / 2


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


def _cautions_are_more_than_nothing(draft: Draft) -> Iterator[Fault]:
    """What is advised lies at caution, and nothing can be advised at nothing."""
    for key, typed in draft.form.limits.thresholds().items() if draft.fine("limits") else ():
        if typed.caution is not None and default_limits()[key].caution > 0 and typed.caution < LEAST_CAUTION:
            message = f"{typed.caution:g} is not allowed here: it must be {LEAST_CAUTION:g} or more"
            yield Fault(("limits", key, "caution"), message)


def _lacing_twine_is_known(draft: Draft) -> Iterator[Fault]:
    if draft.given("lacing", "twine") and draft.form.lacing.twine is not None:
        yield from twine_fault(draft, ("lacing", "twine"), draft.form.lacing.twine)


def _one_webbing_size(draft: Draft) -> Iterator[Fault]:
    stock = getattr(draft.form, "stock", None)
    if stock is not None and {"webbing_across", "webbing_deep"} <= stock.model_fields_set:
        message = "webbing_across is given too; a sheet has one fixed size and runs on, so leave one out"
        yield Fault(("stock", "webbing_deep"), message)


RULES: tuple[Callable[[Draft], Iterator[Fault]], ...] = (
    _one_mesh_size,
    _one_hoop_size,
    _one_twine_weight,
    _enough_hoops,
    _entry_per_section,
    _rod_leaves_room,
    _meshes_reach_around,
    _sections_reach,
    _not_too_many_bars,
    _twine_is_known,
    _enough_stations,
    _hoops_are_near_true,
    _bridle_reaches,
    _tail_closes,
    _caution_before_fail,
    _cautions_are_more_than_nothing,
    _lacing_twine_is_known,
    _one_webbing_size,
    *FRAME_RULES,
    *GUIDE_RULES,
    *ESCAPE_RULES,
    *SITE_RULES,
    *OLD_RULES,
    *THROAT_RULES,
    *FISH_RULES,
)
