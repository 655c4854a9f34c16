"""Do things to specs and count what net3d makes of them.

``python tests/tools/fuzz/run.py --files 100000 --seed 1`` mutates the specs of ``specs/`` and of
``seeds/`` here, reads every file, works out the nets that are accepted and small enough, and writes one in
ten of those with all writers. ``--keep`` keeps the files that are trouble, and ``--only NUMBER`` prints and
judges one alone; ``--lists`` does the like to wanted lists, and proposes nets of one in ``--one-in``.
"""

from __future__ import annotations

import argparse
import multiprocessing
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[3]))

from tests.tools.fuzz.judge import TROUBLE, judge
from tests.tools.fuzz.judge_list import judge_list
from tests.tools.fuzz.mutate import lot, mutant

HANG = 10.0  # s of processor time that no stage may take
DEAD = 60.0  # s after which a stage is ended
BARS = 1500


def work(pipe, run, numbers, limits):
    """Judge files one after another, telling the pipe of every stage and every verdict."""
    seed, lists = run
    for number in numbers:
        content = mutant(seed, number, lists)
        verdict = (judge_list if lists else judge)(
            content, lot(seed, number), limits, lambda stage: _tell(pipe, stage)
        )
        _tell(pipe, number, verdict)
    _tell(pipe, None)


def _tell(pipe, said, verdict=None):
    pipe.send((said, verdict, time.process_time()))


def run(options):
    """Judge all files in one process at a time, which is ended where a stage hangs."""
    counts, written, times = Counter(), Counter(), Counter()
    number = options.first
    last = options.first + options.files
    while number < last:
        ours, theirs = multiprocessing.get_context("spawn").Pipe()
        told = (options.seed, options.lists), range(number, last), (options.bars, options.one_in)
        arguments = (theirs, *told)
        process = multiprocessing.get_context("spawn").Process(target=work, args=arguments, daemon=True)
        process.start()
        theirs.close()
        number = _follow(ours, process, number, (counts, written, times), options)
    return counts, written, times


def _follow(pipe, process, number, tallies, options):
    """Count the verdicts of a process until it is done, hangs or dies; the number to go on from."""
    counts, written, times = tallies
    stage, then = "start", 0.0
    while True:
        try:
            said, verdict, now = pipe.recv() if pipe.poll(DEAD) else ("hang", None, then)
        except (EOFError, ConnectionError):
            said, verdict, now = "death", None, then
        took, then = now - then, now
        times[stage] += took
        if took > HANG:
            counts["slow"] += 1
            _keep(options, number, f"{stage} took {took:.1f} s")
        if said in ("hang", "death"):
            process.kill()
            counts[said] += 1
            _keep(options, number, f"{said} in {stage}")
            return number + 1
        if said is None:
            process.join()
            return options.first + options.files
        stage = said if verdict is None else "between"
        if verdict is not None:
            counts[verdict.kind] += 1
            written.update(verdict.written)
            if verdict.kind == TROUBLE:
                _keep(options, number, verdict.detail)
            number = said + 1
            if number % 5000 == 0:
                print(number, dict(counts), flush=True)


def _keep(options, number, why):
    print(f"file {number}: {why}", flush=True)
    if options.keep:
        options.keep.mkdir(parents=True, exist_ok=True)
        (options.keep / f"{options.seed}-{number}.toml").write_bytes(
            mutant(options.seed, number, options.lists)
        )


def main():
    """Run as asked, and end with 1 where there was any trouble."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--files", type=int, default=1000, help="how many files to make")
    asked.add_argument("--first", type=int, default=0, help="number of the first file")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--bars", type=int, default=BARS, help="solve no net with more bars than this")
    asked.add_argument("--one-in", type=int, default=1, help="of the accepted nets solve one in so many")
    asked.add_argument("--keep", type=Path, help="folder for files that are trouble")
    asked.add_argument("--lists", action="store_true", help="wanted lists, and nets of them, not specs")
    asked.add_argument("--only", type=int, metavar="NUMBER", help="print one file and judge it, here")
    options = asked.parse_args()
    if options.only is not None:
        content = mutant(options.seed, options.only, options.lists)
        print(content.decode("utf-8", "backslashreplace"))
        limits = options.bars, options.one_in
        judged = judge_list if options.lists else judge
        verdict = judged(content, lot(options.seed, options.only), limits, print)
        print(verdict.kind, verdict.detail, sep="\n")
        return int(verdict.kind == TROUBLE)
    began = time.monotonic()
    counts, written, times = run(options)
    print(f"{options.files} files of seed {options.seed} in {time.monotonic() - began:.0f} s")
    for title, tally in (("", counts), ("commands run: ", written)):
        for kind, count in tally.most_common():
            print(f"  {title}{kind}: {count}")
    print("  seconds of processor time a stage:", {stage: round(took) for stage, took in times.most_common()})
    return int(any(counts[kind] for kind in (TROUBLE, "slow", "hang", "death")))


if __name__ == "__main__":
    sys.exit(main())
