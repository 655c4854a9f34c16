"""net3d propose: nets of what is at hand."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import click

from net3d.commands.options import SpecFile, folder_option
from net3d.commands.printing import progress, say, tell

if TYPE_CHECKING:
    from net3d.propose.search import Proposals

NOTHING = 1  # exit code where no net keeps the limits
INTERRUPTED = 130
_TIME = re.compile(r"(\d+(?:\.\d+)?)\s*(s|sec|min|h)?")
SECONDS = {None: 1.0, "s": 1.0, "sec": 1.0, "min": 60.0, "h": 3600.0}


def _seconds(context: click.Context, option: click.Parameter, text: str) -> float:
    """A time such as 5min [s]."""
    match = _TIME.fullmatch(text.strip())
    if match is None or not 0 < float(match[1]) * SECONDS[match[2]] <= 86400:
        raise click.BadParameter(f"{text!r} is no time: write such as 90s, 5min or 1h, up to 24h.")
    return float(match[1]) * SECONDS[match[2]]


@click.command()
@click.argument("path", metavar="WANTED", type=SpecFile(path_type=Path))
@click.option(
    "--for",
    "seconds",
    metavar="TIME",
    default="60s",
    show_default=True,
    callback=_seconds,
    help="How long to look at most, such as 5min.",
)
@click.option("--jobs", metavar="N", type=click.IntRange(1, 512), help="Processes; one a core unless given.")
@folder_option("Folder to write the proposals into, as NAME-proposals.")
def propose(path: Path, seconds: float, jobs: int | None, parent: Path) -> None:
    """Propose nets of the hoops and netting at hand that differ in kind, from a wanted list.

    Reads a list of the hoops ([[pile]]), the netting ([netting]), the fish, the river, limits, and what the
    net must keep to ([want]). Writes up to five specs to work on, each with its picture and a page that says
    why it was chosen, what it gives up and what was ruled out by which limit. Every proposal passes every
    check. Ctrl-C ends the search and keeps what was found. Ends with exit code 1 where no net keeps the
    limits.
    """
    from net3d.many import processes
    from net3d.propose import propose as find
    from net3d.propose.search import SOLVED
    from net3d.spec.wanted import read_wanted

    wanted = read_wanted(path)
    with progress(SOLVED) as announce, processes(jobs) as engine:
        result = find(wanted, engine, seconds, lambda so_far: announce(so_far.said))
    folder = parent / f"{path.stem}-proposals"
    if result.found:
        _write(result, folder)
    _tell(result, folder)
    if result.ended == "interrupt":
        raise click.exceptions.Exit(INTERRUPTED)
    if not result.found:
        raise click.exceptions.Exit(NOTHING)


def _write(result: Proposals, folder: Path) -> None:
    from net3d.drawings.picture import picture_png
    from net3d.propose import words
    from net3d.propose.page import proposals_html
    from net3d.writers.file import write_file

    for number, one in enumerate(result.found, start=1):
        name = words.file_name(number, one)
        write_file(folder / f"{name}.toml", words.spec_text(one, result), make_folder=True)
        write_file(folder / f"{name}.png", picture_png(one.design))
    write_file(folder / "proposals.html", proposals_html(result))


def _tell(result: Proposals, folder: Path) -> None:
    from net3d.propose import words

    for number, one in enumerate(words.sentences(result), start=1):
        say(f"{number}. {one['name']}: {one['net']}", "   ")
        for told in ("why", "gives_up", "leaves"):
            say(f"   {one[told]}", "   ")
    if not result.found:
        click.echo("No net of what is at hand keeps every limit.")
    for text in words.hindrances(result):
        say(f"- {text}", "  ")
    say(words.ended(result))
    if result.found:
        tell(f"Wrote {folder}")
