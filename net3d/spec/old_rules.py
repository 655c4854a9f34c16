"""Rules of a net that was used: its holes."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.spec.draft import Draft
from net3d.spec.faults import Fault, hoop_count


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


OLD_RULES = (_holes_are_somewhere,)
