"""Runs every command that writes where it cannot: on a full disk and a read-only one; and ten builds at once.

    python tests/tools/interrupts/places.py

Needs Linux and the right to mount (root): the disks are small ones in memory. A command must end with exit
code 2 and one line that says what is wrong, and leave what stood there as it was; or write all that is new.
"""

from __future__ import annotations

import random
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from run import BUILD, FILE_COMMANDS, Bench, Contents, contents, hidden

DISK, KILOBYTE = "16m", 1024
ROOMS = (0, 4, 64, 256, 384, 512, 1536)  # kB that are left on the disk
REFUSED = 2
COMMANDS = (BUILD, *FILE_COMMANDS)
AT_ONCE = 10


@contextmanager
def disk(home: Path) -> Iterator[Path]:
    """A small disk in memory, mounted where the commands write."""
    place = home / "out"
    place.mkdir(exist_ok=True)
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={DISK}", "tmpfs", place], check=True)
    try:
        yield place
    finally:
        subprocess.run(["umount", place], check=True)


def fill(place: Path, room: int) -> None:
    """Fill a disk up so that so many kB are left."""
    filler = place / "filler"
    with filler.open("wb", buffering=0) as file, suppress(OSError):
        while True:
            file.write(bytes(4 * KILOBYTE))
    with filler.open("r+b") as file:
        file.truncate(filler.stat().st_size // 4096 * 4096 - room * KILOBYTE)


def standing(place: Path) -> Contents:
    """What stands on the disk but for what fills it."""
    return {name: digest for name, digest in contents(place).items() if name != "filler"}


def faults_of(bench: Bench, arguments: tuple[str, ...], old: Contents) -> tuple[int, list[str]]:
    """Run a command where it may fail: its exit code, and what is wrong with how it ended."""
    bench.title("New")
    process = bench.start(arguments)
    _, said = process.communicate()
    faults = [f"left {hidden(bench.home / 'out')}"] if hidden(bench.home / "out") else []
    if process.returncode == REFUSED and arguments[0] == "build" and standing(bench.home / "out") != old:
        faults.append("changed what stood there")
    if process.returncode not in (0, REFUSED):
        faults.append(f"ended with {process.returncode}")
    if process.returncode and (said.count("\n") != 1 or "cannot be written" not in said):
        faults.append(f"said {said!r}")
    return process.returncode, faults


def full_disk(bench: Bench) -> int:
    """Run every command with more and more room on the disk; how many ended wrong."""
    broken = 0
    for arguments in COMMANDS:
        ends: Counter[int] = Counter()
        for room in ROOMS:
            with disk(bench.home) as place:
                bench.title("Old")
                bench.finish(arguments)
                old = standing(place)
                fill(place, room)
                code, faults = faults_of(bench, arguments, old)
            ends[code] += 1
            broken += bool(faults)
            for fault in faults:
                print(f"{arguments[0]} with {room} kB left: {fault}", flush=True)
        print(f"full disk, {arguments[0]}: {ends[0]} written, {ends[REFUSED]} refused", flush=True)
    return broken


def read_only_disk(bench: Bench) -> int:
    """Run every command on a disk that cannot be written to; how many ended wrong."""
    broken = 0
    for arguments in COMMANDS:
        with disk(bench.home) as place:
            bench.title("Old")
            bench.finish(arguments)
            old = standing(place)
            subprocess.run(["mount", "-o", "remount,ro", place], check=True)
            code, faults = faults_of(bench, arguments, old)
        if code != REFUSED or faults:
            broken += 1
            print(f"{arguments[0]} on a read-only disk: code {code}, {faults}", flush=True)
    print(f"read-only disk: {len(COMMANDS)} commands, {broken} ended wrong", flush=True)
    return broken


def at_once(bench: Bench) -> int:
    """Start ten builds of one net at once; 1 when one fails, or they leave anything but a whole build."""
    bench.title("New")
    builds = [bench.start(BUILD) for _ in range(AT_ONCE)]
    said = [build.communicate()[1] for build in builds]
    codes = [build.returncode for build in builds]
    left = contents(bench.home / "out")
    bench.finish(BUILD)
    whole = left == contents(bench.home / "out") and not hidden(bench.home / "out")
    print(
        f"{AT_ONCE} builds at once: exit codes {codes}, {'a whole build' if whole else 'no whole build'} left"
    )
    return int(any(codes) or not whole or any(said))


def main() -> int:
    """Run everything and say how much ended wrong."""
    broken = 0
    for check in (at_once, full_disk, read_only_disk):
        with tempfile.TemporaryDirectory() as folder:
            broken += check(Bench(Path(folder), random.Random(1)))
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
