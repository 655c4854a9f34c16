"""What holds before a change goes in: lint, types, import contracts, doctests, tests, all of it installed.

python tests/run.py            all of it but the tests marked slow
python tests/run.py --quick    while working: no programs from elsewhere, nothing is installed
python tests/run.py --slow     only the tests marked slow
"""

from __future__ import annotations

import argparse
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TESTS = ["-m", "pytest", "-n", "auto", "--maxprocesses", "4", "--dist", "loadgroup"]
EXAMPLES = "not slow and not law and not hypothesis"  # nothing that is tried on many nets or texts
# What a change of numbers or words breaks first. Left to the whole: browser, PDF, drawings, files for other
# programs, runs that are stopped on the way, and the tools beside the tests.
QUICK = [
    "net3d",
    *(
        f"tests/{room}"
        for room in ("units", "handbook", "spec", "outline", "parts", "plan", "shop", "tables")
    ),
    *(f"tests/{room}" for room in ("statics", "checks", "water", "commands/test_commands.py")),
]
BEFORE = (
    ("lint", ["-m", "ruff", "check", "net3d", "tests"]),
    ("format", ["-m", "ruff", "format", "--check", "net3d", "tests"]),
    ("types", ["-m", "mypy"]),
    ("import contracts", ["-c", "from importlinter.cli import lint_imports_command as run; run()"]),
)
STEPS = {
    "whole": (
        *BEFORE,
        ("doctests and tests", [*TESTS, "-m", "not slow"]),
        ("installed, with the oldest and the newest of what it needs", ["tests/tools/installed/run.py"]),
    ),
    "quick": (*BEFORE, ("doctests and a part of the tests", [*TESTS, "-m", EXAMPLES, *QUICK])),
    "slow": (("tests that one must ask for", [*TESTS, "-m", "slow"]),),
}


def main() -> int:
    """Run every step with the Python that runs this, and stop at the first that fails."""
    # What is started in the background ignores an interrupt, and so would the commands that tests interrupt.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    for name in ("quick", "slow"):
        parser.add_argument(f"--{name}", dest="steps", action="store_const", const=name, default="whole")
    for title, arguments in STEPS[parser.parse_args().steps]:
        print(f"== {title}", flush=True)
        began = time.monotonic()
        ended = subprocess.run([sys.executable, *arguments], cwd=ROOT, env={**os.environ}, check=False)
        if ended.returncode:
            print(f"== {title}: failed", flush=True)
            return ended.returncode
        print(f"== {title}: {time.monotonic() - began:.0f} s", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
