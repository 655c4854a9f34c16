"""Rules of a net that was used: its age, and its holes."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.spec.draft import Draft
from net3d.spec.faults import Fault, hoop_count

LEAST_BROKEN = 3


def _holes_are_somewhere(draft: Draft) -> Iterator[Fault]:
    """A hole is in a part that the net has, and something is torn."""
    count, throats = hoop_count(draft), len(getattr(draft.form, "throat", None) or ())
    for number, hole in enumerate(getattr(draft.form, "hole", None) or ()):
        if hole is None:
            continue
        path = ("hole", number)
        if draft.fine(*path) and not (hole.knots or hole.bars):
            yield Fault(path, 'nothing is torn: write knots = ["7:12-15"], or bars = ["7:12 to 8:12"]')
        if draft.given(*path, "throat") and hole.throat and hole.throat > throats:
            yield Fault((*path, "throat"), f"there is no throat {hole.throat}: the net has {throats}")
        if draft.given(*path, "hoop") and hole.hoop and count and hole.hoop > count:
            yield Fault((*path, "hoop"), f"there is no hoop {hole.hoop}: the net has {count}")
        if hole.throat and hole.hoop and draft.fine(*path):
            yield Fault((*path, "hoop"), "rows of a throat are counted from its own hoop: leave hoop out")


def _age_is_told(draft: Draft) -> Iterator[Fault]:
    """Netting that was used has an age, or some of its bars were broken."""
    old = getattr(draft.form, "old", None)
    if old is None or not draft.fine("old"):
        return
    if old.months is None and not old.broke:
        yield Fault(("old",), "write months, that it was out, or broke, what some of its bars broke at")
    if 0 < len(old.broke) < LEAST_BROKEN:
        message = f"{len(old.broke)} bars say little: break {LEAST_BROKEN} or more, here and there"
        yield Fault(("old", "broke"), message)


OLD_RULES = (
    _age_is_told,
    _holes_are_somewhere,
)
