"""What ``net3d check`` prints for twelve nets with a fault each, as one page to be read by eye.

``python -m tests.tools.faulty`` writes outputs/faulty-nets.txt; with numbers behind it, only those nets.
"""

from __future__ import annotations

import sys
from contextlib import chdir, redirect_stderr, redirect_stdout, suppress
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory

from net3d.cli import main as net3d
from net3d.spec import starter_spec
from net3d.spec.rewriting import rewritten

SQUARE = {"throat.1.style": "square", "throat.1.line": 16}
NETS = {
    "a throat too deep": {"throat.1.deep": 14},
    "a square tip too tight": {"fish.girth": [12, 20], **SQUARE},
    "a tip that lets the fish out": {"fish.girth": [8, 12]},
    "spreader rods too short": {"sections.spacing": ["free", "free", 14, 14]},
    "strings too short": {"throat.1.strings.length": 20},
    "strings too long": {"throat.1.strings.length": 40},
    "a sheet too small": {"netting.made": "sheet", "stock.webbing_across": 24},
    "too many meshes around": {"netting.around": 170, "throat": None},
    "too few meshes around": {"netting.around": 34, "throat": None},
    "a pull that is too hard": {"rigging.pull": "400 lbf", "throat": None},
    "a rod of 12": {"hoop.1.rod": 12, "throat": None},
    "hoops listed tail first": {"hoop": [5, 4, 3, 2, 1], "throat": None},
}
PAGE = Path("outputs", "faulty-nets.txt")


def printed(changes: dict[str, object]) -> str:
    """What the command prints for the net that ``net3d new`` writes, with these changes."""
    told = StringIO()
    with TemporaryDirectory() as home, chdir(home):
        Path("net.toml").write_text(rewritten(starter_spec("River net"), changes), "utf-8")
        with redirect_stdout(told), redirect_stderr(told), suppress(SystemExit):
            net3d(["check", "net.toml"])
    return told.getvalue()


def main(numbers: list[int]) -> None:
    """Write the page."""
    PAGE.parent.mkdir(exist_ok=True)
    with PAGE.open("w", encoding="utf-8") as page:
        for number, (name, changes) in enumerate(NETS.items(), start=1):
            if not numbers or number in numbers:
                page.write(f"{number}. {name}: {changes}\n\n{printed(changes)}\n\n")
                page.flush()
    print(f"Wrote {PAGE}")


if __name__ == "__main__":
    main([int(number) for number in sys.argv[1:]])
