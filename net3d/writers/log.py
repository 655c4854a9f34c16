"""Adding to a net's record, so that nothing of it is ever lost."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from net3d.errors import OutputError
from net3d.spec.log import Entry, entry_text, read_log
from net3d.writers import drafts
from net3d.writers.file import write_file

HEAD = "# What was done to the nets of this folder. Written by net3d log, and only ever added to.\n"
TORN = "# torn off while it was written: "


def add_entry(path: Path, entry: Entry) -> None:
    """Add an entry at the end of a record, on the disk before this returns.

    The record is read anew while it is held against others who add to it. What was torn off by a writing
    that was cut short is kept as a comment. Raises OutputError where it cannot be written, SpecError where it
    is no record.
    """
    try:
        with _held(path):
            _add(path, entry_text(entry))
    except OSError as error:
        raise OutputError(f"{path}: cannot be written: {error.strerror or error}") from error


def _add(path: Path, text: str) -> None:
    log = read_log(path)
    whole = _ended(log.whole) or HEAD
    if log.torn:
        kept = "".join(f"{TORN}{line}\n" for line in log.torn.splitlines() if line.strip())
        return write_file(path, f"{whole}{kept}{text}")
    with path.open("ab") as file:
        file.write((whole[len(log.whole) :] + text).encode())
        file.flush()
        os.fsync(file.fileno())
    return None


@contextmanager
def _held(path: Path) -> Iterator[None]:
    """Hold a record against others who add to it, also where it is replaced while it is waited for."""
    if sys.platform == "win32":  # no locks; and a file that is open cannot be replaced
        yield
        return
    while True:
        with path.open("ab") as file:
            drafts.hold(file.fileno())
            if path.exists() and os.path.samestat(os.fstat(file.fileno()), path.stat()):
                yield
                return


def _ended(text: str) -> str:
    return text if text.endswith("\n") or not text else f"{text}\n"
