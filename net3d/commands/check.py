"""net3d check: what is wrong with a net or worth knowing about it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from net3d import design as work_out
from net3d.commands.options import json_option, spec_argument
from net3d.commands.printing import print_findings, print_json, print_sheet, progress, say, told_currents
from net3d.commands.reading import told_spec
from net3d.errors import OutputError, Problem, SpecError

if TYPE_CHECKING:
    from net3d.chain import Design

FAILED = 1  # exit code
LENGTHS = (
    "hoops",
    "meshes_deep",
    "length",
    "either_way",
    "waist",
)  # what is not a length: --all, report.json


@click.command()
@spec_argument
@click.option("--all", "everything", is_flag=True, help="List what is fine too.")
@click.option(
    "--correct",
    is_flag=True,
    help="Write a copy, NAME-corrected.toml, with mistyped lines as they should read.",
)
@click.option(
    "--try",
    "number",
    metavar="N",
    type=click.IntRange(1),
    help="Write a copy, NAME-try-N.toml, with the remedy of that number made.",
)
@json_option
def check(path: Path, everything: bool, correct: bool, number: int | None, as_json: bool) -> None:
    """Say what is wrong with a net or worth knowing about it, and what sets it right.

    Prints where each throat's tip comes to stand and the string to tie it with, how the hoops come to
    stand, and every finding that is not ok, with what to type to set it right: numbered remedies, each tried
    before it is told, which takes a few seconds for each finding. Writes nothing but with --correct, which
    checks nothing, and with --try. Ends with exit code 1 when a check fails, 0 otherwise.
    """
    if correct:
        _correct(path)
        return
    from net3d.checks.checks import Level
    from net3d.water.river import currents_of

    spec = told_spec(path)
    currents = len(currents_of(spec))
    with progress(1 + currents) as announce:
        announce("Working out the shape")
        design = work_out(spec, told_currents(announce, spec.tape, currents))
    odd = sum(finding.level is not Level.OK for finding in design.findings)
    if odd:
        from net3d.advice import advise  # a sound net need not wait until it is loaded

        with progress(odd) as announce:
            design = advise(design, announce)
    if number is not None:
        _make(path, design, number)
        return
    if as_json:
        from net3d.writers.report import report_of

        print_json(report_of(design))
    else:
        _tell(path, design, everything)
    if any(finding.level is Level.FAIL for finding in design.findings):
        raise click.exceptions.Exit(FAILED)


def _correct(path: Path) -> None:
    """Write the corrected copy, never over a file, and say what is left to be put right by hand."""
    from net3d.spec import correct_spec, read_spec

    meant = correct_spec(path)
    if not meant.problems:
        say(f"No line of {path} is to be corrected; nothing was written.")
        read_spec(path)
        return
    copy = _write_copy(path, "corrected", meant.text)
    for problem in meant.problems:
        click.echo(str(problem))
    say(f"Wrote {copy}; {path} is as it was. Read it over before you use it.")
    read_spec(copy)


def _write_copy(path: Path, word: str, text: str) -> Path:
    """Write a text beside the spec, as NAME-word.toml and never over a file."""
    from net3d.writers.file import write_new_file

    copy = path.with_name(f"{path.stem}-{word}.toml")
    try:
        write_new_file(copy, text)
    except FileExistsError:
        raise OutputError(f"{copy} is there already; it was left as it is. Move it away first.") from None
    except OSError as error:
        raise OutputError(f"{copy}: cannot be written: {error.strerror or error}") from error
    return copy


def _make(path: Path, design: Design, number: int) -> None:
    """Write the copy with a remedy made, and say what was changed in it."""
    from net3d.spec.keys import change_line
    from net3d.spec.rewriting import rewritten

    told = {remedy.number: remedy for finding in design.findings for remedy in finding.remedies}
    if number not in told:
        known = f"1 to {max(told)}" if told else "none"
        raise SpecError(str(path), (Problem("", f"there is no remedy {number} for this net: {known}"),))
    changes, source = told[number].changes, design.spec.source
    copy = _write_copy(path, f"try-{number}", rewritten(source.text, changes, str(path), source.shop))
    for key, value in changes.items():
        click.echo(change_line(key, value))
    click.echo(f"Wrote {copy}; {path} is as it was. What is left: net3d check {_typed(copy)}")


def _tell(path: Path, design: Design, everything: bool) -> None:
    from net3d.tables.cautions import POINTER

    if design.shape.at_rest or everything:
        _tell_shape(design, everything)
    print_findings(design.findings, everything=everything)
    if any(finding.remedies for finding in design.findings):
        click.echo(f"A remedy is made in a copy of the spec with --try: net3d check {_typed(path)} --try 1")
    say(POINTER)


def _tell_shape(design: Design, everything: bool) -> None:
    from net3d.tables.standing import standing_sheet
    from net3d.tables.strings import string_sheet
    from net3d.tables.throats import throat_sheet

    if design.shape.throats:
        throats = throat_sheet(design)
        print_sheet(throats if everything else throats.without("pull_share"))
        print_sheet(string_sheet(design))
    standing = standing_sheet(design.spec, design.plan, design.shape)
    print_sheet(standing if everything else standing.picked(LENGTHS))


def _typed(path: Path) -> str:
    """A path as every shell takes it."""
    return f'"{path}"' if " " in str(path) else str(path)
