"""Rules that tie the keys of a throat and its strings to the rest of the spec."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.outline.girth import girth_of
from net3d.spec.draft import Draft
from net3d.spec.faults import Fault, exactly_one, hoop_count, too_wide, twine_fault
from net3d.spec.measures import knot_circles, known_mesh, planned_mesh
from net3d.spec.throat_form import ThroatForm

MAX_THROATS = 20


def _throats(draft: Draft) -> Iterator[tuple[int, ThroatForm]]:
    throats = getattr(draft.form, "throat", None) or ()
    return ((number, throat) for number, throat in enumerate(throats) if throat is not None)


def throat_on_a_hoop(draft: Draft) -> Iterator[Fault]:
    """A throat is sewn in at a hoop that has netting behind it."""
    count = hoop_count(draft)
    for number, throat in _throats(draft):
        if count is not None and draft.given("throat", number, "hoop") and throat.hoop >= count:
            yield Fault(
                ("throat", number, "hoop"),
                f"hoop {throat.hoop} has no section of the body behind it for a throat: "
                f"write a hoop from 1 to {count - 1}",
            )


def not_too_many_throats(draft: Draft) -> Iterator[Fault]:
    """Each throat takes a second and more to plan and to fit; nets have one to three."""
    count = len(getattr(draft.form, "throat", None) or ())
    if count > MAX_THROATS:
        yield Fault(("throat",), f"{count} throats are more than net3d works out: {MAX_THROATS} at most")


def throat_mesh_once(draft: Draft) -> Iterator[Fault]:
    """A throat's own mesh is given one way."""
    for number, throat in _throats(draft):
        if {"stretched", "bar"} <= throat.model_fields_set:
            yield from exactly_one(("throat", number), throat, ("stretched", "bar"))


def throat_twine_known(draft: Draft) -> Iterator[Fault]:
    """A throat's own twine is in the table, or one of the maker's."""
    for number, throat in _throats(draft):
        if draft.given("throat", number, "twine") and throat.twine is not None:
            yield from twine_fault(draft, ("throat", number, "twine"), throat.twine)


def throat_reaches_around(draft: Draft) -> Iterator[Fault]:
    """A throat of its own mesh or count can be tied to its hoop; one that has the body's can if that can."""
    circles = knot_circles(draft)
    for number, throat in _throats(draft):
        own: list[str] = [k for k in ("around", "stretched", "bar") if k in throat.model_fields_set]
        own += ["hoop"] if draft.given("built", "throats") and draft.form.built.throats else []
        around, mesh = _meshes_at_hoop(draft, number, throat), _mesh_of(draft, number, throat)
        if not own or around is None or mesh is None or not draft.given("throat", number, "hoop"):
            continue
        circle = girth_of(circles.get(throat.hoop - 1, (0.0, 0))[0])
        if circle >= around * mesh:
            message = too_wide(draft, circle, (around, mesh), f"hoop {throat.hoop}")
            yield Fault(("throat", number, own[0]), message)


def _mesh_of(draft: Draft, number: int, throat: ThroatForm) -> float | None:
    """A throat's stretched mesh [m], as far as that is known."""
    typed = [key for key in ("stretched", "bar") if key in throat.model_fields_set]
    if draft.given("built", "throats") and number < len(draft.form.built.throats) and draft.fine("units"):
        return draft.form.built.throats[number] / 10
    if not typed:
        return known_mesh(draft)
    if len(typed) == 2 or not draft.fine("units") or not draft.given("throat", number, typed[0]):
        return None
    planned, body, built = throat.stretched or 2 * (throat.bar or 0.0), planned_mesh(draft), known_mesh(draft)
    return planned * built / body if planned and body and built else planned or None


