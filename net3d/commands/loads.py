"""net3d loads: what the river pulls on a net, and what has to hold it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from net3d import design as work_out
from net3d.commands.options import json_option, spec_argument
from net3d.commands.printing import print_findings, print_json, print_sheet, progress, told_currents
from net3d.commands.reading import told_spec

if TYPE_CHECKING:
    from net3d.chain import Design
    from net3d.water.loads import Loads


@click.command()
@spec_argument
@click.option(
    "--plot",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Also draw drag against current into this file (SVG).",
)
@json_option
def loads(path: Path, plot: Path | None, as_json: bool) -> None:
    """Print what the river pulls on a net, and the anchor, line and hoops it takes.

    For the currents of the spec ([rigging] current and [water] currents), or for 0.25 to 2 m/s where it
    names none. Drag is a range over published models. Every current takes some seconds.
    """
    design, rows = _work_out(path)
    if plot is not None:
        _draw(plot, design, rows)
    if as_json:
        _print_json(rows)
    else:
        _print(design, rows)


def _work_out(path: Path) -> tuple[Design, tuple[Loads, ...]]:
    from net3d.chain import loads_of
    from net3d.water.river import currents_of, usual_currents

    spec = told_spec(path)
    currents = currents_of(spec) or usual_currents()
    with progress(1 + len(currents)) as announce:
        announce("Working out the shape")
        told = told_currents(announce, spec.tape, len(currents))
        design = work_out(spec, told)
        return design, design.loads or loads_of(design, currents, told)


def _draw(plot: Path, design: Design, rows: tuple[Loads, ...]) -> None:
    from net3d.drawings.drag_plot import drag_plot
    from net3d.writers.file import write_file

    drawing = drag_plot(f"{design.spec.title}: drag", design.spec.tape, rows)
    write_file(plot, drawing + "\n")


def _print_json(rows: tuple[Loads, ...]) -> None:
    from net3d.tables.loads import RIVER_CAUTIONS
    from net3d.writers.loads import load_records
    from net3d.writers.report import finite

    printed = {"loads": finite(load_records(rows)), "cautions": list(RIVER_CAUTIONS)}
    print_json(printed)


def _print(design: Design, rows: tuple[Loads, ...]) -> None:
    from net3d.checks.river import check_river
    from net3d.tables.bearing import anchors_sheet, hoops_sheet, legs_sheet, netting_sheet
    from net3d.tables.loads import loads_sheet, models_sheet

    at = _chosen(design, rows)
    sheets = [
        loads_sheet(design, rows),
        anchors_sheet(design, rows),
        hoops_sheet(design, at),
        legs_sheet(design, at),
        netting_sheet(design, at),
        models_sheet(design, rows),
    ]
    for sheet in filter(None, sheets):
        print_sheet(sheet)
        click.echo()
    print_findings(check_river(design.spec, design.plan, at), under="in this current ")


def _chosen(design: Design, rows: tuple[Loads, ...]) -> Loads:
    """The loads at the current that the spec names for the net, or at the strongest."""
    current = design.spec.rigging.current
    return next((loads for loads in rows if loads.current == current), rows[-1])
