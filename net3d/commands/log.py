"""net3d log: a net's own record."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, TypedDict, Unpack

import click

from net3d.commands.options import json_option, spec_argument
from net3d.commands.printing import show, tell
from net3d.commands.reading import told_spec

if TYPE_CHECKING:
    from net3d.spec.spec import NetSpec


class Said(TypedDict):
    """What was done, and when."""

    kind: str | None
    mended: int | None
    leave_hole: bool
    day: datetime | None


@click.command()
@spec_argument
@click.argument("note", default="")
@click.option(
    "--kind",
    metavar="KIND",
    help="What was done: built, measured, set, bridle moved, hoops turned, dipped. A note unless given.",
)
@click.option(
    "--mended",
    type=int,
    metavar="N",
    help="Hole N of the spec was mended: its [[hole]] is taken out of the spec.",
)
@click.option("--leave-hole", is_flag=True, help="With --mended: leave the [[hole]] in the spec.")
@click.option(
    "--date", "day", type=click.DateTime(["%Y-%m-%d"]), help="When it was done: today unless given."
)
@json_option
def log(path: Path, note: str, as_json: bool, **said: Unpack[Said]) -> None:
    """Add to a net's record, net-log.toml beside its spec, or print it.

    NOTE is what is written down; without it and without an option the record is printed, with what the net
    took over the years and what is due. What was built, dipped or mended is written with what went into it.
    The file is only added to.
    """
    from net3d.spec.log import LOG, read_log
    from net3d.tables.history import history_sheet

    spec, file = told_spec(path), path.with_name(LOG)
    kept = read_log(file)
    if not note and not any(said.values()):
        show(history_sheet(spec, kept.of(path.stem), date.today()), as_json)
        if kept.torn:
            click.echo(f"The last entry of {file} was torn off while it was written.", err=True)
        return
    from net3d.shop.entries import Done, entry_of
    from net3d.writers.log import add_entry

    day, hole = said["day"].date() if said["day"] else date.today(), said["mended"]
    entry = entry_of(spec, path.stem, Done(day, note, said["kind"], hole))
    read, whole = _whole(spec, path, hole) if hole and not said["leave_hole"] else ("", "")
    add_entry(file, entry)
    tell(f"Wrote to {file}: {entry.kind}, {entry.day.isoformat()}. {entry.note}".rstrip())
    if whole:
        _keep_whole(path, read, whole)


def _whole(spec: NetSpec, path: Path, hole: int) -> tuple[str, str]:
    """The spec as it stands, and without a hole. Raises SpecError where it cannot be taken out."""
    from net3d.spec.read import text_of
    from net3d.spec.rewriting import rewritten

    text = text_of(path, str(path))
    return text, rewritten(text, {f"hole.{hole}": None}, str(path), spec.source.shop)


def _keep_whole(path: Path, read: str, whole: str) -> None:
    """Write the spec without the hole, unless it was changed since it was read."""
    from net3d.writers.file import write_file

    if path.read_bytes() != read.encode():
        tell(f"{path} was changed meanwhile: take the [[hole]] out of it yourself.")
        return
    write_file(path, whole.encode())
    tell(f"Took the [[hole]] out of {path}; those behind it count one less now.")
