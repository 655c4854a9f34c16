"""net3d new: a commented spec to start from."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.commands.printing import tell
from net3d.errors import OutputError


@click.command()
@click.argument("name")
def new(name: str) -> None:
    """Write NAME.toml, a commented spec to start from.

    It goes into the current folder. An existing file is never overwritten.
    """
    from net3d.spec import starter_spec
    from net3d.writers.file import write_new_file
    from net3d.writers.names import checked_name

    stem = name.removesuffix(".toml")
    if not stem or not stem[0].isalnum() or not all(letter.isalnum() or letter in " -_." for letter in stem):
        raise click.BadParameter(
            f"{name!r} is no name for a spec: use letters, digits, spaces, - and _, for example backwater-36."
        )
    path = Path(f"{checked_name(stem)}.toml")
    try:
        write_new_file(path, starter_spec(stem))
    except FileExistsError:
        raise OutputError(f"{path} is there already; it was left as it is. Choose another name.") from None
    except OSError as error:
        raise OutputError(f"{path}: cannot be written: {error.strerror or error}") from error
    typed = f'"{path}"' if " " in path.name else path  # double quotes hold in every shell
    tell(f"Wrote {path}. Edit it, then: net3d check {typed}")
