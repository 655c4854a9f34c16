"""The command line: the group of all commands, and how a command ends.

Everything heavy is imported inside the commands, so that help comes at once.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import NoReturn

import click

from net3d import __version__
from net3d.commands.align import align
from net3d.commands.build import build
from net3d.commands.cfd import cfd
from net3d.commands.check import check
from net3d.commands.cuts import cuts
from net3d.commands.gauge import gauge
from net3d.commands.loads import loads
from net3d.commands.log import log
from net3d.commands.marks import marks
from net3d.commands.materials import materials
from net3d.commands.mend import mend
from net3d.commands.new import new
from net3d.commands.open import open_
from net3d.commands.picture import picture
from net3d.commands.print import print_model
from net3d.commands.propose import propose
from net3d.commands.reuse import reuse
from net3d.commands.rework import rework
from net3d.commands.schema import schema
from net3d.commands.sheet import sheet
from net3d.commands.show import show_page
from net3d.commands.streams import drop_unprinted, ready_streams, why_unprinted
from net3d.commands.sweep import sweep
from net3d.commands.twines import twines
from net3d.commands.usdz import usdz
from net3d.errors import NetError, OutputError
from net3d.writers.names import steers

LOOKED_AFTER = 100_000  # things made: looking for rings among all that is loaded costs 50 ms, and finds none
REFUSED, INTERRUPTED = 2, 130  # exit codes; a check that fails ends with 1

MOST = 200  # letters of what is said of a command: all of its first sentence
SECTIONS = {
    "Design": (new, check, build),
    "Many nets": (propose, sweep),
    "Look": (open_, show_page, picture),
    "Make": (marks, cuts, materials, sheet, twines),
    "Mend": (mend, reuse, rework, log),
    "Bowed hoops": (gauge, align),
    "River": (loads, cfd),
    "Files for other programs": (print_model, usdz, schema),
}
MOVED = {"watch": "open"}  # commands that were, and what took them over


class Sectioned(click.Group):
    """A group whose help lists its commands by what they are for."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that is asked for. Raises UsageError for none, with the one that took its place."""
        if args[0] in MOVED:
            ctx.fail(f"No such command {args[0]!r}. Did you mean {MOVED[args[0]]!r}?")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands a section after the other, what they do in one column throughout."""
        width = max(map(len, self.commands))
        for heading, commands in SECTIONS.items():
            named = [(f"{command.name:{width}}", command.get_short_help_str(MOST)) for command in commands]
            with formatter.section(heading):
                formatter.write_dl(named)


@click.group(
    cls=Sectioned,
    commands=[command for commands in SECTIONS.values() for command in commands],
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="net3d")
def net3d() -> None:
    """Work a hoop net out before the first knot is tied.

    A net is described in one small spec file (SPEC, TOML). From it net3d works out where the knots
    land on each hoop, how far apart the hoops stand, how the netting necks in between them, what
    every bar of twine carries, and what must be knit or cut. Start with "net3d new my-net".
    """


def main(arguments: Sequence[str] | None = None) -> NoReturn:
    """Run the command line and exit: 0 done, 1 a check failed, 2 refused with a reason, 130 interrupted."""
    gc.set_threshold(LOOKED_AFTER)
    ready_streams()
    try:
        code = _run(sys.argv[1:] if arguments is None else arguments)
    finally:
        drop_unprinted()
    sys.exit(code)


def _run(arguments: Sequence[str]) -> int:
    try:
        _refuse_steering(arguments)
        return int(net3d.main(args=arguments, prog_name="net3d", standalone_mode=False) or 0)
    except click.ClickException as error:
        with suppress(OSError):
            error.show()
        return error.exit_code
    except NetError as error:
        return _said(str(error), REFUSED)
    except OSError as error:
        return _said(f"What was asked for cannot be printed: {why_unprinted(error)}", REFUSED)
    except (click.Abort, KeyboardInterrupt):
        return _said("Interrupted.", INTERRUPTED)


def _said(text: str, code: int) -> int:
    with suppress(OSError):  # the exit code says enough where nobody listens
        click.echo(text, err=True)
    return code


def _refuse_steering(arguments: Sequence[str]) -> None:
    """Names of files are printed in messages, and one that was sent could steer the terminal."""
    for argument in arguments:
        if any(map(steers, argument)):
            raise OutputError(f"{argument!r} has letters in it that steer a terminal: rename the file first.")
