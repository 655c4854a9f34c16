"""net3d usdz: a net at true size for a phone's own viewer."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.chain import shaped
from net3d.commands.options import output_option, place_for, spec_argument
from net3d.commands.printing import progress, tell
from net3d.commands.reading import told_spec


@click.command()
@spec_argument
@output_option("NAME.usdz in the current folder unless given.")
def usdz(path: Path, output: Path | None) -> None:
    """Write a net at true size as USDZ, to stand in a room in a phone's own viewer.

    Needs usd-core: pip install 'net3d[usdz]'.
    """
    from net3d.solids import solids_of
    from net3d.writers.about import about_parts
    from net3d.writers.file import output_file
    from net3d.writers.usdz import write_usdz

    spec = told_spec(path)
    target = place_for(output, f"{path.stem}.usdz")
    with progress(2) as announce:
        announce("Working out the shape")
        design = shaped(spec)
        announce("Writing the file")
        with output_file(target, make_folder=True) as draft:
            write_usdz(solids_of(design), draft, about_parts(design))
    tell(f"Wrote {target}")
