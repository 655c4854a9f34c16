"""The bench sheets as pages: what hangs on the shop's wall."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from net3d.chain import Design
from net3d.checks import told_once
from net3d.checks.checks import Level
from net3d.drawings.drag_plot import drag_plot
from net3d.drawings.from_above import from_above
from net3d.drawings.kept_plot import kept_plot
from net3d.drawings.work import lacing_figures
from net3d.mending import HoleError, mended
from net3d.mending.torn import holes_of
from net3d.paper.cut_pages import cut_pages
from net3d.paper.ink import in_ink
from net3d.paper.mark_pages import mark_pages
from net3d.paper.mend_pages import mend_pages
from net3d.paper.pages import (
    REST,
    Blanks,
    Block,
    Cautions,
    Drawing,
    Facts,
    Heading,
    Notes,
    Page,
    Steps,
    figures,
    listing,
    listing_down,
)
from net3d.tables.bearing import anchors_sheet
from net3d.tables.cautions import DIP
from net3d.tables.costs import hours_sheet, price_facts, price_of, shopping_sheet
from net3d.tables.guides import guides_sheet, standing_guides_sheet
from net3d.tables.kept import kept_of, kept_sheet
from net3d.tables.lacing import lacing_sheet
from net3d.tables.loads import loads_sheet
from net3d.tables.materials import materials_sheet
from net3d.tables.sheet import Sheet
from net3d.tables.sizes import size_facts
from net3d.tables.steps import steps

FIELDS = ("net number", "twine lot", "date made", "maker", "customer", "licence or tag")
MOST_STEPS = 24  # on a sheet of paper, a little smaller where they must be
NO_PRICE = "No price is reckoned: [prices] has none for an hour, or for something on the list."


def bench_pages(design: Design, drawings: Mapping[str, str]) -> tuple[Page, ...]:
    """All pages in the order the work goes. ``drawings`` are SVG texts by name, those that there are."""
    return (
        _first_page(design, drawings),
        *_order_pages(design),
        *mark_pages(design, drawings),
        *cut_pages(design, drawings),
        _lacing_page(design),
        *(_guides_pages(design) if design.plan.guides else []),
        *_fish_page(design),
        *([_river_page(design)] if design.loads else []),
        _supplies_page(design),
        *_mends(design),
    )


def _mends(design: Design) -> list[Page]:
    """A page a hole, or why it cannot be mended with one piece of twine."""
    pages: list[Page] = []
    for hole in holes_of(design.spec, design.plan):
        try:
            pages += mend_pages(design.spec, design.plan, mended(hole))
        except HoleError as error:
            pages.append(Page(f"Mending hole {hole.number}, in {hole.place}", (Notes((str(error),)),)))
    return pages


def _order_pages(design: Design) -> list[Page]:
    """The steps, on as few sheets of paper as hold them, about as many on each."""
    told = [(step.work, step.numbers, step.caution) for step in steps(design)]
    sheets = -(-len(told) // MOST_STEPS)
    ends = [len(told) * number // sheets for number in range(sheets + 1)]
    return [
        Page(
            "Order of work" if not start else "Order of work, continued",
            (Steps(tuple(told[start:end]), start + 1),),
        )
        for start, end in pairwise(ends)
    ]


def _first_page(design: Design, drawings: Mapping[str, str]) -> Page:
    side = drawings.get("side")
    picture = [Drawing(side, "The net from the side", height=None)] if side else []
    odd = [finding for finding in told_once(design.findings) if finding.level is not Level.OK]
    found = tuple(f"{finding.level.value}: {finding.where}. {finding.message}" for finding in odd)
    findings: tuple[Block, ...] = (Notes((f"All {len(design.findings)} checks are fine.",)),)
    if found:
        findings = (Heading(f"{len(found)} of {len(design.findings)} checks are not fine"), Notes(found))
    return Page(design.spec.title, (*picture, Facts(size_facts(design)), *findings, Blanks(FIELDS)))


def _whole(sheet: Sheet, wide: list[str]) -> tuple[Block, ...]:
    """A sheet's table and its notes, cautions in a frame."""
    framed = [Cautions(sheet.cautions)] if sheet.cautions else []
    return (listing(sheet, wide), Notes(sheet.remarks), *framed)


def _lacing_page(design: Design) -> Page:
    sheet = lacing_sheet(design.spec, design.plan)
    return Page("Lacing the hoops", (*_whole(sheet, ["takes"]), figures(lacing_figures(design))))


def _guides_pages(design: Design) -> list[Page]:
    """What they are made of and how they stand; where they are set."""
    sheet = guides_sheet(design.spec, design.plan)
    stood = standing_guides_sheet(design)
    standing = (Heading("How they stand"), listing(stood, [], small=True), Notes(stood.remarks))
    set_out = Drawing(in_ink(from_above(design)), "Where wings and leader are set, from above", height=None)
    told = (Heading("How they are made"), Notes(sheet.remarks), Cautions(sheet.cautions))
    return [
        Page("Wings and leader", (listing_down(sheet),)),
        Page("Setting wings and leader", (set_out, *standing, *told)),
    ]


def _fish_page(design: Design) -> list[Page]:
    """What the mesh keeps, where the spec names fish."""
    fish, kept = design.spec.fish, kept_of(design)
    if fish is None or not kept:
        return []
    plot = kept_plot(f"{design.spec.title}: what the mesh keeps", design.spec.tape, fish, kept)
    sheet = kept_sheet(design, kept)
    blocks = (*_whole(sheet, ["opening"]), Drawing(in_ink(plot), "What the mesh keeps", height=REST))
    return [Page("What the mesh keeps", blocks)]


def _river_page(design: Design) -> Page:
    """What the river pulls in the currents that the spec names; a curve from two currents on."""
    plot = drag_plot(f"{design.spec.title}: drag", design.spec.tape, design.loads)
    curve = [Drawing(in_ink(plot), "Drag against current", height=2.6)] if len(design.loads) > 1 else []
    sheet = loads_sheet(design, design.loads)
    notes = Cautions((*sheet.remarks, *sheet.cautions))
    anchors = anchors_sheet(design, design.loads)
    return Page(
        "What the river pulls",
        (listing_down(sheet), listing(anchors, ["anchor"]), notes, *curve),
    )


def _supplies_page(design: Design) -> Page:
    lengths = design.string_lengths
    needed = materials_sheet(design.spec, design.plan, lengths)
    bought = shopping_sheet(design.spec, design.plan, lengths)
    hours = hours_sheet(design.spec, design.plan)
    return Page(
        "Materials, hours and price",
        (
            listing(needed, ["item", "what"], small=True),
            Notes(needed.remarks),
            Heading("Shopping list"),
            listing(bought, ["item", "what"], small=True),
            Notes(bought.remarks),
            Heading("Hours"),
            listing(hours, ["work"], small=True),
            Notes(hours.remarks),
            *_price(design),
            Cautions((DIP,)) if design.spec.stock.dipped else Notes(()),
        ),
    )


def _price(design: Design) -> tuple[Block, ...]:
    """The reckoning, where the spec has prices to reckon with."""
    reckoned = price_of(design.spec, design.plan, design.string_lengths)
    if reckoned.price is None:
        return (Notes((NO_PRICE,)),)
    return Heading("Price"), Facts(price_facts(design.spec, reckoned))
