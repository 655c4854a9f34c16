"""The command line: parse, call, print, exit code.

Everything heavy is imported inside the commands, so that help comes at once.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from net3d import __version__
from net3d import design as work_out
from net3d.chain import shaped
from net3d.commands.align import align
from net3d.commands.cfd import cfd
from net3d.commands.gauge import gauge
from net3d.commands.loads import loads
from net3d.commands.options import folder_option, json_option, sides_option, spec_argument
from net3d.commands.picture import picture
from net3d.commands.print import print_model
from net3d.commands.printing import Announce, print_json, print_sheet, print_table, progress, show
from net3d.commands.sheet import sheet
from net3d.commands.show import show_page
from net3d.commands.usdz import usdz
from net3d.commands.watch import watch
from net3d.errors import NetError, OutputError
from net3d.writers.names import checked_name, steers

if TYPE_CHECKING:
    from net3d.chain import Design

FAILED, REFUSED, INTERRUPTED = 1, 2, 130
BUILD_STEPS = 9


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="net3d")
def net3d() -> None:
    """Work a hoop net out before the first knot is tied.

    A net is described in one small spec file (SPEC, TOML). From it net3d works out where the knots
    land on each hoop, how far apart the hoops stand, how the netting necks in between them, what
    every bar of twine carries, and what must be knit or cut. Start with "net3d new my-net".
    """


@net3d.command()
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
    from net3d.spec import read_spec
    from net3d.writers.folder import output_folder

    spec = read_spec(path)
    with progress(BUILD_STEPS) as announce, output_folder(parent, path.stem) as folder:
        announce("Working out the shape")
        design = shaped(spec)
        _write_all(design, folder, sides, announce)
    if as_json:
        _print_report(design)
        return
    _print_length(design)
    _print_findings(design, everything=False)
    click.echo(f"Written to {parent / path.stem}")
    _print_pointer()


@net3d.command()
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
        _print_report(design)
    else:
        from net3d.tables import standing_sheet
        from net3d.tables.throats import throat_sheet

        if design.shape.throats:
            print_sheet(throat_sheet(design))
        print_sheet(standing_sheet(design.spec, design.plan, design.shape))
        _print_findings(design, everything)
        _print_pointer()
    if any(finding.level is Level.FAIL for finding in design.findings):
        context.exit(FAILED)


@net3d.command()
@spec_argument
@json_option
def marks(path: Path, as_json: bool) -> None:
    """Print where the chalk marks go on every hoop.

    Tape readings around the outside of the hoop, from the reference mark at the top.
    """
    from net3d.plan import lay_out
    from net3d.spec import read_spec
    from net3d.tables import marks_sheet

    spec = read_spec(path)
    show(marks_sheet(spec, lay_out(spec)), as_json)


@net3d.command()
@spec_argument
@json_option
def cuts(path: Path, as_json: bool) -> None:
    """Print what netting to knit or cut, from mouth to tail."""
    from net3d.plan import lay_out
    from net3d.spec import read_spec
    from net3d.tables import cuts_sheet

    spec = read_spec(path)
    show(cuts_sheet(spec, lay_out(spec)), as_json)


@net3d.command()
@spec_argument
@json_option
def materials(path: Path, as_json: bool) -> None:
    """Print the twine, rod, rope and dip that a net takes, and cautions."""
    from net3d.plan import lay_out
    from net3d.spec import read_spec
    from net3d.tables import materials_sheet

    spec = read_spec(path)
    if not spec.throats:
        show(materials_sheet(spec, lay_out(spec)), as_json)
        return

    design = shaped(spec)  # how long a throat's strings must be follows from the shape
    show(materials_sheet(spec, design.plan, design.string_lengths), as_json)


@net3d.command()
@click.argument("name")
def new(name: str) -> None:
    """Write NAME.toml, a commented spec to start from.

    It goes into the current folder. An existing file is never overwritten.
    """
    from net3d.spec import starter_spec

    stem = name.removesuffix(".toml")
    if not stem or not stem[0].isalnum() or not all(letter.isalnum() or letter in " -_." for letter in stem):
        raise click.BadParameter(
            f"{name!r} is no name for a spec: use letters, digits, spaces, - and _, for example backwater-36."
        )
    path = Path(f"{checked_name(stem)}.toml")
    try:
        _write_new(path, starter_spec(stem))
    except FileExistsError:
        raise OutputError(f"{path} is there already; it was left as it is. Choose another name.") from None
    except OSError as error:
        raise OutputError(f"{path}: cannot be written: {error.strerror or error}") from error
    click.echo(f"Wrote {path}. Edit it, then: net3d check {path}")


@net3d.command()
def schema() -> None:
    """Print the JSON Schema of the spec, for editors."""
    from net3d.spec import spec_schema

    print_json(spec_schema())


for command in (sheet, loads, cfd, picture, print_model, usdz, align, gauge, show_page, watch):
    net3d.add_command(command)


def main(arguments: Sequence[str] | None = None) -> NoReturn:
    """Run the command line and exit: 0 done, 1 a check failed, 2 refused with a reason, 130 interrupted."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # a terminal that lacks a letter shows ? in its place
            stream.reconfigure(errors="replace")
    try:
        _refuse_steering(sys.argv[1:] if arguments is None else arguments)
        sys.exit(net3d.main(args=arguments, prog_name="net3d", standalone_mode=False))
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except NetError as error:
        click.echo(str(error), err=True)
        sys.exit(REFUSED)
    except OSError as error:
        click.echo(f"What was asked for cannot be printed: {error.strerror or error}", err=True)
        sys.exit(REFUSED)
    except (click.Abort, KeyboardInterrupt):
        click.echo("Interrupted.", err=True)
        sys.exit(INTERRUPTED)


