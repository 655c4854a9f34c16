"""Every number of the fuzzer's small specs at the ends of what its key allows, one at a time, worked out.

``python tests/tools/fuzz/bounds.py`` takes some minutes and prints what is trouble.
"""

from __future__ import annotations

import sys
import tomllib
from collections import Counter
from copy import deepcopy
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[3]))

from net3d.handbook.limits import default_limits
from tests.tools.fuzz.judge import TROUBLE, judge
from tests.tools.fuzz.mutate import SMALL
from tests.tools.fuzz.toml_text import toml_text

ENDS = (
    *(
        0,
        1,
        2,
        3,
        9,
        24,
        1000,
        0.5,
        1e-6,
        0.0001,
        0.001,
        0.01,
        0.05,
        0.1,
        0.9,
        0.999,
        5,
        90,
        1e6,
        1e7,
        -10_000,
    ),
    *("0.001 mm", "0.01 mm", "5 cm", "10 m", "1000 m", "0.001 N", "1000000 N", "0.0001 kg", "100000 kg"),
    *("0.01 m/s", "5 m/s", "0.01 m/kg", "10000000 m/kg", "fit", "free", "late", "even"),
)
LEAST, MOST = {"caution": 0.001}, {"caution": 1e6, "fail": 1e6}
WORK_OUT, BARS = 2, 1500


def places(table, path=()):
    """The path of every value that is no table and no list."""
    for key, value in table.items() if isinstance(table, dict) else enumerate(table):
        if isinstance(value, dict | list):
            yield from places(value, (*path, key))
        else:
            yield (*path, key)


def variants(document):
    """Documents with one value changed, and what was changed in them."""
    for path in places(document):
        for end in ENDS:
            changed = deepcopy(document)
            holder = changed
            for key in path[:-1]:
                holder = holder[key]
            holder[path[-1]] = end
            yield path, end, changed
    for key, limit in default_limits().items():
        for end in (LEAST, LEAST | {"fail": 0} if limit.sense == "min" else MOST):
            yield ("limits", key), end, document | {"limits": document.get("limits", {}) | {key: end}}


def main():
    """Judge all of them; ends with 1 where there was trouble."""
    seen = Counter()
    for seed in SMALL:
        for path, end, document in variants(tomllib.loads(seed.read_text("utf-8"))):
            verdict = judge(toml_text(document).encode(), WORK_OUT, (BARS, 1), lambda stage: None)
            seen[verdict.kind] += 1
            if verdict.kind == TROUBLE:
                print(seed.stem, path, end, verdict.detail, flush=True)
    print(dict(seen))
    return int(seen[TROUBLE] > 0)


if __name__ == "__main__":
    sys.exit(main())
