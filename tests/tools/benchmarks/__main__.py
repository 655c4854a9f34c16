"""Times everything and prints it beside its goals: ``python -m tests.tools.benchmarks``, or with ``--quick``.

Every run is a process of its own; a figure is the median of several. Nothing else should be running.
"""

from __future__ import annotations

import argparse
import os
import platform
from functools import partial
from importlib.metadata import version
from importlib.util import find_spec
from statistics import median
from tempfile import TemporaryDirectory

from tests.tools.benchmarks.fresh import Run, call, fresh
from tests.tools.benchmarks.goals import exponent, goal_lines

SAMPLES = {"two throats": "backwater-36", "brook": "brook-50"}
SIZES = ("1", "6", "48", "400")  # thousand bars
GEOMETRY_PEERS = ("numpy_stl", "vtk", "trimesh", "cad_kernel")
PEERS_NEED = ("trimesh", "stl", "pyvista", "OCP", "cvxpy", "ecos", "compas_dr")
CONE_PEERS = ("cvxpy_clarabel", "cvxpy_ecos", "cvxpy_scs")
OTHER_METHODS = ("scipy_minimize", "compas_dr")
FEWER = 3  # runs of the peers and of the largest nets, which take longer
GIB = 2**30

say = partial(print, flush=True)
Figures = dict[str, float]


def main() -> None:
    """Time the stages, the files, the peers and the solve, then print the goals."""
    parser = argparse.ArgumentParser(prog="python -m tests.tools.benchmarks", description=__doc__)
    parser.add_argument("--quick", action="store_true", help="the two smaller sizes only, each once")
    quick = parser.parse_args().quick
    missing = [name for name in PEERS_NEED if find_spec(name) is None]
    if missing:
        parser.error(f"{', '.join(missing)} not installed, to compare with: pip install -e '.[bench]'")
    sizes, times = (SIZES[:2], 1) if quick else (SIZES, 5)
    say(f"net3d {version('net3d')}, Python {platform.python_version()}, {os.cpu_count()} processors")
    middle = sizes[-1] if quick else sizes[-2]
    figures = start_up(times)
    for kind in ("repeats", "weight", "throats"):
        figures |= builds(kind, sizes, times)
    figures |= waits(sizes[-1], times)
    figures |= {**files(middle, times), **memory(sizes), **solves(sizes[0], middle, times)}
    say("\nGoals" + (", at a smaller net than they are set for" if quick else ""))
    say("\n".join(goal_lines(figures)))


def start_up(times: int) -> Figures:
    """Whole processes, once all modules are compiled: the help, and two samples checked and built."""
    with TemporaryDirectory() as folder:
        commands = {"help": ["--help"]}
        for name, sample in SAMPLES.items():
            spec = f"specs/{sample}.toml"
            commands |= {f"check {name}": ["check", spec], f"build {name}": ["build", spec, "-o", folder]}
        runs = {}
        for name, command in commands.items():
            fresh(["-m", "net3d", *command])
            runs[name] = [fresh(["-m", "net3d", *command]) for _ in range(times)]
    say(f"\n{'Whole process':18}{'seconds':>10}{'user':>10}{'MiB':>8}")
    users = {name: median(run.user for run in some) for name, some in runs.items()}
    for name, some in runs.items():
        say(f"{name:18}{_seconds(some):10.3f}{users[name]:10.3f}{_peak(some) * 1024:8.0f}")
    return {**users, "help": _seconds(runs["help"])}


def waits(largest: str, times: int) -> Figures:
    """What a maker waits for, and what has no mirror or is large."""
    work: dict[str, tuple[str, ...]] = {
        "sketch two throats": ("sketched", "two throats"),
        "sketch plain": ("sketched", "plain"),
        "at an angle": ("at_an_angle",),
        "odd over even": ("odd_over_even",),
    }
    say(f"\n{'Work':22}{'user':>10}")
    figures: Figures = {}
    for name, (function, *words) in work.items():
        figures[name] = median(call(f"work.{function}", *words)[0] for _ in range(times))
        say(f"{name:22}{figures[name]:10.3f}")
    say(f"\n{'A change at the page':22}{'user':>10}{'seconds':>10}{'at work':>10}")
    for kind in ("two throats", "plain"):
        told = call("serving.changed", kind)[0]
        figures |= {f"page {kind}": told["seconds"], f"page user {kind}": told["user"]}
        say(f"{kind:22}{told['user']:10.3f}{told['seconds']:10.3f}{told['busy']:10.3f}")
    solved = call("work.one_solve", largest)[0]
    figures |= {"solve seconds": solved["seconds"], "solve memory": solved["peak"] / GIB}
    say(f"{'one solve, throats':22}{figures['solve seconds']:10.3f}{figures['solve memory']:8.2f} GiB")
    return figures


