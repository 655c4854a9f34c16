"""Sheets as plain values for scripts."""

from __future__ import annotations

from typing import Any

from net3d.tables.sheet import Sheet
from net3d.units import si_unit


def sheet_records(sheet: Sheet) -> dict[str, Any]:
    """A sheet for scripts: rows by the names of the columns, numbers in SI, and what the names stand for."""
    return {
        "name": sheet.name,
        "title": sheet.title,
        "columns": {
            column.name: {"heading": column.heading, "unit": si_unit(column.kind)} for column in sheet.columns
        },
        "rows": list(sheet.records),
        "notes": [{"kind": note.kind, "text": note.text} for note in sheet.notes],
    }
