"""Rules of ways out: which keys go with which kind, and where they can stand."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.spec.draft import Draft
from net3d.spec.escape_form import EscapeForm
from net3d.spec.escapes import ALSO, NEEDED
from net3d.spec.faults import Fault, hoop_count
from net3d.spec.keys import Path


def escapes(draft: Draft) -> Iterator[tuple[Path, EscapeForm]]:
    """The tables that could be read and say of which kind they are, and where they stand."""
    for number, escape in enumerate(getattr(draft.form, "escape", None) or ()):
        if escape is not None and draft.given("escape", number, "kind"):
            yield ("escape", number), escape


def _keys_of_its_kind(draft: Draft) -> Iterator[Fault]:
    for path, escape in escapes(draft):
        needed, typed = NEEDED[escape.kind], escape.model_fields_set
        for key in needed:
            if key not in typed:
                yield Fault((*path, key), f"is missing: {escape.kind} takes {', '.join(needed)}")
        allowed = (*needed, *ALSO[escape.kind])
        for key in sorted(typed - {"kind", *allowed}):
            message = f"does not go with {escape.kind}, which takes {', '.join(allowed)}: leave it out"
            yield Fault((*path, key), message)


def _behind_a_hoop_with_netting(draft: Draft) -> Iterator[Fault]:
    count = hoop_count(draft)
    for path, escape in escapes(draft):
        if count is not None and draft.given(*path, "behind") and escape.behind and escape.behind >= count:
            message = f"there are no hoops on both sides of it: write a hoop from 1 to {count - 1}"
            yield Fault((*path, "behind"), message)


ESCAPE_RULES = (_keys_of_its_kind, _behind_a_hoop_with_netting)
