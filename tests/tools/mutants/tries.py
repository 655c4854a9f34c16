"""Tries a fault: a copy of the project with the fault in it, and the tests of the rooms that it concerns."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from tests.tools.mutants.faults import Fault

ROOT = Path(__file__).resolve().parents[3]
COPIED = ("net3d", "tests", "specs", ".ci", "README.md", "DEVELOPERS.md", "pyproject.toml")
LEFT = shutil.ignore_patterns("__pycache__", "node_modules", ".*_cache")
# The rooms whose tests can tell, nearest first: their own, then those that read them.
TESTS = {
    "plan": ("tests/plan", "tests/tables", "tests/spec/test_throats.py", "tests/checks/test_findings.py"),
    "shop": (
        "tests/shop",
        "tests/tables",
        "tests/commands/test_commands.py",
        "tests/commands/test_tables.py",
    ),
    "statics": ("tests/statics", "tests/checks", "tests/align"),
    "water": ("tests/water", "tests/checks", "tests/commands/test_loads.py"),
    "checks": ("tests/checks", "tests/align/test_findings.py", "tests/commands/test_commands.py"),
    "handbook": ("tests/handbook", "tests/water", "tests/checks"),
}
AT_LEAST, TIMES = 60, 4  # s, and so many times as long as the tests take without a fault


@dataclass(frozen=True)
class Verdict:
    """What came of a fault: caught by a test, by the time limit, or by nothing."""

    caught: bool
    by: str
    seconds: float


class Copy:
    """A copy of the project that faults are put into, one at a time."""

    def __init__(self, home: Path):
        self.home = home
        self.limits: dict[str, float] = {}
        for name in COPIED:
            source, target = ROOT / name, home / name
            if source.is_dir():
                shutil.copytree(source, target, ignore=LEFT)
            else:
                shutil.copy2(source, target)

    def try_fault(self, fault: Fault) -> Verdict:
        """Put it in, run the tests until one fails, take it out."""
        room = fault.path.split("/")[1]
        limit = self._limit(room)
        path = self.home / fault.path
        whole = path.read_bytes()
        path.write_bytes(fault.made(whole))
        for compiled in path.parent.glob(f"__pycache__/{path.stem}.*"):
            compiled.unlink()
        try:
            return self._tested(room, path, limit)
        finally:
            path.write_bytes(whole)
            for compiled in path.parent.glob(f"__pycache__/{path.stem}.*"):
                compiled.unlink()

    def _limit(self, room: str) -> float:
        """How long the tests of a room may take [s]; without a fault they must pass."""
        if room not in self.limits:
            verdict = self._tested(room, self.home / "net3d" / room / "__init__.py", 3600)
            if verdict.caught:
                raise SystemExit(f"The tests of {room} fail without a fault: {verdict.by}")
            self.limits[room] = AT_LEAST + TIMES * verdict.seconds
        return self.limits[room]

    def _tested(self, room: str, module: Path, limit: float) -> Verdict:
        tests = [name for name in TESTS[room] if (self.home / name).exists()]
        modules = [str(module)] if module.suffix == ".py" else []
        command = [
            sys.executable,
            "-m",
            "pytest",
            "-x",
            "-q",
            "-rfE",
            "--no-header",
            "-p",
            "no:cacheprovider",
        ]
        began = time.monotonic()
        process = subprocess.Popen(
            [*command, "-m", "not slow", *modules, *tests],
            cwd=self.home,
            env={**os.environ, "PYTHONPATH": str(self.home)},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            start_new_session=True,
        )
        try:
            said, _ = process.communicate(timeout=limit)
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, 9)
            process.communicate()
            return Verdict(True, f"no end within {limit:.0f} s", time.monotonic() - began)
        by = re.search(r"^(?:FAILED|ERROR) (\S+)", said, re.MULTILINE)
        what = by[1] if by else "" if process.returncode == 0 else said.strip().splitlines()[-1]
        return Verdict(process.returncode != 0, what, time.monotonic() - began)