def _refuse_steering(arguments: Sequence[str]) -> None:
    """Names of files are printed in messages, and one that was sent could steer the terminal."""
    for argument in arguments:
        if any(map(steers, argument)):
            raise OutputError(f"{argument!r} has letters in it that steer a terminal: rename the file first.")


def _write_new(path: Path, text: str) -> None:
    file = path.open("x", encoding="utf-8", newline="\n")
    try:
        with file:
            file.write(text)
    except BaseException:
        path.unlink()  # half a spec would be in the way of the next try
        raise


def _write_all(design: Design, folder: Path, sides: int, announce: Announce) -> None:
    from net3d.drawings.picture import picture_png
    from net3d.drawings.side import side_view
    from net3d.page import write_page
    from net3d.paper.documents import Imprint, bench_pdf
    from net3d.solids import solids_of
    from net3d.tables import cuts_sheet, marks_sheet, materials_sheet
    from net3d.writers.csv_tables import write_table
    from net3d.writers.glb import write_glb
    from net3d.writers.report import write_report
    from net3d.writers.stl import write_stl

    announce("Making the solids")
    solids = solids_of(design, sides)
    announce("Writing net.glb")
    write_glb(solids, folder / "net.glb")
    announce("Writing net.stl")
    write_stl(solids, folder / "net.stl")
    announce("Writing the tables")
    for table in (
        marks_sheet(design.spec, design.plan),
        cuts_sheet(design.spec, design.plan),
        materials_sheet(design.spec, design.plan, design.string_lengths),
    ):
        write_table(table, folder / f"{table.name}.csv")
    announce("Writing the sheets")
    (folder / "sheet.pdf").write_bytes(bench_pdf(design, Imprint.usual(design.spec.units)))
    announce("Drawing the net")
    picture = picture_png(design)
    (folder / "picture.png").write_bytes(picture)
    (folder / "side.svg").write_text(side_view(design), encoding="utf-8", newline="\n")
    announce("Writing the page")
    write_page(design, folder / "page.html", picture=picture)
    announce("Writing the report")
    write_report(design, folder / "report.json")


def _print_report(design: Design) -> None:
    from net3d.writers.report import report_of

    print_json(report_of(design))


def _print_findings(design: Design, everything: bool) -> None:
    from net3d.checks.checks import Level
    from net3d.commands.screen import findings_table

    odd = [finding for finding in design.findings if finding.level is not Level.OK]
    shown = design.findings if everything else odd
    if shown:
        print_table(findings_table(shown))
    click.echo(f"{len(design.findings) - len(odd)} of {len(design.findings)} checks are fine.")


def _print_length(design: Design) -> None:
    length = design.spec.tape.length(design.shape.length)
    click.echo(
        f"{design.spec.title}: {length} from the first hoop to the last. {design.shape.state.sentence}"
    )


def _print_pointer() -> None:
    from net3d.tables.cautions import POINTER

    click.echo(POINTER)
