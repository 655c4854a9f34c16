"""net3d build: every file of a net, in a folder of its own."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import click

from net3d.chain import shaped
from net3d.commands.options import folder_option, json_option, sides_option, spec_argument
from net3d.commands.printing import print_findings, print_json, progress, tell, told_currents
from net3d.commands.reading import told_spec
from net3d.writers.build_files import BUILD_FILES

if TYPE_CHECKING:
    from net3d.chain import Design


class ToldByFile(click.Command):
    """A command whose help ends with the files that it writes."""

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Name every file and say what it is."""
        with formatter.section("Files"):
            formatter.write_dl([(file.name, file.about) for file in BUILD_FILES])


@click.command(cls=ToldByFile)
@spec_argument
@folder_option("Folder to put the net's own folder in.")
@sides_option("Flat sides of the twine in the 3D files: more is rounder and makes larger files.")
@json_option
def build(path: Path, parent: Path, sides: int, as_json: bool) -> None:
    """Write the 3D model, the tables and the report of a net.

    They go to DIR/NAME/, NAME being the spec's own file name. What the checks find is printed, and
    the net is written all the same, unless it does not come to rest. An earlier build of the same net
    is replaced only when the new one is complete.
    """
    from net3d.water.river import currents_of
    from net3d.writers.build_files import Making, write_build
    from net3d.writers.folder import output_folder

    spec = told_spec(path)
    currents = len(currents_of(spec))
    steps = 1 + currents + len(BUILD_FILES)
    with progress(steps) as announce, output_folder(parent, path.stem) as folder:
        announce("Working out the shape")
        design = shaped(spec, told_currents(announce, spec.tape, currents))
        write_build(Making(design, sides), folder, announce)
    if as_json:
        from net3d.writers.report import report_of

        print_json(report_of(design))
    else:
        _tell_all(design, parent / path.stem)


def _tell_all(design: Design, folder: Path) -> None:
    from net3d.tables.cautions import POINTER

    tape, shape = design.spec.tape, design.shape
    sure = tape.either_way(shape.length_follows.either_way(design.spec.tolerances))
    length = f"{tape.length(shape.length)} from the first hoop to the last, {sure} either way"
    tell(f"{design.spec.title}: {length}. {shape.state.sentence}")
    with suppress(OSError):  # the report and the page have them
        print_findings(design.findings)
    tell(f"Written to {folder}")
    tell(POINTER)
