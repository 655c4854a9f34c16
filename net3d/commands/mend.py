"""net3d mend: how to mend a hole with one piece of twine."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.commands.options import json_option, output_option, place_for, spec_argument
from net3d.commands.printing import show, tell


@click.command()
@spec_argument
@click.option(
    "--torn",
    multiple=True,
    required=True,
    metavar="ROW:KNOT",
    help="Torn knots, such as 7:12 or 7:12-15, counted as net3d cuts numbers them; as often as needed.",
)
@click.option("--throat", type=int, metavar="N", help="In this throat; in the body unless given.")
@output_option("the hole is drawn only when it is given, as NAME-mend.svg.")
@json_option
def mend(path: Path, torn: tuple[str, ...], throat: int | None, output: Path | None, as_json: bool) -> None:
    """Print how to trim a hole and mend it with one piece of twine."""
    from net3d.mending import mend as mended
    from net3d.mending import trim
    from net3d.mending.torn import part_lattice, torn_bars
    from net3d.plan import lay_out
    from net3d.spec import read_spec
    from net3d.tables.mending import mend_sheet

    spec = read_spec(path)
    plan = lay_out(spec)
    lattice = part_lattice(plan, throat)
    made = mended(lattice, trim(lattice, torn_bars(lattice, torn)))
    sheet = mend_sheet(spec, plan, (lattice, made), throat)
    show(sheet, as_json)
    if output is not None:
        from net3d.drawings.mending import mend_drawing
        from net3d.writers.file import write_file

        target = place_for(output, f"{path.stem}-mend.svg")
        write_file(target, mend_drawing(lattice, made, sheet.title), make_folder=True)
        tell(f"Wrote {target}")
