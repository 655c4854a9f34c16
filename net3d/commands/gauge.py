"""net3d gauge: how to measure hoops that are not flat or not round, and a blank form."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.commands.options import output_option, place_for
from net3d.commands.printing import tell

FOOTER = "net3d: gauge"


@click.command()
@click.option(
    "--stations",
    type=click.IntRange(4, 48),
    default=8,
    show_default=True,
    help="Equally spaced places around each hoop where it is measured; an even number.",
)
@click.option(
    "--hoops", type=click.IntRange(1, 40), default=7, show_default=True, help="How many hoops to measure."
)
@click.option("--paper", type=click.Choice(["letter", "a4"]), default="letter", show_default=True)
@output_option("gauge.pdf in the current folder unless given.")
def gauge(stations: int, hoops: int, paper: str, output: Path | None) -> None:
    """Say how to measure bowed hoops, and write a blank form to fill in (PDF).

    What is measured goes into [[hoop]] as gaps and across; net3d align then finds how to turn the hoops.
    """
    import textwrap

    from net3d.paper.gauge import gauge_pages, gauge_text
    from net3d.paper.pdf import PAPERS, Book, book_pdf
    from net3d.writers.file import write_file

    if stations % 2:
        raise click.BadParameter(
            "every station needs one opposite: use an even number.", param_hint="--stations"
        )
    book = Book("Hoops as they are", "", FOOTER, PAPERS[paper], gauge_pages(hoops, stations))
    path = place_for(output, "gauge.pdf")
    write_file(path, book_pdf(book), make_folder=True)
    for line in gauge_text().splitlines():
        click.echo(textwrap.fill(line, 100, subsequent_indent="   "))
    tell(f"Wrote {path}")
