"""The net's own record on its page: what is told of it, and what somebody writes there."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from net3d.errors import Problem, SpecError
from net3d.shop.entries import Done
from net3d.spec.log import LOG, read_log
from net3d.spec.spec import NetSpec
from net3d.tables.history import history_sheet

TORN = "The last entry was torn off while it was written; what is left of it stays in the file."


def told_record(spec: NetSpec, path: Path) -> dict[str, Any]:
    """What was done to a net, the newest first, what it took over the years, what is due, and its holes."""
    sheet = history_sheet(spec, spec.source.history, date.today())
    torn = read_log(path.with_name(LOG)).torn
    return {
        "entries": list(reversed(sheet.records)),
        "notes": [*sheet.cautions, *sheet.remarks, *([TORN] if torn else [])],
        "holes": list(map(str, spec.holes)),
    }


def done_of(asked: Mapping[str, Any]) -> Done:
    """What was typed into the boxes of the record. Raises SpecError for a day or a hole that is none."""
    day, hole = str(asked.get("date", "")).strip(), str(asked.get("hole", "")).strip()
    try:
        when = date.fromisoformat(day) if day else date.today()
    except ValueError:
        raise SpecError(LOG, (Problem("date", f"{day!r} is no day: write it such as 2026-05-01"),)) from None
    if hole and not (hole.isdecimal() and len(hole) < 7):
        raise SpecError(LOG, (Problem("hole", f"{hole!r} is no number of a hole"),))
    return Done(
        when,
        str(asked.get("note", "")).strip(),
        str(asked.get("kind") or "note"),
        int(hole) if hole else None,
    )
