"""Everything that must hold before a change goes in: lint, types, import contracts, doctests, tests."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
STEPS = (
    ("lint", ["-m", "ruff", "check", "net3d", "tests"]),
    ("format", ["-m", "ruff", "format", "--check", "net3d", "tests"]),
    ("types", ["-m", "mypy"]),
    ("import contracts", ["-c", "from importlinter.cli import lint_imports_command as run; run()"]),
    ("doctests and tests", ["-m", "pytest"]),
    ("installed, with the oldest and the newest of what it needs", ["tests/tools/installed/run.py"]),
)


def main() -> int:
    """Run every step with the Python that runs this, and stop at the first that fails."""
    # What is started in the background ignores an interrupt, and so would the commands that tests interrupt.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    for title, arguments in STEPS:
        print(f"== {title}", flush=True)
        ended = subprocess.run([sys.executable, *arguments], cwd=ROOT, env={**os.environ}, check=False)
        if ended.returncode:
            print(f"== {title}: failed", flush=True)
            return ended.returncode
    return 0


if __name__ == "__main__":
    sys.exit(main())
