"""Stops the writing of a build, and of a single file, before every step that it takes in the file system.

    python tests/tools/interrupts/moments.py

Python tells of every such step (sys.addaudithook). For each of them in turn a process of its own starts to
write and is stopped there, by SIGKILL or by KeyboardInterrupt. What stood before must then stand whole, or
what is new, and the next to be written leaves nothing beside itself.
"""

from __future__ import annotations

import os
import signal
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from net3d.writers import folder as folders
from net3d.writers.file import output_file

STEPS = ("os.", "open", "shutil.", "fcntl.")
PARTS = ("report.json", "net.stl")
Contents = dict[str, str]


@dataclass(frozen=True)
class Case:
    """What is written, what stands there before, and what stops it."""

    kind: str
    stands: bool
    stop: str
    swaps: bool = True

    @property
    def may_be_away(self) -> bool:
        """Where names cannot be exchanged, the old build is aside for a moment; the next puts it back."""
        return self.kind == "folder" and not self.swaps


CASES = tuple(
    Case(kind, stands, stop, swaps)
    for kind, stands, swaps in (
        ("folder", True, True),
        ("folder", True, False),
        ("folder", False, True),
        ("file", True, True),
        ("file", False, True),
    )
    for stop in ("SIGKILL", "KeyboardInterrupt")
)


def write_folder(home: Path, text: str) -> None:
    """Write a build of two files."""
    with folders.output_folder(home, "net") as draft:
        for part in PARTS:
            (draft / part).write_text(text)


def write_file(home: Path, text: str) -> None:
    """Write a single file."""
    with output_file(home / "net") as draft:
        draft.write_text(text)


WRITERS: dict[str, Callable[[Path, str], None]] = {"folder": write_folder, "file": write_file}


def contents(home: Path) -> Contents:
    """What stands under the name that was written: file names and texts; empty when nothing does."""
    target = home / "net"
    if target.is_dir():
        return {path.name: path.read_text() for path in target.iterdir()}
    return {"": target.read_text()} if target.exists() else {}


def whole(kind: str, text: str) -> Contents:
    """What stands there when all went well."""
    return dict.fromkeys(PARTS if kind == "folder" else ("",), text)


def stop_before(step: int, stop: str) -> None:
    """Stop this process before it takes its so-manieth step in the file system."""
    steps = count(1)

    def watch(event: str, arguments: object) -> None:
        if event.startswith(STEPS) and next(steps) == step:
            if stop == "SIGKILL":
                os.kill(os.getpid(), signal.SIGKILL)
            raise KeyboardInterrupt

    sys.addaudithook(watch)


def stopped(case: Case, home: Path, step: int) -> bool:
    """Write in a process that is stopped before a step; False when it had no such step."""
    child = os.fork()
    if child == 0:
        stop_before(step, case.stop)
        try:
            WRITERS[case.kind](home, "new")
        except KeyboardInterrupt:
            os._exit(1)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    return status != 0


def check(case: Case, step: int) -> bool:
    """Stop before one step and look at what is left; False when there was no such step."""
    write = WRITERS[case.kind]
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        if case.stands:
            write(home, "old")
        was_stopped = stopped(case, home, step)
        fail_next(case, home)
        before = whole(case.kind, "old") if case.stands else {}
        if contents(home) not in (before, whole(case.kind, "new")):
            raise AssertionError(f"{case} before step {step}: {contents(home)}")
        write(home, "next")
        names = [path.name for path in home.iterdir()]
        if names != ["net"] or contents(home) != whole(case.kind, "next"):
            raise AssertionError(f"{case} before step {step}: the next left {names}, {contents(home)}")
    return was_stopped


def fail_next(case: Case, home: Path) -> None:
    """Where the old build may be aside, a next one that fails puts it back too."""
    if not case.may_be_away:
        return
    try:
        with folders.output_folder(home, "net"):
            raise RuntimeError
    except RuntimeError:
        pass


def main() -> int:
    """Go through all cases and print how many steps each was stopped before."""
    swapped = vars(folders)["swapped"]
    for case in CASES:
        vars(folders)["swapped"] = swapped if case.swaps else lambda first, second: False
        steps = next(step for step in count(1) if not check(case, step)) - 1
        print(f"{case}: stopped before each of {steps} steps", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
