"""Drafts: what is being written stands beside its final place under a hidden name, held by a lock.

The system drops the lock when the process ends, however it ends, so a dead draft can be told from one that is
still being written. Where a file system has no locks (Windows, some network drives), drafts that a killed
process left are never cleared, and writing is as safe otherwise.
"""

from __future__ import annotations

import os
import re
import shutil
import sys
import uuid
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

if sys.platform != "win32":
    import fcntl


def make_folder(folder: Path) -> list[Path]:
    """Make a folder and those above it; gives those that were missing, the innermost first."""
    missing = [path for path in (folder, *folder.parents) if not path.exists()]
    folder.mkdir(parents=True, exist_ok=True)
    return missing


def remove_empty(folders: list[Path]) -> None:
    """Remove folders that were made, innermost first, as far as nothing is in them."""
    with suppress(OSError):
        for folder in folders:
            folder.rmdir()


def hidden_path(parent: Path, name: str, kind: str) -> Path:
    """A path beside ``parent/name`` that nothing else has."""
    return parent / f".{name}.{kind}-{uuid.uuid4().hex}"


def hidden_paths(parent: Path, name: str, kind: str) -> list[Path]:
    """What stands beside ``parent/name`` under names that ``hidden_path`` gave, and no others' names."""
    pattern = re.compile(rf"\.{re.escape(name)}\.{kind}-[0-9a-f]{{32}}")
    return [path for path in parent.iterdir() if pattern.fullmatch(path.name)]


def clear_dead_drafts(parent: Path, name: str) -> None:
    """Remove the drafts of ``parent/name`` whose process has ended. Call it with the folder held."""
    for draft in hidden_paths(parent, name, "draft"):
        held = claim(draft)
        if held is not None:
            remove(draft)
            release(held)


def remove(path: Path) -> None:
    """Remove a file or a folder, or as much of it as can be."""
    shutil.rmtree(path, ignore_errors=True)
    with suppress(OSError):
        path.unlink()


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Hold a folder against others who write in it, for as long as it takes to rename."""
    if sys.platform == "win32":
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        with suppress(OSError):  # a file system without locks: two builds at once may refuse one of them
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def claim(draft: Path) -> int | None:
    """Mark a draft as being written; None when another process does, or where none can tell."""
    if sys.platform == "win32":
        return None
    try:
        handle = os.open(draft, os.O_RDONLY)
    except OSError:
        return None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(handle)
        return None
    return handle


def release(held: int | None) -> None:
    """Let go of a draft that was claimed."""
    if held is not None:
        os.close(held)
