"""Run one thing in a process of its own, and say what it took."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import gettempdir
from time import perf_counter
from typing import Any

ROOT = Path(__file__).resolve().parents[3]
CACHE = Path(
    gettempdir(), "net3d-benchmarks-compiled"
)  # modules are compiled once, as where they are installed
CALL = "import json, sys; from {} import {} as run; print(json.dumps(run(*sys.argv[1:])))"


@dataclass(frozen=True)
class Run:
    """What a process printed, how long it took, its processor and user time [s], its most memory [bytes]."""

    printed: str
    seconds: float
    processor: float
    user: float
    peak: int


def fresh(arguments: Sequence[str]) -> Run:
    """Run Python with these arguments."""
    told = {"PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": str(CACHE)}
    start = perf_counter()
    with subprocess.Popen(
        [sys.executable, *arguments], cwd=ROOT, stdout=subprocess.PIPE, text=True, env=os.environ | told
    ) as process:
        printed = process.stdout.read()
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"{' '.join(arguments)} ended with {process.returncode}")
    unit = 1 if sys.platform == "darwin" else 1024
    processor = usage.ru_utime + usage.ru_stime
    return Run(printed, perf_counter() - start, processor, usage.ru_utime, usage.ru_maxrss * unit)


def call(function: str, *arguments: str) -> tuple[Any, Run]:
    """Call ``module.function`` of this folder with words; what it returns, and what the process took."""
    module, name = function.split(".")
    run = fresh(["-W", "ignore", "-c", CALL.format(f"tests.tools.benchmarks.{module}", name), *arguments])
    return json.loads(run.printed.splitlines()[-1]), run
