"""net3d picture: a net as it hangs, to send to a customer."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.chain import shaped
from net3d.commands.options import output_option, place_for, spec_argument
from net3d.commands.printing import progress, tell
from net3d.commands.reading import told_spec

LEAST, MOST = 100, 4000  # pixels


def pixel_size(context: click.Context, option: click.Parameter, text: str) -> tuple[int, int]:
    """Width and height from a text such as 1600x1000 [pixels]."""
    parts = text.lower().split("x")
    if len(parts) != 2 or not all(part.isdecimal() and LEAST <= int(part) <= MOST for part in parts):
        raise click.BadParameter(
            f"{text!r} is no size: write width x height, each {LEAST} to {MOST}, such as 1600x1000."
        )
    return int(parts[0]), int(parts[1])


@click.command()
@spec_argument
@click.option(
    "--view",
    type=click.Choice(["quarter", "side", "mouth", "cutaway"]),
    default="quarter",
    show_default=True,
    help="Where to look from. cutaway leaves out the near side of the body, to show the throats.",
)
@click.option(
    "--size",
    callback=pixel_size,
    metavar="WxH",
    default="1600x1000",
    show_default=True,
    help="Size in pixels.",
)
@click.option("--still", is_flag=True, help="In still water, not as it works in its current.")
@output_option("NAME-VIEW.png in the current folder unless given.")
def picture(path: Path, view: str, size: tuple[int, int], still: bool, output: Path | None) -> None:
    """Draw a net in perspective as PNG, as it works: with throats in a current, which is told below it."""
    from net3d.drawings.picture import picture_png
    from net3d.writers.file import write_file

    spec = told_spec(path)
    target = place_for(output, f"{path.stem}-{view}.png")
    with progress(2) as announce:
        announce("Working out the shape")
        design = shaped(spec)
        drawn = design if still else design.at_work
        announce("Drawing the picture")
        write_file(target, picture_png(drawn, view, size), make_folder=True)
    tell(f"Wrote {target}")
