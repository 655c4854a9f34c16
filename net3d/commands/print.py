"""net3d print: a scale model of a net as STL, for a 3D printer."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from net3d.chain import shaped
from net3d.commands.options import output_option, place_for, spec_argument
from net3d.commands.printing import progress, tell
from net3d.commands.reading import told_spec

if TYPE_CHECKING:
    from collections.abc import Sequence

    from net3d.chain import Design
    from net3d.solids.solids import Solid

OPEN = 2.0  # a bar is at least so many twines long, or the mesh closes up
STEPS = 2


def scale_number(context: click.Context, option: click.Parameter, text: str) -> float:
    """How many times smaller than the net [-], from a scale such as 1:20."""
    one, colon, number = text.rpartition(":")
    try:
        scale = float(number)
    except ValueError:
        scale = 0.0
    if (colon and one.strip() != "1") or not 1.0 <= scale <= 1000.0:
        raise click.BadParameter(f"{text!r} is no scale: write 1:20, and nothing beyond 1:1 and 1:1000.")
    return scale


def thickness_length(context: click.Context, option: click.Parameter, text: str) -> float:
    """A length of the model [m]; a bare number is in mm."""
    from net3d.units import UnitError, read_quantity

    try:
        thickness = read_quantity(text, "length", "mm")
    except UnitError as error:
        raise click.BadParameter(f"{text!r} {error}.") from error
    if not 0.0 < thickness <= 0.1:
        raise click.BadParameter(f"{text!r} is no thickness of printed twine: write for example 0.8mm.")
    return thickness


@click.command("print")
@spec_argument
@click.option(
    "--scale", callback=scale_number, metavar="1:N", default="1:20", show_default=True, help="Scale."
)
@click.option(
    "--thicken",
    "thickness",
    callback=thickness_length,
    metavar="LENGTH",
    default="0.8mm",
    show_default=True,
    help="Make no twine of the model thinner than this.",
)
@output_option("NAME-print.stl in the current folder unless given.")
def print_model(path: Path, scale: float, thickness: float, output: Path | None) -> None:
    """Write a scale model of a net as STL, for a 3D printer.

    It stands on its mouth hoop, tail up, on a flat ring, so that hoops and twine print without props.
    Bridle and anchor line are left out. Millimetres.
    """
    from net3d.solids.scale_model import scale_model
    from net3d.writers.file import output_file
    from net3d.writers.stl import write_stl

    spec = told_spec(path)
    target = place_for(output, f"{path.stem}-print.stl")
    with progress(STEPS) as announce:
        announce("Working out the shape")
        design = shaped(spec)
        announce("Writing the model")
        solids = scale_model(design, scale, thickness)
        with output_file(target, make_folder=True) as draft:
            write_stl(solids, draft)
    tell(f"Wrote {target}: {_size(design, solids)}")
    if min(design.plan.bar, *(throat.bar for throat in design.plan.throats), 1.0) / scale < OPEN * thickness:
        tell("At this scale so thick a twine closes the meshes up: print larger, or thinner.")


def _size(design: Design, solids: Sequence[Solid]) -> str:
    """How large the file is that a slicer opens: its foot and the rods' thickness are in it."""
    import numpy as np

    from net3d.solids.solids import bounds_of

    wide, deep, tall = map(design.spec.tape.printed_size, np.ptp(bounds_of(solids), axis=0).tolist())
    return f"{wide} by {deep} across and {tall} tall."
