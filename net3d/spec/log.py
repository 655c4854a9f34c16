"""The record of a net: what was done to it and when, in a file beside the specs, one table a thing done.

The file is only ever added to. A note stands last in every entry, so that one without it was torn off while
it was written; such a tail is told apart, and what stands before it is read.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from net3d.errors import Problem, SpecError
from net3d.spec.wording import is_control, listed

LOG = "net-log.toml"
KINDS = ("built", "measured", "set", "mended", "bridle moved", "hoops turned", "dipped", "note")
MOST_LETTERS = 400
MOST_TORN = 9  # lines of an entry
_HEAD = "[[entry]]"


@dataclass(frozen=True)
class Entry:
    """One thing that was done to a net."""

    day: date
    net: str  # name of its spec file
    kind: str
    note: str
    twine: Mapping[str, float] = field(default_factory=dict, hash=False)  # that went into it, by name [m]
    dip: float = 0.0  # that went on it [kg]


@dataclass(frozen=True)
class Log:
    """A record, and what was torn off at its end."""

    entries: tuple[Entry, ...] = ()
    whole: str = ""  # text of the entries
    torn: str = ""

    def of(self, net: str) -> tuple[Entry, ...]:
        """The entries of a net by its day, as they were written where that is the same."""
        return tuple(sorted((one for one in self.entries if one.net == net), key=lambda one: one.day))


def read_log(path: Path) -> Log:
    """The record in a file; an empty one where there is none.

    Raises SpecError for a file that is no record.
    """
    try:
        text = path.read_bytes().decode("utf-8", errors="replace") if path.exists() else ""
    except OSError as error:
        raise _refused(str(path), f"cannot be read: {error.strerror or error}") from None
    return parse_log(text, str(path))


def parse_log(text: str, source: str = LOG) -> Log:
    """A record from its text. Raises SpecError where more than its last entry cannot be read."""
    lines = text.splitlines(keepends=True)
    for ended in range(len(lines), max(len(lines) - MOST_TORN, 0) - 1, -1):
        whole, torn = "".join(lines[:ended]), "".join(lines[ended:])
        tables = _tables(whole)
        if tables is not None and all("note" in table for table in tables):
            break
    else:
        raise _refused(source, "is no record of a net: mend its lines by hand, or move it away")
    entries = [_entry(table) for table in tables]
    wrong = [f"entry {number}: {one}" for number, one in enumerate(entries, 1) if isinstance(one, str)]
    if wrong:
        raise SpecError(source, tuple(Problem("", message) for message in wrong))
    return Log(tuple(one for one in entries if isinstance(one, Entry)), whole, torn)


def entry_text(entry: Entry) -> str:
    """An entry as it is added to the file.

    >>> print(entry_text(Entry(date(2026, 5, 1), "brook", "set", "At the mill.")), end="")
    <BLANKLINE>
    [[entry]]
    date = 2026-05-01
    net = "brook"
    kind = "set"
    note = "At the mill."
    """
    lines = [f"date = {entry.day}", f"net = {_quoted(entry.net)}", f"kind = {_quoted(entry.kind)}"]
    if entry.twine:
        used = [f"{_quoted(name)} = {length:.2f}" for name, length in entry.twine.items()]
        lines.append(f"twine_m = {{ {', '.join(used)} }}")
    if entry.dip:
        lines.append(f"dip_kg = {entry.dip:.3f}")
    lines.append(f"note = {_quoted(entry.note)}")
    return "\n".join(["", _HEAD, *lines, ""])


def _quoted(text: str) -> str:
    """A text in quotes: escapes of JSON are those of TOML."""
    return json.dumps(text, ensure_ascii=False)


def note_fault(note: str) -> str:
    """What is wrong with a note; nothing where it can be written."""
    if len(note) > MOST_LETTERS:
        return f"the note is too long: at most {MOST_LETTERS} letters are allowed"
    if any(is_control(letter) for letter in note):
        return "the note has letters that cannot be printed: write it on one line, in plain letters"
    return ""


def _tables(text: str) -> list[Mapping[str, Any]] | None:
    try:
        tables = tomllib.loads(text).get("entry", [])
    except (tomllib.TOMLDecodeError, ValueError, RecursionError):
        return None
    right = isinstance(tables, list) and all(isinstance(table, dict) for table in tables)
    return tables if right else None


def _entry(table: Mapping[str, Any]) -> Entry | str:
    """An entry, or what is wrong with it."""
    day, kind, note, net = (table.get(key) for key in ("date", "kind", "note", "net"))
    twine, dip = table.get("twine_m", {}), table.get("dip_kg", 0.0)
    if type(day) is not date:
        return f"date = {day!r} is no day: write it such as 2026-05-01"
    if kind not in KINDS:
        return f"kind = {kind!r} is not known: write {listed(KINDS)}"
    if not (isinstance(note, str) and isinstance(net, str)):
        return "net or note is missing: both are text"
    if fault := note_fault(note):
        return fault
    if not (isinstance(twine, dict) and all(_is_amount(used) for used in twine.values()) and _is_amount(dip)):
        return "twine_m is a table of lengths in metres by the twine's name, dip_kg a number"
    return Entry(day, net, kind, note, {name: float(used) for name, used in twine.items()}, float(dip))


def _is_amount(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value < 1e9


def _refused(source: str, message: str) -> SpecError:
    return SpecError(source, (Problem("", message),))
