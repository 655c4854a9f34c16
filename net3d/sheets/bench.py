"""The bench sheets as pages: what hangs on the shop's wall."""

from __future__ import annotations

from collections.abc import Mapping

from net3d.design import Design
from net3d.sheets.cuts import cuts_sheet
from net3d.sheets.lacing import lacing_sheet
from net3d.sheets.mark_pages import mark_pages
from net3d.sheets.materials import materials_sheet
from net3d.sheets.pages import Cautions, Drawing, Heading, Listing, Notes, Page, PaperColumn, listing
from net3d.sheets.sheets import Sheet


def bench_pages(design: Design, drawings: Mapping[str, str]) -> tuple[Page, ...]:
    """All pages in the order the work goes. ``drawings`` are SVG texts by name, those that there are."""
    return (
        *mark_pages(design, drawings),
        _cut_page(design),
        _lacing_page(design),
        _materials_page(design),
    )


def _cut_page(design: Design) -> Page:
    sheet = cuts_sheet(design.spec, design.plan)
    if design.spec.netting.made == "sheet":
        return Page("Pieces to cut", (*_panels(sheet), Notes(sheet.notes[:-1]), Cautions(sheet.notes[-1:])))
    return Page("Knitting, row by row", (*_rows(sheet), Notes(sheet.notes[:-1]), Cautions(sheet.notes[-1:])))


def _rows(sheet: Sheet) -> list[Heading | Listing]:
    names = {column.heading: place for place, column in enumerate(sheet.columns)}
    columns = (
        PaperColumn("done", tick=True),
        PaperColumn("rows", strong=True),
        PaperColumn("knots in each", strong=True),
        PaperColumn("loops taken together", "left", 1.4),
        PaperColumn("extra loop on knot", "left", 0.5),
        PaperColumn("knot 1 takes loop", "left", 0.6),
        PaperColumn("then", "left", 0.8),
    )
    blocks: list[Heading | Listing] = []
    for part in dict.fromkeys(str(row[0]) for row in sheet.rows):
        rows = []
        for row in sheet.rows:
            if row[0] != part:
                continue
            first, last = row[names["from row"]], row[names["to row"]]
            span = "cast on" if last == 0 else f"{first}" if first == last else f"{first} to {last}"
            rows.append(
                (
                    "",
                    span,
                    str(row[names["knots in a row"]]),
                    str(row[names["taken together"]]),
                    str(row[names["extra loop on knot"]]),
                    str(row[names["knot 1 takes loop"]]),
                    str(row[names["then"]]),
                )
            )
        blocks += [Heading(part), Listing(columns, tuple(rows))]
    return blocks


def _panels(sheet: Sheet) -> list[Heading | Listing]:
    return [
        listing(
            sheet,
            [
                "piece",
                "pieces",
                "meshes across at first edge",
                "meshes across at last edge",
                "meshes deep",
                "left edge",
                "right edge",
                "stretched width",
                "stretched length",
                "first edge to",
                "last edge to",
            ],
            wide=["left edge", "right edge"],
        )
    ]


def _lacing_page(design: Design) -> Page:
    sheet = lacing_sheet(design.spec, design.plan)
    table = listing(sheet, [column.heading for column in sheet.columns], wide=["takes"])
    return Page("Lacing the hoops", (table, Notes(sheet.notes[:-2]), Cautions(sheet.notes[-2:])))


def _materials_page(design: Design) -> Page:
    lengths = [throat.string_length for throat in design.shape.throats]
    sheet = materials_sheet(design.spec, design.plan, lengths)
    table = listing(sheet, [column.heading for column in sheet.columns], wide=["item", "what"])
    return Page("Materials", (table, Notes(sheet.notes[:3]), Cautions(sheet.notes[3:])))
