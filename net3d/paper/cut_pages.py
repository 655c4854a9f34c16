"""The netting on paper: rows to knit, or pieces to cut."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from net3d.chain import Design
from net3d.drawings.figure import figure_svg
from net3d.drawings.work import knitting_figures, throat_figure
from net3d.paper.pages import (
    Beside,
    Block,
    Cautions,
    Drawing,
    Facts,
    Heading,
    Listing,
    Notes,
    Page,
    PaperColumn,
    Together,
    figures,
    listing,
    listing_down,
)
from net3d.plan.plan import ThroatPlan
from net3d.tables.cuts import cuts_sheet
from net3d.tables.knitting import HUNG_ON, TOGETHER
from net3d.tables.nesting import nesting_sheets
from net3d.tables.sheet import Cell, Sheet
from net3d.tables.strings import string_sheet
from net3d.tables.throats import throat_sheet

KNITTING = (
    PaperColumn("done", tick=True),
    PaperColumn("rows", strong=True),
    PaperColumn("knots\nin a row", strong=True),
    PaperColumn("loops taken together", "left", 2.2, strong=True),
    PaperColumn("extra loop\non knot", "left", 0.4),
    PaperColumn("knot 1\ntakes loop", "left", 0.7),
    PaperColumn("then", "left", 0.8),
)
DOTS = "In the pattern a full dot takes two loops: those beside it, or the one beside it and the next."
FIGURE_HEIGHT = 1.75  # in, of how strings are tied
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
    if design.spec.netting.made == "sheet":
        ending = (Cautions(sheet.cautions), Notes(sheet.remarks), *_figured(design))
        throats = [
            Page(throat.part.title.capitalize(), _hung(design, throat, drawings))
            for throat in design.plan.throats
        ]
        return (Page("Pieces to cut", (*_pieces(sheet), *ending)), *_nesting_pages(design), *throats)
    told = Notes(tuple(note for note in sheet.remarks if note not in {TOGETHER, HUNG_ON}))
    blocks = (_knitted(sheet, "body"), told, Cautions(sheet.cautions), *_figured(design))
    throats = [
        Page(f"Knitting: {throat.part.title}", _throat(design, throat, drawings), lying=True)
        for throat in design.plan.throats
    ]
    return (Page("Knitting: body", blocks), *throats)


def _figured(design: Design) -> tuple[Block, ...]:
    shown = knitting_figures(design)
    return (figures(shown),) if shown else ()


def _throat(design: Design, throat: ThroatPlan, drawings: Mapping[str, str]) -> tuple[Block, ...]:
    """What the signs of its table mean, the table with the pattern, the strings."""
    changes = throat.piece.changes
    batings = [TOGETHER] if any(change.batings for change in changes) else []
    creasings = [HUNG_ON] if any(change.creasings for change in changes) else []
    return (Notes((" ".join((*batings, *creasings, DOTS)),)), *_hung(design, throat, drawings))


def _hung(design: Design, throat: ThroatPlan, drawings: Mapping[str, str]) -> tuple[Block, ...]:
    """A throat's pattern, where it is drawn, and its strings beside the figure of how they are tied."""
    svg = drawings.get(throat.part.name)
    pattern = (Drawing(svg, f"Pattern of throat {throat.number}", height=None),) if svg else ()
    sheet, tied = throat_sheet(design), throat_figure(throat)
    grid = replace(sheet, rows=(sheet.rows[throat.number - 1],)).grid()
    strings = Facts(tuple(zip(grid.headings[1:], grid.lines[0][1:], strict=True)), across=3)
    by_meshes = _by_meshes(string_sheet(design), throat.number)
    told = Together((Heading(tied.title), strings, Notes((tied.about, *sheet.remarks)), *by_meshes))
    return (*pattern, Beside(told, Drawing(figure_svg(tied), tied.title, FIGURE_HEIGHT)))


def _by_meshes(sheet: Sheet, throat: int) -> tuple[Block, ...]:
    """A throat's strings by what ten meshes of the net measure, side by side."""
    shown = [place for place, column in enumerate(sheet.columns) if column.number in {0, throat}]
    own = replace(
        sheet,
        columns=tuple(sheet.columns[place] for place in shown),
        rows=tuple(tuple(row[place] for place in shown) for row in sheet.rows),
    )
    return replace(listing_down(own), small=True), Notes(sheet.remarks)


def _knitted(sheet: Sheet, part: str) -> Listing:
    """Rows of a part, without the columns that it leaves empty."""
    lines = [_line(row) for row in sheet.records if row["part"] == part]
    shown = [
        place for place, column in enumerate(KNITTING) if column.tick or any(line[place] for line in lines)
    ]
    columns = tuple(KNITTING[place] for place in shown)
    return Listing(columns, tuple(tuple(line[place] for place in shown) for line in lines))


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
