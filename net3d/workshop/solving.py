"""Solving beside the server, in a warm process that is ended where a newer change makes it needless."""

from __future__ import annotations

import multiprocessing
import signal
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection
from multiprocessing.context import ForkServerContext, SpawnContext
from multiprocessing.process import BaseProcess
from pathlib import Path

Deliver = Callable[[str, int, str, str], None]  # name, revision, stage, what is told
LONGEST = 120.0  # s for one stage: then the net is given up
LOOKS = 0.02  # s between looks for a newer change
# What is loaded once for all processes; the chain itself imports its stages only when a net is solved.
LOADED = (
    "net3d.workshop.telling",
    "net3d.statics",
    "net3d.water.working",
    "net3d.checks",
    "scipy.sparse.linalg",
)
FAULT = '{"message": "This net cannot be worked out; nothing of yours is lost."}'


@dataclass(frozen=True)
class Job:
    """A net to be worked out."""

    name: str
    revision: int
    text: str
    path: Path


class Solver:
    """Works nets out one after the other, of each only the newest."""

    def __init__(self, deliver: Deliver) -> None:
        self._deliver = deliver
        self._waiting: dict[str, Job] = {}
        self._more = threading.Condition()
        self._ended = False
        self._process: BaseProcess | None = None
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._thread.start()

    def ask(self, job: Job) -> None:
        """Have a net worked out; an older state of it is dropped, at work or waiting."""
        with self._more:
            self._waiting[job.name] = job
            self._more.notify()

    def close(self) -> None:
        """End it, and the process with it."""
        with self._more:
            self._ended = True
            self._more.notify()
        self._thread.join(5)
        self._stop()

    def _run(self) -> None:
        self._start()
        while job := self._next():
            if self._process is None or not self._process.is_alive():
                self._start()
            with suppress(BrokenPipeError, OSError):
                self._line.send(job)
            self._follow(job)

    def _next(self) -> Job | None:
        with self._more:
            self._more.wait_for(lambda: self._waiting or self._ended)
            return None if self._ended else self._waiting.pop(next(iter(self._waiting)))

    def _follow(self, job: Job) -> None:
        """Hand on what is told of a job, until it is over or a newer change has made it needless."""
        stage, left = "", LONGEST
        while left > 0 and not self._ended:
            try:
                if not self._line.poll(LOOKS):
                    left -= LOOKS
                    if stage and (job.name in self._waiting or (stage == "whole" and self._waiting)):
                        return self._stop()
                    continue
                stage, told = self._line.recv()
            except (EOFError, OSError):
                self._stop()
                return self._deliver(job.name, job.revision, "failed", FAULT)
            if stage == "over":
                return None
            self._deliver(job.name, job.revision, stage, told)
            left = LONGEST
        self._stop()
        return None if self._ended else self._deliver(job.name, job.revision, "failed", FAULT)

    def _start(self) -> None:
        context = warm_context()
        self._line, other = context.Pipe()
        self._process = context.Process(target=_work, args=(other,), daemon=True)
        self._process.start()
        other.close()

    def _stop(self) -> None:
        if self._process is not None:
            self._process.kill()
            self._process.join(5)
            self._line.close()
        self._process = None


def warm_context() -> ForkServerContext | SpawnContext:
    """How processes are begun: where the system can, by one that has loaded everything already."""
    if sys.platform == "win32":
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(list(LOADED))
    return context


def _work(line: Connection) -> None:
    """The process: it works out what it is sent until there is nobody to send more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the server's
    from net3d.workshop.telling import stages  # noqa: PLC0415 - loaded in this process alone

    with suppress(EOFError, OSError):
        while job := line.recv():
            for stage, told in stages(job.text, job.path):
                line.send((stage, told))
            line.send(("over", ""))
