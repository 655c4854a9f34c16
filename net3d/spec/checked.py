"""What was typed, checked: the form filled in, and every rule passed or told."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, get_args

from pydantic import ValidationError

from net3d.spec.draft import Draft, salvage
from net3d.spec.faults import Fault
from net3d.spec.form import NetForm
from net3d.spec.report import message_of, path_of
from net3d.spec.rules import faults
from net3d.units import Units


def checked_form(typed: Mapping[str, object]) -> tuple[NetForm, list[Fault]]:
    """The form of what was typed, and all that is wrong with it; to be used only where nothing is."""
    units = typed.get("units")
    draft, misfits = _draft_of(typed, {"units": units if units in get_args(Units) else None})
    return draft.form, [*misfits, *faults(draft)]


def _draft_of(typed: Mapping[str, object], context: dict[str, Any]) -> tuple[Draft, list[Fault]]:
    try:
        return Draft(NetForm.model_validate(typed, context=context)), []
    except ValidationError as error:
        details = error.errors(include_url=False)
        faulty = frozenset(path_of(detail) for detail in details if detail["type"] != "extra_forbidden")
        misfits = [Fault(path_of(detail), message_of(detail)) for detail in details]
        return Draft(salvage(NetForm, typed, context), faulty), misfits
