"""net3d cfd: the net's surfaces for a drag study."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.chain import shaped
from net3d.commands.options import OUTPUTS, output_option, place_for, sides_option, spec_argument
from net3d.commands.printing import progress, tell
from net3d.commands.reading import told_spec


@click.command()
@spec_argument
@output_option("outputs/NAME-cfd.stl unless given.")
@sides_option("Flat sides of the twine: more is rounder and makes a larger file.")
def cfd(path: Path, output: Path | None, sides: int) -> None:
    """Write the net's surfaces in metres for a drag study: one named solid a part.

    They go to NAME-cfd.stl (text STL), with NAME-cfd.txt beside it that says what they are.
    """
    from net3d.solids import solids_of
    from net3d.writers.file import output_file, write_file
    from net3d.writers.named_stl import explanation, write_named_stl

    spec = told_spec(path)
    surfaces = place_for(output, f"{path.stem}-cfd.stl", OUTPUTS)
    text = surfaces.with_suffix(".txt")
    with progress(2) as announce:
        announce("Working out the shape")
        solids = solids_of(shaped(spec), sides, whole=True)
        announce("Writing the surfaces")
        with output_file(surfaces, make_folder=True) as draft:
            write_named_stl(solids, draft)
        write_file(text, explanation(spec.title, solids))
    tell(f"Wrote {surfaces}")
    tell(f"Wrote {text}")
