"""How many one-line faults the tests let live.

    python -m tests.tools.mutants [--faults 100] [--seed 1] [--jobs 1] [--list]

Draws faults from the arithmetic of plan, shop, statics, water and checks and from the constants of water,
kinds in turn, and puts them one by one into a copy of the project. The tests of the rooms that a fault
concerns are run against it until one fails. What came of each is kept in a file, so that the run can be
stopped and taken up again; delete it, or name another, to try them all anew.
"""

from __future__ import annotations

import argparse
import json
import tempfile
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict
from pathlib import Path
from queue import Queue

from tests.tools.mutants.faults import ALIKE, Fault, draw
from tests.tools.mutants.tries import ROOT, Copy, Verdict

MOST_LIVE = 0.05


def main() -> int:
    """Try the faults that were not tried yet, and print the table of all."""
    options = read_options()
    faults = draw(ROOT, options.faults, options.seed)
    if options.list:
        print_list(faults)
        return 0
    known = read_results(options.results)
    with tempfile.TemporaryDirectory() as home:
        try_all([fault for fault in faults if fault.key not in known], options, Path(home))
    known = read_results(options.results)
    return print_table(faults, known)


def read_options() -> argparse.Namespace:
    """What was asked."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--faults", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=1, help="copies that are tested at once")
    parser.add_argument("--list", action="store_true", help="print the faults and try none")
    parser.add_argument("--results", type=Path, default=ROOT / ".mutants.jsonl")
    return parser.parse_args()


def read_results(path: Path) -> dict[str, Verdict]:
    """What is known of faults from earlier runs."""
    lines = path.read_text("utf-8").splitlines() if path.exists() else []
    return {entry.pop("fault"): Verdict(**entry) for entry in map(json.loads, lines)}


def try_all(faults: list[Fault], options: argparse.Namespace, home: Path) -> None:
    """Try every fault, each in a copy that is free, and write down what came of it at once."""
    copies: Queue[Copy] = Queue()
    for number in range(min(options.jobs, len(faults))):
        copies.put(Copy(home / str(number)))

    def attempt(fault: Fault) -> None:
        copy = copies.get()
        try:
            verdict = copy.try_fault(fault)
        finally:
            copies.put(copy)
        with options.results.open("a", encoding="utf-8") as file:
            file.write(json.dumps({"fault": fault.key, **asdict(verdict)}) + "\n")
        print(f"{'caught' if verdict.caught else 'LIVES '} {verdict.seconds:5.0f} s  {fault.key}", flush=True)

    with ThreadPoolExecutor(options.jobs) as threads:
        list(threads.map(attempt, faults))


def print_list(faults: list[Fault]) -> None:
    """The faults, and what is left out of the draw."""
    for fault in faults:
        print(f"{fault.kind:10}  {fault.key}")
    print("\nNot drawn:")
    for (path, word), why in ALIKE.items():
        print(f"{path} {word}: {why}")


def print_table(faults: list[Fault], known: dict[str, Verdict]) -> int:
    """Kinds and rooms, how many were tried and how many live, and which; 1 if they are too many."""
    lives = [fault for fault in faults if not known[fault.key].caught]
    for word, label in (("kind", lambda fault: fault.kind), ("room", lambda fault: fault.path.split("/")[1])):
        tried, left = Counter(map(label, faults)), Counter(map(label, lives))
        print(f"\n{word:12}tried  live")
        for name in sorted(tried):
            print(f"{name:12}{tried[name]:5}{left[name]:6}")
    print(f"\n{len(lives)} of {len(faults)} live")
    for fault in lives:
        print(f"  {fault.key}")
    return int(len(lives) > MOST_LIVE * len(faults))


if __name__ == "__main__":
    raise SystemExit(main())
