"""net3d sweep: many nets at once, one row a net."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from net3d.commands.options import spec_argument
from net3d.commands.printing import progress, tell
from net3d.commands.reading import told_spec

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from net3d.many.engine import Engine
    from net3d.many.sweep import Sweep

PARQUET = ".parquet"


def _pairs(context: click.Context, option: click.Parameter, texts: tuple[str, ...]) -> dict[str, str]:
    """Keys and what is tried of each."""
    pairs: dict[str, str] = {}
    for text in texts:
        key, equals, values = text.partition("=")
        if not equals:
            raise click.BadParameter(f'{text!r} names no values: write "netting.around=36:60:2".')
        if key.strip() in pairs:
            raise click.BadParameter(f"{key.strip()} is varied twice: write all its values in one --vary.")
        pairs[key.strip()] = values
    return pairs


@click.command()
@spec_argument
@click.option(
    "--vary",
    multiple=True,
    required=True,
    metavar="KEY=VALUES",
    callback=_pairs,
    help='What is tried of a key, for example "netting.around=36:60:2", "netting.twine=#15, #18" or '
    '"rigging.pull=5..40 lbf", a range; of several keys all combinations.',
)
@click.option(
    "--draw",
    "count",
    metavar="N",
    type=click.IntRange(1),
    help="Draw so many nets, spread evenly over all ranges (a Latin hypercube), instead of all combinations.",
)
@click.option("--seed", type=click.IntRange(0), default=0, show_default=True, help="What --draw draws with.")
@click.option(
    "--want",
    multiple=True,
    metavar="NAME",
    help='A number of report.json that is wanted, such as length_m or "sections.*.length_m"; the usual ones '
    "unless given.",
)
@click.option("--jobs", metavar="N", type=click.IntRange(1, 512), help="Processes; one a core unless given.")
@click.option(
    "--cluster", metavar="ADDRESS", help="Let the workers of a Dask cluster do it: tcp://HOST:PORT."
)
@click.option(
    "-o",
    "--output",
    metavar="PATH",
    type=click.Path(path_type=Path, dir_okay=False),
    help="CSV file, or Parquet by its suffix; NAME-sweep.csv unless given.",
)
def sweep(  # the options of how it is worked out: --draw, --seed, --jobs, --cluster
    path: Path,
    vary: dict[str, str],
    want: tuple[str, ...],
    output: Path | None,
    **how: Any,  # noqa: ANN401
) -> None:
    """Work out many nets that differ in some keys, and write a row for each.

    Inputs stand in the row as they are typed, numbers in SI, units in the header; a net that cannot be
    worked out is a row with its reason. Every row is on the disk once its net is done: stop with Ctrl-C, type
    the same again, and only what is missing is worked out. A range such as 5..40 is five values, or with
    --draw any between.
    """
    from net3d.many import Draw, sweep_of
    from net3d.writers.rows import need_parquet, write_parquet

    target = output or Path(f"{path.stem}-sweep.csv")
    rows = target.with_suffix(".csv") if target.suffix == PARQUET else target
    if rows != target:
        need_parquet(target)
    if how["cluster"] and how["jobs"]:
        raise click.UsageError("A cluster has its own workers: leave out --jobs or --cluster.")
    draw = Draw(how["count"], how["seed"]) if how["count"] else None
    asked = sweep_of(told_spec(path), vary, want, draw)
    failed = _run(asked, rows, _engine(how["cluster"], how["jobs"]))
    if rows != target:
        write_parquet(target, rows, [name for name in asked.header if name in ("key", "reason")])
    tell(f"Wrote {target}: {len(asked.keys)} nets{_failures(failed)}")


def _engine(cluster: str | None, jobs: int | None) -> AbstractContextManager[Engine]:
    from net3d import many

    return many.cluster(cluster) if cluster else many.processes(jobs)


def _failures(failed: int) -> str:
    return f", {failed} of them without numbers: the last column says why." if failed else "."


def _run(asked: Sweep, path: Path, engine: AbstractContextManager[Engine]) -> int:
    """Work out what is not in the file yet; how many of all nets have no numbers."""
    from net3d.writers.rows import row_file

    with row_file(path, asked.header, asked.keys) as file, engine as used:
        with progress(len(asked.keys)) as announce:
            for done in range(len(file.rows)):
                announce(f"{done + 1} of {len(asked.keys)} nets were there already")
            for number, row in asked.rows(used, list(file.rows)):
                file.add(asked.line(number, row))
                announce(f"{len(file.rows)} of {len(asked.keys)} nets")
        file.finish(asked.keys)
        return sum(not text.endswith(",\r\n") for text in file.rows.values())
