"""net3d mend: how to mend a hole with one piece of twine."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, TypedDict, Unpack

import click

from net3d.commands.options import json_option, output_option, place_for, spec_argument
from net3d.commands.printing import print_json, print_sheet, show, tell
from net3d.commands.reading import told_spec

if TYPE_CHECKING:
    from net3d.mending.mended import Mended
    from net3d.mending.torn import Hole
    from net3d.plan.plan import Plan
    from net3d.spec.spec import NetSpec


class Asked(TypedDict):
    """What is to be mended."""

    torn: tuple[str, ...]
    throat: int | None
    lacing: int | None


@click.command()
@spec_argument
@click.option(
    "--torn",
    multiple=True,
    metavar="ROW:KNOT",
    help="Torn knots, such as 7:12 or 7:12-15, counted as net3d cuts numbers them; as often as needed. "
    "The holes of the spec unless given.",
)
@click.option("--throat", type=int, metavar="N", help="In this throat; in the body unless given.")
@click.option("--lacing", type=int, metavar="HOOP", help="Instead: what lacing this worn hoop anew takes.")
@output_option("written only when given: NAME-mend.pdf, a page a hole, or drawings as .svg.")
@json_option
def mend(path: Path, output: Path | None, as_json: bool, **asked: Unpack[Asked]) -> None:
    """Print how to trim holes and mend each with one piece of twine."""
    from net3d.mending import mended
    from net3d.plan import lay_out
    from net3d.tables.mending import mend_sheet, repair_sheet

    spec = told_spec(path)
    plan = lay_out(spec)
    if asked["lacing"] is not None:
        _lacing(spec, plan, asked["lacing"], as_json)
        return
    torn = asked["torn"]
    ways = [mended(hole) for hole in _holes(spec, plan, torn, asked["throat"])]
    sheets = [mend_sheet(spec, plan, way) for way in ways]
    compared = [repair_sheet(spec, plan, way) for way in ways]
    if as_json:
        from net3d.writers.json_tables import sheet_records

        records = [
            {**sheet_records(sheet), "repairs": sheet_records(other)["rows"]}
            for sheet, other in zip(sheets, compared, strict=True)
        ]
        print_json(records[0] if torn else records)
    else:
        for sheet, other in zip(sheets, compared, strict=True):
            print_sheet(sheet)
            print_sheet(other)
    if output is not None:
        _draw(spec, plan, ways, place_for(output, f"{path.stem}-mend.pdf"))


def _lacing(spec: NetSpec, plan: Plan, hoop: int, as_json: bool) -> None:
    from net3d.tables.mending import relacing_sheet

    if not 1 <= hoop <= len(plan.hoops):
        raise click.BadParameter(f"the net has hoops 1 to {len(plan.hoops)}.", param_hint="--lacing")
    show(relacing_sheet(spec, plan, hoop), as_json)


def _draw(spec: NetSpec, plan: Plan, ways: list[Mended], target: Path) -> None:
    """Write pages with all holes, or drawings of them, the second in a file of its own."""
    from net3d.writers.file import write_file

    if target.suffix.lower() != ".svg":
        from net3d.paper.documents import Imprint, mend_pdf

        write_file(target, mend_pdf(spec, plan, ways, Imprint.usual(spec.units)), make_folder=True)
        tell(f"Wrote {target}")
        return
    from net3d.drawings.mending import mend_drawing

    for number, way in enumerate(ways, start=1):
        file = target if number == 1 else target.with_stem(f"{target.stem}-{number}")
        title = f"{spec.title}: hole {way.hole.number}, in {way.hole.place}"
        write_file(file, mend_drawing(way, title), make_folder=True)
        tell(f"Wrote {file}")


def _holes(spec: NetSpec, plan: Plan, torn: tuple[str, ...], throat: int | None) -> tuple[Hole, ...]:
    from net3d.mending import HoleError
    from net3d.mending.torn import holes_of, typed_hole

    if torn:
        return (typed_hole(plan, torn, throat),)
    holes = tuple(hole for hole in holes_of(spec, plan) if throat in (None, hole.throat))
    if not holes:
        raise HoleError("No hole is told: give --torn 7:12-15, or write [[hole]] in the spec.")
    return holes
