"""``python -m net3d`` is the command ``net3d``."""

from __future__ import annotations

import gc
import os
import sys
from typing import NoReturn

GARBAGE = 50_000  # objects between two searches for unused rings of them: after 700, a build is longer by 5 %


def main() -> NoReturn:
    """Run the command line; an interrupt while it is still being loaded is no traceback either."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # no dense matrix here is worth waking another thread
    gc.set_threshold(GARBAGE)
    try:
        from net3d.cli import main as run  # noqa: PLC0415

        run()
    except KeyboardInterrupt:
        if sys.stderr:
            sys.stderr.write("Interrupted.\n")
        sys.exit(130)


if __name__ == "__main__":
    main()
