"""Facts from outside as cases of a test, each with the source that it was read in."""

from __future__ import annotations

import pytest


def facts(source: str, *rows: tuple[object, ...]) -> list[object]:
    """Cases of ``pytest.mark.parametrize`` that count as facts of a source."""
    return [pytest.param(*row, marks=pytest.mark.published(source=source)) for row in rows]
