"""Stops builds, and the commands that write a file, at random moments.

    python tests/tools/interrupts/run.py --times 200 --seed 1

A net is built, its spec is changed, and the next build is sent SIGINT, SIGTERM or SIGKILL at a random moment:
half of them anywhere in its life, half once it has begun to write. What stands in the folder must then be the
old build or the new one, file by file, and after the next build nothing may stand beside it. Commands that
write one file are stopped in the same way. Prints how each ended and what it left, and every stop that broke
the rules. Runs the net3d that this Python has, which must stay as it is meanwhile.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

SIGNALS = (signal.SIGINT, signal.SIGINT, signal.SIGTERM, signal.SIGKILL)
POLL = 0.002  # s
INTERRUPTED = 130  # what a shell calls an end by SIGINT too, which Python 3.11 makes of some interrupts
SPEC = """
title = "{title}"
units = "in"
[netting]
around = 24
stretched = "8"
twine = "#15"
[[hoop]]
circumference = 96
rod = "1/2"
material = "fibreglass"
repeat = 3
[sections]
deep = [2.5, 3]
[tail]
deep = 4
[rigging]
pull = "15 lbf"
"""
FILE_COMMANDS = (
    ("sheet", "net.toml", "--strip", "1", "-o", "out"),
    ("picture", "net.toml", "-o", "out/net.png"),
    ("print", "net.toml", "-o", "out/net.stl"),
    ("cfd", "net.toml", "-o", "out"),
    ("gauge", "-o", "out/gauge.pdf"),
)
BUILD = ("build", "net.toml", "-o", "out")
OPEN = ("open", "net.toml", "--no-browser", "--port", "0")
Contents = dict[str, str]


@dataclass(frozen=True)
class Ended:
    """How a command that was sent a signal ended, and what it said."""

    sent: signal.Signals
    after: float  # s
    code: int
    said: str

    def __str__(self) -> str:
        return f"{self.sent.name} after {self.after:.3f} s: code {self.code}, {self.said!r}"

    @property
    def too_early(self) -> bool:
        """Whether it was interrupted while Python loaded the package, before any line of its command."""
        return self.said.endswith("KeyboardInterrupt\n") and "cli.py" not in self.said

    @property
    def wrong(self) -> list[str]:
        """What a maker should not see."""
        ends = {
            signal.SIGINT: (INTERRUPTED, -self.sent, 0),
            signal.SIGTERM: (-self.sent, 0),
            signal.SIGKILL: (-9, 0),
        }
        faults = [f"ended with {self.code}"] if self.code not in ends[self.sent] else []
        if self.too_early:
            return []
        if "Traceback" in self.said or "Exception ignored" in self.said:
            faults.append("said what no maker can read")
        if self.sent is signal.SIGINT and self.said.strip() not in ("Interrupted.", "Ended.", ""):
            faults.append("said more than that it was interrupted")
        return faults


class Bench:
    """A folder with a spec, and commands that run in it."""

    def __init__(self, home: Path, chance: random.Random) -> None:
        """Start with an empty folder to write into."""
        self.home, self.chance = home, chance
        (home / "out").mkdir()

    def title(self, title: str) -> None:
        """Change the spec."""
        (self.home / "net.toml").write_text(SPEC.format(title=title), "utf-8")

    def start(self, arguments: tuple[str, ...]) -> subprocess.Popen[str]:
        """Start a command and do not wait for it."""
        command = [sys.executable, "-m", "net3d", *arguments]
        return subprocess.Popen(
            command, cwd=self.home, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True
        )

    def finish(self, arguments: tuple[str, ...]) -> float:
        """Run a command to its end; how long it took [s]."""
        start = time.perf_counter()
        process = self.start(arguments)
        _, said = process.communicate()
        if process.returncode:
            raise AssertionError(f"{arguments}: ended with {process.returncode}: {said}")
        return time.perf_counter() - start

    def stop(self, arguments: tuple[str, ...], sent: signal.Signals, longest: float, writing: bool) -> Ended:
        """Start a command and send it a signal at a random moment, of its writing where that is asked."""
        start = time.perf_counter()
        process = self.start(arguments)
        if writing:
            while process.poll() is None and not hidden(self.home / "out"):
                time.sleep(POLL)
        time.sleep(self.chance.uniform(0, longest / 2 if writing else longest))
        process.send_signal(sent)
        after = time.perf_counter() - start
        _, said = process.communicate(timeout=60)
        return Ended(sent, after, process.returncode, said)


def hidden(folder: Path) -> list[str]:
    """The hidden names in a folder."""
    return [path.name for path in folder.iterdir() if path.name.startswith(".")] if folder.exists() else []


def contents(folder: Path) -> Contents:
    """Name and digest of every file that is not hidden, in the folders below too."""
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not any(part.startswith(".") for part in path.relative_to(folder).parts)
    }


def known(bench: Bench, arguments: tuple[str, ...]) -> tuple[Contents, Contents, float]:
    """What a command writes for the old spec and for the new one, and how long it takes [s]."""
    written, longest = [], 0.0
    for title in ("New", "Old"):
        bench.title(title)
        longest = bench.finish(arguments)
        written.append(contents(bench.home / "out"))
    new, old = written
    return old, new, longest


def stops(bench: Bench, arguments: tuple[str, ...], times: int) -> Iterator[tuple[Ended, str, list[str]]]:
    """Stop a command so many times: how it ended, what it left, and what is wrong with that."""
    old, new, longest = known(bench, arguments)
    for time_ in range(times):
        bench.title("New")
        sent = bench.chance.choice(SIGNALS)
        ended = bench.stop(arguments, sent, longest, writing=time_ % 2 == 1)
        left, faults = judged(bench, old, new, whole_set=arguments[0] == "build")
        bench.title("Old")
        bench.finish(arguments)
        if contents(bench.home / "out") != old or hidden(bench.home / "out"):
            faults.append(f"the next left {os.listdir(bench.home / 'out')}")
        yield ended, left, [*ended.wrong, *faults]


def judged(bench: Bench, old: Contents, new: Contents, *, whole_set: bool) -> tuple[str, list[str]]:
    """Whether the old or the new stands there, and what is neither; files of one command may be of both."""
    found = contents(bench.home / "out")
    for name, known_set in (("old", old), ("new", new)):
        if found == known_set:
            return name, []
    odd = [name for name in {**old, **found} if found.get(name) not in (old.get(name), new.get(name))]
    if odd or whole_set:
        return "neither", [f"neither the old nor the new: {odd or 'some files of each'}"]
    return "some new", []


def open_stops(bench: Bench, times: int) -> Iterator[tuple[Ended, str, list[str]]]:
    """Stop net3d open so many times; it writes nothing."""
    bench.title("Old")
    before = contents(bench.home)
    for _ in range(times):
        ended = bench.stop(OPEN, bench.chance.choice(SIGNALS), 3.0, writing=False)
        after = contents(bench.home)
        yield ended, "as it was", [*ended.wrong, *(["wrote something"] if after != before else [])]


def report(title: str, stopped: Iterator[tuple[Ended, str, list[str]]]) -> int:
    """Print how the stops of a command went; how many broke the rules."""
    counted: Counter[tuple[str, int, str]] = Counter()
    broken = 0
    for ended, left, faults in stopped:
        counted[ended.sent.name, ended.code, f"{left}, while Python loaded" if ended.too_early else left] += 1
        if faults:
            broken += 1
            print(f"{title}: {'; '.join(faults)}: {ended}", flush=True)
    print(f"{title}: {counted.total()} stops, {broken} broke the rules")
    for (sent, code, left), number in sorted(counted.items()):
        print(f"    {number:4d} {sent}, exit code {code}, left: {left}")
    return broken


def main() -> int:
    """Stop everything and say how many broke the rules."""
    asked = argparse.ArgumentParser(description="Stop net3d at random moments.")
    asked.add_argument("--times", type=int, default=200, help="builds to stop")
    asked.add_argument("--others", type=int, default=12, help="stops of every other command")
    asked.add_argument("--seed", type=int, default=1)
    options = asked.parse_args()
    chance = random.Random(options.seed)
    broken = 0
    for arguments, times in (
        (BUILD, options.times),
        *((command, options.others) for command in FILE_COMMANDS),
    ):
        with tempfile.TemporaryDirectory() as folder:
            bench = Bench(Path(folder), chance)
            broken += report(arguments[0], stops(bench, arguments, times))
    with tempfile.TemporaryDirectory() as folder:
        broken += report("open", open_stops(Bench(Path(folder), chance), options.others))
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
