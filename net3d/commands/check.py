"""net3d check: what is wrong with a net or worth knowing about it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from net3d import design as work_out
from net3d.commands.options import json_option, spec_argument
from net3d.commands.printing import print_findings, print_json, print_sheet, progress

if TYPE_CHECKING:
    from net3d.chain import Design

FAILED = 1  # exit code


@click.command()
@spec_argument
@click.option("--all", "everything", is_flag=True, help="List what is fine too.")
@json_option
@click.pass_context
def check(context: click.Context, path: Path, everything: bool, as_json: bool) -> None:
    """Say what is wrong with a net or worth knowing about it.

    Prints where each throat's tip comes to stand and the string to tie it with, how the hoops come to
    stand, and every finding that is not ok. Writes nothing. Ends with exit code 1 when a check fails,
    0 otherwise.
    """
    from net3d.checks.checks import Level
    from net3d.spec import read_spec

    spec = read_spec(path)
    with progress(1) as announce:
        announce("Working out the shape")
        design = work_out(spec)
    if as_json:
        from net3d.writers.report import report_of

        print_json(report_of(design))
    else:
        _tell(design, everything)
    if any(finding.level is Level.FAIL for finding in design.findings):
        context.exit(FAILED)


def _tell(design: Design, everything: bool) -> None:
    from net3d.tables import standing_sheet
    from net3d.tables.cautions import POINTER
    from net3d.tables.throats import throat_sheet

    if design.shape.throats:
        print_sheet(throat_sheet(design))
    print_sheet(standing_sheet(design.spec, design.plan, design.shape))
    print_findings(design.findings, everything=everything)
    click.echo(POINTER)
