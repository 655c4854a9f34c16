"""How fast many nets are solved: one core against all, and what handing them out costs. For a quiet machine.

``python tests/tools/throughput/run.py --nets 2000`` sweeps nets of two throats: by one process, by one a
core, and by this process itself, and tells the gain and what the engine takes over the bare solves.
"""

from __future__ import annotations

import argparse
import os
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from net3d.many import Draw, processes, sweep_of
from net3d.many.engine import Engine
from net3d.many.sweep import Sweep
from net3d.spec import read_spec

SPEC = Path(__file__).parents[3] / "specs" / "backwater-36.toml"
VARIED = {"netting.around": "40..48", "sections.deep.3": "5..7", "rigging.pull": "10..30 lbf"}
SAMPLED = 4  # nets that tell how long all will take


def seconds(sweep, engine) -> float:
    """What a sweep takes once its workers stand."""
    started = time.perf_counter()
    failed = sum(bool(row.reason) for _, row in sweep.rows(engine))
    taken = time.perf_counter() - started
    print(f"  {len(sweep.keys)} nets in {taken:.1f} s, {failed} without numbers", flush=True)
    return taken


def drawn(nets: int) -> Sweep:
    """A sweep of so many nets."""
    return sweep_of(read_spec(SPEC), VARIED, ["length_m"], Draw(nets, seed=1))


def main() -> None:
    """Time the three ways one after the other."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--nets", type=int, default=2000)
    parser.add_argument("--jobs", type=int, default=os.cpu_count())
    asked = parser.parse_args()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    here = Engine(lambda: ThreadPoolExecutor(1), 1)
    print("a few first", flush=True)
    each = seconds(drawn(SAMPLED), here) / SAMPLED
    ways = 2 + 1 / asked.jobs  # here, by one process, by all
    print(f"{asked.nets} nets three times will take about {asked.nets * each * ways / 60:.0f} minutes")
    sweep = drawn(asked.nets)
    print("in this process", flush=True)
    bare = seconds(sweep, here)
    taken = {}
    for jobs in (1, asked.jobs):
        print(f"by {jobs} processes")
        with processes(jobs) as engine:
            taken[jobs] = seconds(sweep, engine)
    print(f"gain of {asked.jobs} over 1: {taken[1] / taken[asked.jobs]:.2f} (goal 1.8 for two)")
    print(f"overhead of the engine: {100 * (taken[1] / bare - 1):.1f} % (goal under 10)")


if __name__ == "__main__":
    main()
