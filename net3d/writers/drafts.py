"""Drafts: what is being written stands beside its final place under a hidden name, held by a lock.

The system drops the lock when the process ends, however it ends, so a dead draft can be told from one that is
still being written. Where there are no such locks (Windows, some network drives), a draft is taken for dead
when nothing was put into it for a day.
"""

from __future__ import annotations

import ctypes
import os
import re
import shutil
import sys
import time
import uuid
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

if sys.platform != "win32":
    import fcntl

DAY = 86400.0  # s
AT_FDCWD, RENAME_EXCHANGE = -100, 2  # as the system's headers have them


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
        if held is not None or _rests(draft):
            remove(draft)
        release(held)


def _rests(draft: Path) -> bool:
    try:
        return time.time() - draft.stat().st_mtime > DAY
    except OSError:
        return False  # it was put in place meanwhile


def remove(path: Path) -> None:
    """Remove a file or a folder, or as much of it as can be."""
    shutil.rmtree(path, ignore_errors=True)
    with suppress(OSError):
        path.unlink()


def swapped(first: Path, second: Path) -> bool:
    """Exchange two names in one step, so that both are there at every moment; False where it cannot be done.

    Source: renameat2(2) with RENAME_EXCHANGE, in Linux since 3.15. Some file systems and C libraries lack it.
    """
    if sys.platform != "linux":
        return False
    exchange = getattr(ctypes.CDLL(None), "renameat2", None)
    here, names = ctypes.c_int(AT_FDCWD), [ctypes.c_char_p(os.fsencode(path)) for path in (first, second)]
    return bool(exchange and exchange(here, names[0], here, names[1], ctypes.c_uint(RENAME_EXCHANGE)) == 0)


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Hold a folder against others who write in it, for as long as it takes to rename."""
    if sys.platform == "win32":
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        hold(handle)  # else two builds at once may refuse one of them
        yield
    finally:
        os.close(handle)


def hold(handle: int) -> None:
    """Wait for a lock on an open file or folder and take it, where there are locks."""
    if sys.platform != "win32":
        with suppress(OSError):
            fcntl.flock(handle, fcntl.LOCK_EX)


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
