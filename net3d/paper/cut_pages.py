"""The netting on paper: rows to knit, or pieces to cut."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from net3d.chain import Design
from net3d.paper.pages import Block, Cautions, Drawing, Heading, Listing, Notes, Page, PaperColumn, listing
from net3d.tables.cuts import cuts_sheet
from net3d.tables.nesting import nesting_sheets
from net3d.tables.sheet import Cell, Sheet

KNITTING = (
    PaperColumn("done", tick=True),
    PaperColumn("rows", strong=True),
    PaperColumn("knots\nin a row", strong=True),
    PaperColumn("loops taken together", "left", 2.2, strong=True),
    PaperColumn("extra loop\non knot", "left", 0.4),
    PaperColumn("knot 1\ntakes loop", "left", 0.7),
    PaperColumn("then", "left", 0.8),
)
EXTRA = 4  # number of the column that most nets leave empty
PIECE_SIZES = [
    "piece",
    "pieces",
    "across_first",
    "across_last",
    "meshes_deep",
    "first_edge_knots",
    "stretched_width",
    "stretched_length",
]


def cut_pages(design: Design, drawings: Mapping[str, str]) -> tuple[Page, ...]:
    """One part of the net after the other; the notes that explain them on the first page."""
    sheet = cuts_sheet(design.spec, design.plan)
    ending: tuple[Block, ...] = (Cautions(sheet.cautions), Notes(sheet.remarks))
    if design.spec.netting.made == "sheet":
        return (
            Page("Pieces to cut", (*_pieces(sheet), *ending)),
            *_nesting_pages(design),
            *_patterns(design, drawings),
        )
    titles = {throat.part.name: throat.part.title for throat in design.plan.throats}
    first, *others = [Page(f"Knitting: {name}", (rows,)) for name, rows in _knitted(sheet, titles)]
    return (replace(first, blocks=(*first.blocks, *ending)), *others, *_patterns(design, drawings))


def _knitted(sheet: Sheet, titles: Mapping[str, str]) -> list[tuple[str, Listing]]:
    """Rows of every part, under its title."""
    rows = sheet.records
    hung = any(row["extra_loop_knots"] for row in rows)
    shown = [place for place in range(len(KNITTING)) if place != EXTRA or hung]
    columns = tuple(KNITTING[place] for place in shown)
    parts = dict.fromkeys(str(row["part"]) for row in rows)
    lines = {part: [_line(row) for row in rows if row["part"] == part] for part in parts}
    return [
        (
            titles.get(part, part),
            Listing(columns, tuple(tuple(line[place] for place in shown) for line in lines[part])),
        )
        for part in parts
    ]


def _line(row: Mapping[str, Cell]) -> tuple[str, ...]:
    first, last = row["from_row"], row["to_row"]
    rows = "cast on" if last == 0 else f"{first}" if first == last else f"{first} to {last}"
    takes = "" if last == 0 else str(row["first_loop"])
    then = f"{row['then']}; close the round" if last == 0 else str(row["then"])
    return (
        "",
        rows,
        str(row["knots_in_row"]),
        str(row["taken_together"]),
        str(row["extra_loop_knots"]),
        takes,
        then,
    )


def _pieces(sheet: Sheet) -> list[Block]:
    return [
        listing(sheet.picked(PIECE_SIZES), wide=["piece"]),
        Heading("How the side edges are cut"),
        listing(
            sheet.picked(["piece", "left_edge", "right_edge"]), wide=["left_edge", "right_edge"], strong=True
        ),
        Heading("What the first and the last edge are laced to"),
        listing(
            sheet.picked(["piece", "twine", "first_edge_to", "last_edge_to"]),
            wide=["first_edge_to", "last_edge_to"],
        ),
    ]


def _nesting_pages(design: Design) -> list[Page]:
    return [
        Page(
            "Pieces on the sheet",
            (listing(sheet, ["pieces"]), Notes(sheet.remarks)),
        )
        for sheet in nesting_sheets(design.spec, design.plan)
    ]


def _patterns(design: Design, drawings: Mapping[str, str]) -> list[Page]:
    """The throats' patterns, where they are drawn."""
    drawn = [(throat.number, drawings.get(throat.part.name)) for throat in design.plan.throats]
    return [
        Page(f"Throat {number}", (Drawing(svg, f"Pattern of throat {number}", height=8.2),))
        for number, svg in drawn
        if svg
    ]
