"""Adding to a net's record, so that nothing of it is ever lost."""

from __future__ import annotations

import os
from pathlib import Path

from net3d.errors import OutputError
from net3d.spec.log import Entry, Log, entry_text
from net3d.writers.file import write_file

HEAD = "# What was done to the nets of this folder. Written by net3d log, and only ever added to.\n"
TORN = "# torn off while it was written: "


def add_entry(path: Path, log: Log, entry: Entry) -> None:
    """Add an entry at the end of a record, on the disk before this returns.

    What was torn off by a writing that was cut short is kept as a comment. Raises OutputError where it cannot
    be written.

    Parameters
    ----------
    path, log : the file, and what was read of it
    entry : to be added
    """
    if log.torn:
        kept = "".join(f"{TORN}{line}\n" for line in log.torn.splitlines() if line.strip())
        write_file(path, f"{_ended(log.whole)}{kept}")
    text = _ended(log.whole)[len(log.whole) :] if not log.torn else ""
    new = not path.exists()
    try:
        with path.open("ab") as file:
            file.write(((HEAD if new else text) + entry_text(entry)).encode())
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        raise OutputError(f"{path}: cannot be written: {error.strerror or error}") from error


def _ended(text: str) -> str:
    return text if text.endswith("\n") or not text else f"{text}\n"
