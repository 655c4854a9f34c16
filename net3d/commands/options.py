"""Arguments and options that several commands have, alike in each."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

OUTPUTS = Path("outputs")
Option = Callable[[Any], Any]  # what click makes of a command with one option more


class SpecFile(click.Path):
    """The path of a spec; ``.toml`` may be left out."""

    def convert(
        self, value: str | os.PathLike[str], param: click.Parameter | None, ctx: click.Context | None
    ) -> Path:
        """The path as it was given, or with .toml behind it where only that is there."""
        path = Path(os.fsdecode(super().convert(value, param, ctx)))
        longer = path.with_name(f"{path.name}.toml") if path.name else path
        return longer if _is_file(longer) and not _is_file(path) else path


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):  # a name that no file can have is told when it is read
        return False


spec_argument: Option = click.argument("path", metavar="SPEC", type=SpecFile(path_type=Path))
json_option: Option = click.option(
    "--json", "as_json", is_flag=True, help="Print JSON (in SI units) instead of tables."
)


def folder_option(text: str) -> Option:
    """``-o DIR`` of what is a folder itself, outputs unless given; ``text`` says what for."""
    return click.option(
        "-o",
        "--output",
        "parent",
        metavar="DIR",
        type=click.Path(path_type=Path),
        default=OUTPUTS,
        show_default=True,
        help=text,
    )


def output_option(text: str) -> Option:
    """``-o PATH``: a file where its name has a suffix, else a folder; ``text`` says where to unless given."""
    return click.option(
        "-o",
        "--output",
        metavar="PATH",
        type=click.Path(path_type=Path),
        help=f"File to write, or folder where the name has no suffix: {text}",
    )


def place_for(output: Path | None, name: str, folder: Path = Path()) -> Path:
    """Where a file of a name goes: to ``-o`` itself or into it, else into a folder.

    >>> place_for(Path("net.png"), "a.png").as_posix(), place_for(Path("pictures"), "a.png").as_posix()
    ('net.png', 'pictures/a.png')
    """
    if output is None:
        return folder / name
    return output if output.suffix and not output.is_dir() else output / name


def sides_option(text: str) -> Option:
    """``--sides N`` of the twine in 3D files; ``text`` says of what."""
    return click.option("--sides", type=click.IntRange(3, 64), default=6, show_default=True, help=text)


def port_option(port: int) -> Option:
    """``--port`` of a command that serves a page; ``port`` unless given."""
    return click.option(
        "--port",
        type=click.IntRange(0, 65535),
        default=port,
        show_default=True,
        help="Port to serve on; 0 or one that is taken: any that is free.",
    )


browser_option: Option = click.option(
    "--no-browser", is_flag=True, help="Print the page's address, and open nothing."
)
