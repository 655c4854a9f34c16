"""net3d check: what is wrong with a net or worth knowing about it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from net3d import design as work_out
from net3d.commands.options import json_option, spec_argument
from net3d.commands.printing import print_findings, print_json, print_sheet, progress, told_currents
from net3d.errors import OutputError

if TYPE_CHECKING:
    from net3d.chain import Design

FAILED = 1  # exit code


@click.command()
@spec_argument
@click.option("--all", "everything", is_flag=True, help="List what is fine too.")
@click.option(
    "--correct",
    is_flag=True,
    help="Write a copy, NAME-corrected.toml, with mistyped lines as they should read.",
)
@json_option
@click.pass_context
def check(context: click.Context, path: Path, everything: bool, correct: bool, as_json: bool) -> None:
    """Say what is wrong with a net or worth knowing about it.

    Prints where each throat's tip comes to stand and the string to tie it with, how the hoops come to
    stand, and every finding that is not ok. Writes nothing but with --correct, and then checks nothing. Ends
    with exit code 1 when a check fails, 0 otherwise.
    """
    if correct:
        _correct(path)
        return
    from net3d.checks.checks import Level
    from net3d.spec import read_spec
    from net3d.water.river import currents_of

    spec = read_spec(path)
    currents = len(currents_of(spec))
    with progress(1 + currents) as announce:
        announce("Working out the shape")
        design = work_out(spec, told_currents(announce, spec.tape, currents))
    if as_json:
        from net3d.writers.report import report_of

        print_json(report_of(design))
    else:
        _tell(design, everything)
    if any(finding.level is Level.FAIL for finding in design.findings):
        context.exit(FAILED)


def _correct(path: Path) -> None:
    """Write the corrected copy, never over a file, and say what is left to be put right by hand."""
    from net3d.spec import correct_spec, read_spec
    from net3d.writers.file import write_new_file

    meant = correct_spec(path)
    if not meant.problems:
        click.echo(f"No line of {path} is to be corrected; nothing was written.")
        read_spec(path)
        return
    copy = path.with_name(f"{path.stem}-corrected.toml")
    try:
        write_new_file(copy, meant.text)
    except FileExistsError:
        raise OutputError(f"{copy} is there already; it was left as it is. Move it away first.") from None
    except OSError as error:
        raise OutputError(f"{copy}: cannot be written: {error.strerror or error}") from error
    for problem in meant.problems:
        click.echo(str(problem))
    click.echo(f"Wrote {copy}; {path} is as it was. Read it over before you use it.")
    read_spec(copy)


def _tell(design: Design, everything: bool) -> None:
    from net3d.tables import standing_sheet
    from net3d.tables.cautions import POINTER
    from net3d.tables.strings import string_sheet
    from net3d.tables.throats import throat_sheet

    if design.shape.throats:
        print_sheet(throat_sheet(design))
        print_sheet(string_sheet(design))
    print_sheet(standing_sheet(design.spec, design.plan, design.shape))
    print_findings(design.findings, everything=everything)
    click.echo(POINTER)