def throat_narrows(draft: Draft) -> Iterator[Fault]:
    """A throat's tip has no more meshes than its wide end, and its decreases add up to the difference."""
    for number, throat in _throats(draft):
        around = _meshes_at_hoop(draft, number, throat)
        if around is None or not draft.given("throat", number, "tip"):
            continue
        if throat.decreases and draft.given("throat", number, "decreases"):
            yield from _decreases_add_up(draft, number, throat, around - throat.tip)
        elif throat.tip > around:
            yield Fault(
                ("throat", number, "tip"),
                f"{throat.tip} meshes at the tip are more than the {around} at its hoop: write {around} "
                f"or fewer",
            )


def _decreases_add_up(draft: Draft, number: int, throat: ThroatForm, lost: int) -> Iterator[Fault]:
    path = ("throat", number, "decreases")
    if draft.given("throat", number, "deep") and len(throat.decreases) != round(2 * throat.deep):
        yield Fault(
            path,
            f"{len(throat.decreases)} rows are given, and {throat.deep:g} meshes of depth have "
            f"{2 * throat.deep:g} rows of knots: write one number for each",
        )
    if sum(throat.decreases) != lost:
        given = sum(throat.decreases)
        yield Fault(path, f"the rows lose {given} meshes, and from hoop to tip {lost} are to be lost")


def _meshes_at_hoop(draft: Draft, number: int, throat: ThroatForm) -> int | None:
    """Meshes around at a throat's wide end, as far as that is known."""
    if throat.around is not None:
        return throat.around if draft.fine("throat", number, "around") else None
    if not (draft.given("netting", "around") and draft.given("throat", number, "hoop")):
        return None
    counts = (
        draft.form.netting.around,
        *(draft.form.sections.around if draft.given("sections", "around") else ()),
    )
    given = draft.fine("sections", "around")
    if len(counts) == 1:
        return counts[0] if given else None
    return counts[throat.hoop - 1] if throat.hoop <= len(counts) else None


def line_is_for_square(draft: Draft) -> Iterator[Fault]:
    """Only a square throat has a line through its tip."""
    for number, throat in _throats(draft):
        if throat.line is not None and draft.fine("throat", number, "style") and throat.style != "square":
            yield Fault(
                ("throat", number, "line"),
                'a finger throat has no line through its tip: write style = "square", or leave line out',
            )


def strings_tie_behind(draft: Draft) -> Iterator[Fault]:
    """Strings tie to one thing, and that stands behind the throat's hoop."""
    count = hoop_count(draft)
    for number, throat in _throats(draft):
        strings, path = throat.strings, ("throat", number, "strings")
        if strings is None or not draft.fine(*path):
            continue
        if strings.to_tail and strings.to_hoop is not None:
            yield Fault((*path, "to_tail"), "to_hoop is given too; strings tie to one of them: leave one out")
        elif strings.to_tail and not draft.form.tail:
            yield Fault(
                (*path, "to_tail"), "the net has no tail to tie to: add a table [tail], or write to_hoop"
            )
        elif strings.to_hoop is not None and draft.given("throat", number, "hoop"):
            yield from _tie_hoop_behind((*path, "to_hoop"), strings.to_hoop, throat.hoop, count)
        typed = draft.given("throat", number, "strings", "points")
        if typed and draft.given("throat", number, "tip") and strings.points > throat.tip:
            yield Fault(
                (*path, "points"),
                f"{strings.points} ties are more than the {throat.tip} meshes of the tip: write {throat.tip} "
                f"or fewer",
            )


def _tie_hoop_behind(
    path: tuple[str | int, ...], to_hoop: int, hoop: int, count: int | None
) -> Iterator[Fault]:
    if count is not None and not hoop < to_hoop <= count:
        allowed = f"a hoop from {hoop + 1} to {count}" if hoop < count else "to_tail = true"
        yield Fault(path, f"hoop {to_hoop} does not stand behind the throat's hoop {hoop}: write {allowed}")


THROAT_RULES = (
    throat_on_a_hoop,
    not_too_many_throats,
    throat_mesh_once,
    throat_twine_known,
    throat_reaches_around,
    throat_narrows,
    line_is_for_square,
    strings_tie_behind,
)
