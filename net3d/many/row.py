"""One net of many: which numbers of its report are wanted, and the row that they make."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from net3d.chain import design
from net3d.checks.checks import Level
from net3d.errors import EngineError, NetError, Problem, SpecError
from net3d.spec import vary
from net3d.spec.spec import NetSpec
from net3d.spec.wording import nearest
from net3d.version import __version__
from net3d.writers.report import report_of

Cell = str | float | int | bool | None

USUAL = (
    "length_m",
    "hoops.*.hanging_ratio",
    "sections.*.length_m",
    "sections.*.waist_diameter_m",
    "sections.*.looseness_twentieth",
    "throats.*.string_length_to_tie_m",
    "throats.*.opening_girth_m",
    "throats.*.clearance_m",
    "materials.twine_kg",
)
COUNTED = ("fails", "cautions")  # checks that are not fine
_LEFT_OUT = {"findings", "format", "version", "generator", "title"}  # no numbers of the net


@dataclass(frozen=True)
class Task:
    """A net to be worked out: the spec, what is changed in it, and what is wanted of its report."""

    key: str
    spec: NetSpec
    changes: Mapping[str, object]
    wanted: tuple[str, ...]
    version: str = __version__


@dataclass(frozen=True)
class Row:
    """What came of a net: its wanted numbers and how many checks fail and caution; or why there are none."""

    cells: tuple[Cell, ...]
    reason: str = ""


def row_of(task: Task) -> Row:
    """Work out a net. Whatever goes wrong with it is the reason of its row, and stops no other net."""
    if task.version != __version__:
        raise EngineError(
            f"A worker has net3d {__version__} and this machine {task.version}: install the same on both."
        )
    empty: tuple[Cell, ...] = (None,) * (len(task.wanted) + len(COUNTED))
    try:
        made = design(vary(task.spec, task.changes))
    except SpecError as error:
        return Row(empty, "; ".join(f"{problem.key}: {problem.message}" for problem in error.problems))
    except NetError as error:
        return Row(empty, str(error))
    except Exception as error:  # one net in ten thousand must not end the others
        return Row(empty, f"{type(error).__name__}: {error}")
    if not made.shape.at_rest:
        return Row(empty, made.shape.state.sentence)
    found = dict(flat(report_of(made)))
    levels = [finding.level for finding in made.findings]
    counts = (levels.count(Level.FAIL), levels.count(Level.CAUTION))
    return Row((*map(found.get, task.wanted), *counts))


def keyed(spec: NetSpec, point: Mapping[str, object]) -> str:
    """What a row is known by: all that the net is worked out from, in sixteen letters."""
    said = [__version__, spec.source.typed, spec.source.shop, list(point.items())]
    return sha256(json.dumps(said, default=str, sort_keys=True).encode()).hexdigest()[:16]


def flat(report: Any, path: str = "") -> Iterator[tuple[str, Cell]]:  # noqa: ANN401 - any part of a report
    """The numbers and words of a report by their places, entries counted from 1.

    >>> dict(flat({"length_m": 2.0, "sections": [{"length_m": 1.5}], "findings": []}))
    {'length_m': 2.0, 'sections.1.length_m': 1.5}
    """
    if isinstance(report, dict | list):
        entries = report.items() if isinstance(report, dict) else enumerate(report, start=1)
        for key, part in entries:
            if path or key not in _LEFT_OUT:
                yield from flat(part, f"{path}.{key}" if path else str(key))
    else:
        yield path, report


def wanted_of(patterns: Sequence[str], report: Mapping[str, Any]) -> tuple[str, ...]:
    """The columns that are wanted, in the order asked, ``*`` standing for all that the spec itself has.

    Raises ``SpecError`` with every name that no report has.

    >>> wanted_of(["sections.*.length_m"], {"sections": [{"length_m": 1.0}, {"length_m": 2.0}]})
    ('sections.1.length_m', 'sections.2.length_m')
    """
    known = [key for key, _ in flat(report)]
    numberless = {_any_number(key) for key in known}
    wanted, problems = [], []
    for pattern in patterns:
        fits = [key for key in known if _fits(pattern, key)]
        if not fits and "*" not in pattern and _any_number(pattern) in numberless:
            fits = [pattern]  # of an entry that only changed nets have
        if not fits and pattern not in USUAL:
            hint = nearest(_any_number(pattern), numberless)
            problems.append(
                Problem(pattern, f"is no number of report.json{hint}. Known are such as length_m")
            )
        wanted += fits
    if problems:
        raise SpecError("--want", tuple(problems))
    return tuple(dict.fromkeys(wanted))


def _any_number(key: str) -> str:
    return re.sub(r"\.\d+(?=\.|$)", ".*", key)


def _fits(pattern: str, key: str) -> bool:
    return re.fullmatch(r"[^.]+".join(map(re.escape, pattern.split("*"))), key) is not None
