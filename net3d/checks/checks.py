"""Findings: what is wrong with a net or worth knowing about it, and where."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from net3d.parts import Part


class Level(Enum):
    """How much a finding matters."""

    OK = "ok"
    CAUTION = "caution"
    FAIL = "fail"


@dataclass(frozen=True)
class Remedy:
    """Changes of the spec that were tried and set a finding right, and what else comes of them."""

    number: int  # one of all that are told of the net, from 1
    changes: Mapping[str, object]  # what to type, in the spec's units, by key; None takes a key away
    also: tuple[str, ...] = ()  # sentences
    places: tuple[str, ...] = ()  # of the changes in the spec's text, as far as they have one


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
    remedies: tuple[Remedy, ...] = field(default=(), hash=False)  # where they were asked for
    cause: str = ""  # why none was found, where they were asked for
    part: Part | None = None  # the one part it is about; None where it is about more or other things
