"""net3d sheet: the bench sheets of a net on paper, its quote, and strips of marks at full size."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, TypedDict, Unpack

import click

from net3d.chain import shaped
from net3d.commands.options import OUTPUTS, output_option, place_for, spec_argument
from net3d.commands.printing import tell
from net3d.commands.reading import told_spec

if TYPE_CHECKING:
    from net3d.paper.documents import Imprint

PRICE, COSTS = "price", "costs"


class Printed(TypedDict):
    """What is to be printed, and how."""

    paper: str | None
    day: datetime | None
    strip: int | None
    quote: str | None


@click.command()
@spec_argument
@output_option("outputs/NAME-sheet.pdf unless given; strip and quote beside it.")
@click.option(
    "--paper", type=click.Choice(["letter", "a4"]), help="Letter for inch specs unless given, A4 for others."
)
@click.option(
    "--date", "day", type=click.DateTime(["%Y-%m-%d"]), help="Date on the sheets: today unless given."
)
@click.option(
    "--strip", type=int, metavar="HOOP", help="Also the marks of this hoop at full size, to lay around it."
)
@click.option(
    "--quote",
    type=click.Choice([PRICE, COSTS]),
    is_flag=False,
    flag_value=PRICE,
    help="Also a page for the customer, with the price of [prices]; costs shows what it is made of.",
)
def sheet(path: Path, output: Path | None, **printed: Unpack[Printed]) -> None:
    """Write the bench sheets of a net as PDF.

    They go to NAME-sheet.pdf, NAME being the spec's own file name; beside it a strip to NAME-strip-HOOP.pdf
    and a quote to NAME-quote.pdf. Print them at full size, with no fitting to the page.
    """
    from net3d.paper.documents import bench_pdf, quote_pdf, strip_pdf
    from net3d.writers.file import write_file

    spec = told_spec(path)
    strip, quote = printed["strip"], printed["quote"]
    if strip is not None and not 1 <= strip <= len(spec.hoops):
        raise click.BadParameter(f"the net has hoops 1 to {len(spec.hoops)}.", param_hint="--strip")
    imprint = _imprint(spec.units, printed)
    design = shaped(spec)
    files = {"sheet": bench_pdf(design, imprint)}
    if strip is not None:
        files[f"strip-{strip}"] = strip_pdf(design, strip, imprint)
    if quote is not None:
        files["quote"] = quote_pdf(design, imprint, with_costs=quote == COSTS)
    sheets = place_for(output, f"{path.stem}-sheet.pdf", OUTPUTS)
    for name, content in files.items():
        target = sheets if name == "sheet" else sheets.with_name(f"{path.stem}-{name}.pdf")
        write_file(target, content, make_folder=True)
        tell(f"Wrote {target}")


def _imprint(units: str, printed: Printed) -> Imprint:
    from net3d.paper.documents import Imprint
    from net3d.paper.pdf import PAPERS

    usual = Imprint.usual(units)
    paper, day = printed["paper"], printed["day"]
    return Imprint(day.date() if day else usual.day, PAPERS[paper] if paper else usual.paper)