def builds(kind: str, sizes: tuple[str, ...], times: int) -> Figures:
    """Builds of every size, stage by stage."""
    columns: list[Figures] = []
    for size in sizes:
        runs = min(times, FEWER) if size == SIZES[-1] else times
        calls = [call("stages.build", kind, size) for _ in range(runs)]
        column = {stage: median(seconds[stage] for seconds, _ in calls) for stage in calls[0][0]}
        columns.append({**column, **_whole([run for _, run in calls])})
    _print_builds(kind, columns)
    bars, seconds = ([column[key] for column in columns] for key in ("bars", "whole build"))
    figures = {"grows": exponent(bars[1:], seconds[1:])} if len(sizes) > 2 else {}
    if sizes == SIZES:
        figures["cost a bar"] = seconds[-1] / bars[-1] / (seconds[1] / bars[1])
        further = [(seconds[b] - seconds[a]) / (bars[b] - bars[a]) for a, b in ((0, 2), (2, 3))]
        figures["further bar"] = further[1] / further[0]
        figures |= {"largest seconds": seconds[-1], "largest memory": columns[-1]["peak [GiB]"]}
    return {f"{key} {kind}": figure for key, figure in figures.items()}


def _print_builds(kind: str, columns: list[Figures]) -> None:
    bars = [column["bars"] for column in columns]
    counts = "".join(f"{count:10,.0f}" for count in bars)
    say(f"\n{f'Build, {kind} [s]':18}{counts}  grows with bars to the")
    for row in [row for row in columns[0] if row != "bars"]:
        cells = [column[row] for column in columns]
        say(f"{row:18}" + "".join(f"{cell:10.3f}" for cell in cells) + f"{exponent(bars, cells):8.2f}")


def files(size: str, times: int) -> Figures:
    """Files of one net over the raw write of their bytes, and over what peers take for their tubes."""
    figures: Figures = {}
    say(f"\n{f'Files, {size},000 bars':18}{'seconds':>10}{'raw write':>11}{'ratio':>8}{'bytes a bar':>13}")
    for writer in ("glb", "stl"):
        runs = [call("tubes.ours", writer, size)[0] for _ in range(times)]
        seconds, raw, count, bars = (median(r[k] for r in runs) for k in ("seconds", "raw", "bytes", "bars"))
        say(f"{writer:18}{seconds:10.3f}{raw:11.4f}{seconds / raw:8.1f}{count / bars:13.0f}")
        figures[writer] = seconds
        figures |= {f"{writer} over raw": seconds / raw, f"{writer} bytes a bar": count / bars}
    for peer in GEOMETRY_PEERS:
        seconds = median(call(f"tubes.{peer}", size)[0]["seconds"] for _ in range(min(times, FEWER)))
        figures[peer] = seconds / figures["stl"]
        say(f"{peer:18}{seconds:10.3f}   net3d's STL is {figures[peer]:.1f} times ahead")
    return figures


def memory(sizes: tuple[str, ...]) -> Figures:
    """What the STL writer holds, for the largest net and the one before."""
    least, most = (call("tubes.stl_memory", size)[0] for size in sizes[-2:])
    say(f"\nSTL writer holds {least / 1e6:.2f} MB, then {most / 1e6:.2f} MB")
    return {"stl memory": most / least}


def solves(small: str, middle: str, times: int) -> Figures:
    """The solve of nets of both kinds against other ways to the same program, and against other methods."""
    say(f"\n{'Solve':18}{'net':14}{'seconds':>10}{'misfit':>10}  net3d is ahead by")
    figures: Figures = {}
    for kind in ("repeats", "weight"):
        ahead = _against(kind, middle, CONE_PEERS, times)
        figures[f"cvxpy {kind}"] = min(ahead)
    figures["other methods"] = min(_against("weight", small, (*CONE_PEERS, *OTHER_METHODS), times))
    return figures


def _against(kind: str, size: str, peers: tuple[str, ...], times: int) -> list[float]:
    """How many times net3d is ahead of each peer."""
    taken: Figures = {}
    for way in ("net3d", *peers):
        runs = times if way == "net3d" else min(times, FEWER)
        found = [call("equilibria.second", way, kind, size)[0] for _ in range(runs)]
        taken[way] = median(run["seconds"] for run in found)
        misfit = max(run["misfit"] for run in found)
        ahead = taken[way] / taken["net3d"]
        say(f"{way:18}{f'{kind} {size}':14}{taken[way]:10.3f}{misfit:10.0e}{ahead:9.1f}")
    return [taken[peer] / taken["net3d"] for peer in peers]


def _whole(runs: list[Run]) -> Figures:
    processor = median(run.processor for run in runs)
    return {"whole build": _seconds(runs), "processor time": processor, "peak [GiB]": _peak(runs)}


def _seconds(runs: list[Run]) -> float:
    return median(run.seconds for run in runs)


def _peak(runs: list[Run]) -> float:
    return median(run.peak for run in runs) / GIB


if __name__ == "__main__":
    main()
