"""What the commands share for the terminal: a progress bar, and sheets as tables or JSON."""

from __future__ import annotations

import itertools
import os
import sys
import textwrap
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

    from net3d.checks.checks import Finding
    from net3d.tables.sheet import Sheet
    from net3d.units import Tape

Announce = Callable[[str], None]

UNPRINTED_WIDTH = 100  # characters a line, where neither a terminal nor COLUMNS says how wide it is


@contextmanager
def progress(steps: int) -> Iterator[Announce]:
    """Show what is done, what is left and for how long it has gone on a terminal; nothing anywhere else."""
    if not sys.stderr.isatty():
        yield lambda text: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    left = TextColumn("{task.remaining:.0f} to go")
    columns = (TextColumn("{task.description}"), BarColumn(), left, TimeElapsedColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as progress:
        task = progress.add_task("", total=steps, completed=-1)
        yield lambda text: progress.update(task, advance=1, description=text, refresh=True)


def told_currents(announce: Announce, tape: Tape, count: int) -> Callable[[float], None]:
    """Announce each current [m/s] with its number of how many."""
    numbers = itertools.count(1)
    return lambda current: announce(f"Current {next(numbers)} of {count}: {tape.speed(current)}")


def _console() -> Console:
    from rich.console import Console

    return Console(width=None if sys.stdout.isatty() else _told_width(), highlight=False, emoji=False)


def _told_width() -> int:
    told = os.environ.get("COLUMNS", "")
    return int(told) if told.isdecimal() and int(told) > 0 else UNPRINTED_WIDTH


def tell(text: str) -> None:
    """Say what was done. It is done even where that cannot be printed, and is then said with the errors."""
    try:
        say(text)
    except OSError:
        with suppress(OSError):
            click.echo(text, err=True)


def say(text: str, indent: str = "") -> None:
    """Print a sentence; on a terminal in lines that end between words, and never in a mixed fraction."""
    if sys.stdout.isatty():
        from net3d.commands.screen import bound, unbound

        lines = textwrap.wrap(
            bound(text),
            _console().width,
            subsequent_indent=indent,
            break_long_words=False,
            break_on_hyphens=False,
        )
        text = unbound("\n".join(lines))
    click.echo(text)


def show(sheet: Sheet, as_json: bool) -> None:
    """Print a sheet, as a table or as JSON."""
    if as_json:
        from net3d.writers.json_tables import sheet_records

        print_json(sheet_records(sheet))
    else:
        print_sheet(sheet)


def print_json(value: object) -> None:
    """Print JSON in ASCII alone: nothing is lost where the terminal or the pipe lacks a letter."""
    import json

    click.echo(json.dumps(value, indent=2, allow_nan=False))


def print_sheet(sheet: Sheet) -> None:
    """Print a sheet as a table with its notes."""
    from net3d.commands.screen import bound, sheet_table, unbound

    width = _console().width
    table = sheet_table(sheet, width)
    if table.title is None:
        click.echo(unbound(textwrap.fill(bound(sheet.title), width)))
    print_table(table)
    for note in sheet.notes:
        lines = textwrap.fill(bound(note.text), width, initial_indent="- ", subsequent_indent="  ")
        click.echo(unbound(lines))


def print_findings(findings: Sequence[Finding], *, everything: bool = False, under: str = "") -> None:
    """Print what is odd, or ``everything``, the worst first, and how many are fine; ``under`` says where."""
    from net3d.checks import told_once
    from net3d.checks.checks import Level
    from net3d.commands.screen import findings_table

    worst = list(Level)[::-1]
    findings = sorted(told_once(findings), key=lambda finding: worst.index(finding.level))
    odd = [finding for finding in findings if finding.level is not Level.OK]
    shown = findings if everything else odd
    if shown:
        print_table(findings_table(shown))
    say(f"{len(findings) - len(odd)} of {len(findings)} checks {under}are fine.")


def print_table(table: Table) -> None:
    """Print a table, without blanks at the ends of lines where it goes to a file."""
    from net3d.commands.screen import unbound

    console = _console()
    with console.capture() as captured:
        console.print(table)
    text = unbound(captured.get())
    if console.is_terminal:
        click.echo(text, nl=False)
        return
    for line in text.strip("\n").splitlines():
        click.echo(line.rstrip())
