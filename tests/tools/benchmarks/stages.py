"""The stages of ``net3d build``, timed where the command calls them."""

from __future__ import annotations

import importlib
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import Any

STAGES = {  # functions that the command looks up when it runs; lattice, solve: what ties and settles a net
    "spec": ("net3d.spec", "read_spec"),
    "plan": ("net3d.plan", "lay_out"),
    "lattice": ("net3d.netting", "tie"),
    "solve": ("net3d.statics", "settle"),
    "checks": ("net3d.checks.every_check", "check"),
    "solids": ("net3d.solids", "solids_of"),
    "net.glb": ("net3d.writers.glb", "write_glb"),
    "net.stl": ("net3d.writers.stl", "write_stl"),
    "tables": ("net3d.writers.csv_tables", "write_table"),
    "sheet.pdf": ("net3d.paper.documents", "bench_pdf"),
    "picture.png": ("net3d.drawings.picture", "picture_of"),
    "side.svg": ("net3d.drawings.side", "side_view"),
    "page.html": ("net3d.page", "page_html"),
    "report.json": ("net3d.writers.report", "report_text"),
}


def build(kind: str, size: str) -> dict[str, float]:
    """Build a net as the command does: seconds of every stage, of the imports, and the number of ``bars``."""
    seconds: dict[str, float] = {}
    start = perf_counter()
    for stage, (module, function) in STAGES.items():
        _time_calls(importlib.import_module(module), function, stage, seconds)
    from net3d.cli import net3d
    from tests.tools.benchmarks.nets import net_text

    seconds["imports"] = perf_counter() - start
    with TemporaryDirectory() as folder:
        spec = Path(folder, "net.toml")
        spec.write_text(net_text(kind, size), encoding="utf-8")
        net3d.main(["build", str(spec), "-o", folder], standalone_mode=False)
    missed = STAGES.keys() - seconds.keys()
    if missed:
        raise RuntimeError(f"the command no longer calls {', '.join(missed)} where it is timed")
    return seconds


def _time_calls(module: Any, function: str, stage: str, seconds: dict[str, float]) -> None:
    run: Callable[..., Any] = getattr(module, function)

    @wraps(run)
    def timed(*arguments: Any, **named: Any) -> Any:
        start = perf_counter()
        made = run(*arguments, **named)
        seconds[stage] = seconds.get(stage, 0.0) + perf_counter() - start
        if stage == "lattice":
            seconds["bars"] = len(made.bars)
        return made

    setattr(module, function, timed)
