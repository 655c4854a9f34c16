"""Findings: what is wrong with a net or worth knowing about it, and where."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Level(Enum):
    """How much a finding matters."""

    OK = "ok"
    CAUTION = "caution"
    FAIL = "fail"


@dataclass(frozen=True)
class Finding:
    """One checked thing: a sentence the maker can act on, with the number behind it (SI)."""

    code: str
    level: Level
    where: str
    message: str
    value: float
    limit: float
    source: str
