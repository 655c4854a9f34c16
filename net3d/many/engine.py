"""What solves many nets, as ``concurrent.futures`` has it: processes of this machine, workers of a cluster.

Nothing here schedules: work is handed to an ``Executor`` and gathered as it is done. Where a worker was ended
from outside, what was in work is done again.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, ProcessPoolExecutor, wait
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import import_module
from itertools import islice
from multiprocessing.connection import wait as wait_for
from typing import Any, TypeVar

from net3d.errors import EngineError

Task = TypeVar("Task")
Answer = TypeVar("Answer")

AHEAD = 2  # tasks handed out for each worker: one in work, one waiting
TRIES = 2  # of a task by itself, after it was in work when a worker was lost
PATIENCE = 10  # s to reach a cluster
# A net is solved on one core: threads that libraries start of their own are only in each other's way.
ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")
ENDED = (
    "The process that worked it out was ended from outside, each time: it may need more memory than there is."
)


@dataclass
class Engine:
    """How an executor is opened, how many tasks it works on at once, and how it tells of a lost worker."""

    open: Callable[[], Executor]
    workers: int
    lost: tuple[type[Exception], ...] = (BrokenExecutor,)
    opened: Executor | None = None  # kept from one lot of tasks to the next

    def executor(self) -> Executor:
        """The executor that stands open, or a new one."""
        self.opened = self.opened or self.open()
        return self.opened

    def let_go(self) -> None:
        """End the executor without waiting for what is in work, and take back what is not begun."""
        if self.opened is not None:
            _let_go(self.opened)
            self.opened = None


@contextmanager
def processes(workers: int | None = None) -> Iterator[Engine]:
    """Processes of this machine, started afresh, one thread each; one a core unless it is said how many."""
    count = workers or os.cpu_count() or 1
    context = multiprocessing.get_context("spawn")
    before = {key: os.environ.get(key) for key in ONE_THREAD}
    os.environ.update(dict.fromkeys(ONE_THREAD, "1"))  # a process that is started takes these over
    engine = Engine(lambda: ProcessPoolExecutor(count, context, _begin), count)
    try:
        yield engine
    finally:
        engine.let_go()
        for key, value in before.items():
            os.environ.pop(key) if value is None else os.environ.update({key: value})


@contextmanager
def cluster(address: str) -> Iterator[Engine]:
    """The workers of a Dask cluster, such as ``tcp://10.0.0.5:8786``; net3d must be installed there too.

    Raises ``EngineError`` where the extra is not installed, or nobody works at the address.
    """
    try:
        distributed: Any = import_module("distributed")  # an extra
    except ImportError:
        raise EngineError(
            "A cluster needs pip install 'net3d[cluster]'. Without --cluster this machine does the work."
        ) from None
    try:
        client = distributed.Client(address, timeout=PATIENCE, set_as_default=False)
    except (OSError, ValueError) as error:
        raise EngineError(f"No cluster answers at {address}: {error}") from None
    with client:
        threads = sum(client.nthreads().values())
        if not threads:
            raise EngineError(f"The cluster at {address} has no workers yet: start some, then try again.")
        lost = (BrokenExecutor, distributed.KilledWorker)
        engine = Engine(lambda: client.get_executor(pure=False), threads, lost)
        try:
            yield engine
        finally:
            engine.let_go()


def answers(
    engine: Engine, work: Callable[[Task], Answer], tasks: Iterable[Task]
) -> Iterator[tuple[Task, Answer | EngineError]]:
    """Every task with what came of it, as it is done; ``EngineError`` for one that ends its worker each time.

    Tasks are taken as there is room for them. Whatever ``work`` raises is raised here.
    """
    left, running = iter(tasks), dict[Future[Answer], Task]()
    try:
        while True:
            for task in islice(left, AHEAD * engine.workers - len(running)):
                running[_handed_out(engine.executor(), work, task)] = task
            if not running:
                return
            done, _ = wait(running, return_when=FIRST_COMPLETED)
            lost = []
            for future in [future for future in running if future in done]:
                task = running.pop(future)
                if isinstance(future.exception(), engine.lost):
                    lost.append(task)
                else:
                    yield task, future.result()
            if lost:
                engine.let_go()
                for task in (*lost, *running.values()):
                    yield task, _alone(engine, work, task)
                running.clear()
    finally:
        if running:
            engine.let_go()


def _handed_out(executor: Executor, work: Callable[[Task], Answer], task: Task) -> Future[Answer]:
    try:
        return executor.submit(work, task)
    except BrokenExecutor as error:
        broken: Future[Answer] = Future()
        broken.set_exception(error)
        return broken


def _alone(engine: Engine, work: Callable[[Task], Answer], task: Task) -> Answer | EngineError:
    """What comes of a task by itself, so that none is blamed for another that ends its worker."""
    for _ in range(TRIES):
        executor = engine.open()
        try:
            return executor.submit(work, task).result()
        except engine.lost:
            continue
        finally:
            _let_go(executor)
    return EngineError(ENDED)


def _let_go(executor: Executor) -> None:
    if isinstance(executor, ProcessPoolExecutor):
        executor.shutdown(wait=False, cancel_futures=True)
    else:
        executor.shutdown(wait=False)


def _begin() -> None:
    """What a worker does first: it ends at once when it is interrupted, or when who started it is gone."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent.sentinel,), daemon=True).start()


def _end_with(sentinel: int) -> None:
    wait_for([sentinel])
    signal.raise_signal(signal.SIGTERM)
