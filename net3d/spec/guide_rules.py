"""Rules of wings and leaders."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil, radians, sin

from net3d.spec.draft import Draft
from net3d.spec.faults import Fault, hoops, twine_fault
from net3d.spec.guide_form import GuideForm, LeaderForm, WingForm
from net3d.spec.keys import Path
from net3d.spec.measures import known_diameter, known_frame, known_mesh
from net3d.units import Tape

MOST_BENDS = 4
LONGEST = 500  # times as many meshes long as deep: what is longer is a line and no wall


def guides(draft: Draft) -> Iterator[tuple[Path, GuideForm]]:
    """The tables of wings and of the leader that could be read, and where they stand."""
    for number, wing in enumerate(getattr(draft.form, "wing", None) or ()):
        if wing is not None:
            yield ("wing", number), wing
    leader = getattr(draft.form, "leader", None)
    if leader is not None:
        yield ("leader",), leader


def _one_mesh(draft: Draft) -> Iterator[Fault]:
    for path, guide in guides(draft):
        if {"stretched", "bar"} <= guide.model_fields_set:
            message = "stretched is given too; they say the same thing, so leave one of them out"
            yield Fault((*path, "bar"), message)


def _known_twine(draft: Draft) -> Iterator[Fault]:
    for path, guide in guides(draft):
        if draft.given(*path, "twine") and guide.twine is not None:
            yield from twine_fault(draft, (*path, "twine"), guide.twine)


def _not_too_long(draft: Draft) -> Iterator[Fault]:
    for path, guide in guides(draft):
        if draft.given(*path, "long") and draft.given(*path, "deep") and guide.long > LONGEST * guide.deep:
            message = (
                f"{guide.long} meshes are more than {LONGEST} times as long as it is deep: write "
                f"{LONGEST * guide.deep} or fewer, or make it deeper"
            )
            yield Fault((*path, "long"), message)


def _lines_alike(draft: Draft) -> Iterator[Fault]:
    """Lines of which one is far longer than the other stand on no stake."""
    for path, guide in guides(draft):
        if draft.given(*path, "lead_hanging") and draft.fine(*path, "hanging") and guide.lead_hanging:
            ratio = guide.lead_hanging / guide.hanging
            if not 0.8 <= ratio <= 1.25:
                message = (
                    f"a lead line hung at {guide.lead_hanging:g} under a float line hung at "
                    f"{guide.hanging:g} is {ratio:.2g} times as long: write {0.8 * guide.hanging:.2g} to "
                    f"{min(1.25 * guide.hanging, 0.95):.2g}"
                )
                yield Fault((*path, "lead_hanging"), message)


def _one_a_side(draft: Draft) -> Iterator[Fault]:
    taken: set[str] = set()
    for path, guide in guides(draft):
        if not isinstance(guide, WingForm) or not draft.fine(*path, "side"):
            continue
        sides = {"left", "right"} if guide.side == "both" else {guide.side}
        if sides & taken:
            message = f"there is a wing on the {min(sides & taken)} already: one a side is allowed"
            yield Fault((*path, "side"), message)
        taken |= sides


def _bends_in_order(draft: Draft) -> Iterator[Fault]:
    for path, guide in guides(draft):
        if not isinstance(guide, WingForm) or not guide.bends or not draft.fine(*path):
            continue
        if len(guide.bends) > MOST_BENDS:
            yield Fault((*path, "bends"), f"{len(guide.bends)} bends: write {MOST_BENDS} or fewer")
        if guide.long < guide.deep:
            message = f"a wing that turns is at least as long as it is deep: write {guide.deep} or more"
            yield Fault((*path, "long"), message)
        meshes = [0, *(bend.after for bend in guide.bends), guide.long]
        for number, (before, after) in enumerate(pairwise(meshes[:-1])):
            if after < before + 2 or after > guide.long - 2:
                message = (
                    f"a wing of {guide.long} meshes cannot turn after {after}: bends stand in a row from the "
                    f"mouth, two meshes apart or more: write {before + 2} to {guide.long - 2}"
                )
                yield Fault((*path, "bends", number, "after"), message)
                return


def _on_its_side(draft: Draft) -> Iterator[Fault]:
    """Two walls of a heart that cross would close it."""
    first = dict(hoops(draft)).get(0)
    frame = None if first is None else known_frame(draft, ("hoop", 0), first)
    across = None if first is None else known_diameter(draft, ("hoop", 0), first)
    for path, guide in guides(draft):
        mesh = _mesh(draft, path, guide)
        if not isinstance(guide, WingForm) or not guide.bends or mesh is None or not draft.fine(*path):
            continue
        meshes = [0, *(bend.after for bend in guide.bends), guide.long]
        angles = [guide.angle, *(bend.angle for bend in guide.bends)]
        out = ((frame.width if frame else across) or 0.0) / 2
        line = mesh * min(guide.hanging, guide.lead_hanging or guide.hanging) * (1 - guide.slack)
        for number, ((start, end), angle) in enumerate(zip(pairwise(meshes), angles, strict=True)):
            out += (end - start) * line * sin(radians(angle))
            if out < 0:
                over = Tape(draft.form.units).length(-out)
                message = (
                    f"it runs {over} over the middle, where the leader stands: turn it back less, or later"
                )
                yield Fault((*path, "bends", number - 1, "angle"), message)
                break


def _held_by_one(draft: Draft) -> Iterator[Fault]:
    """What holds its ends: stakes, anchors, or a second net."""
    for path, guide in guides(draft):
        if guide.anchor is not None and guide.stake_holds is not None:
            message = "an anchor takes the place of its stake: leave one of them out"
            yield Fault((*path, "stake_holds"), message)
        if not isinstance(guide, LeaderForm) or not guide.pair:
            continue
        for key in ("anchor", "stake_holds"):
            if getattr(guide, key) is not None:
                message = "its far end is tied to the mouth of the second net: leave it out"
                yield Fault((*path, key), message)
        if draft.fine("rigging", "anchor") and draft.form.rigging.anchor != "tail":
            message = "two nets that face each other are each anchored at the tail: write tail in [rigging]"
            yield Fault((*path, "pair"), message)


def _longer_than_the_mouth(draft: Draft) -> Iterator[Fault]:
    """Lines shorter than the mouth is high lead nowhere."""
    first = dict(hoops(draft)).get(0)
    frame = None if first is None else known_frame(draft, ("hoop", 0), first)
    mouth = None if first is None else known_diameter(draft, ("hoop", 0), first)
    high = frame.height if frame else mouth
    for path, guide in guides(draft):
        mesh = _mesh(draft, path, guide)
        if high is None or mesh is None or not draft.given(*path, "long"):
            continue
        hung = min(guide.hanging, guide.lead_hanging or guide.hanging)
        if guide.long * mesh * hung < high:
            line, size = (Tape(draft.form.units).length(one) for one in (guide.long * mesh * hung, high))
            message = (
                f"{guide.long} meshes hang on {line} of line, and the mouth is {size} high: write "
                f"{ceil(high / (mesh * hung))} or more"
            )
            yield Fault((*path, "long"), message)


def _mesh(draft: Draft, path: Path, guide: GuideForm) -> float | None:
    """Its stretched mesh [m], where that is known."""
    if not all(draft.fine(*path, key) for key in ("stretched", "bar", "hanging", "lead_hanging")):
        return None
    if guide.stretched or guide.bar:
        return (guide.stretched or 2 * (guide.bar or 0.0)) if draft.fine("units") else None
    return known_mesh(draft)


GUIDE_RULES = (
    _one_mesh,
    _known_twine,
    _not_too_long,
    _lines_alike,
    _one_a_side,
    _bends_in_order,
    _on_its_side,
    _held_by_one,
    _longer_than_the_mouth,
)
