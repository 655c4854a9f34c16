"""Arguments and options that several commands have, alike in each."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

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
    """``-o DIR``, the folder outputs unless given; ``text`` says what for."""
    return click.option(
        "-o",
        "--output",
        "parent",
        metavar="DIR",
        type=click.Path(path_type=Path),
        default=Path("outputs"),
        show_default=True,
        help=text,
    )


def file_option(text: str) -> Option:
    """``-o FILE``; ``text`` says what is written, and where unless given."""
    return click.option(
        "-o", "--output", metavar="FILE", type=click.Path(path_type=Path, dir_okay=False), help=text
    )


def sides_option(text: str) -> Option:
    """``--sides N`` of the twine in 3D files; ``text`` says of what."""
    return click.option("--sides", type=click.IntRange(3, 64), default=6, show_default=True, help=text)
