"""A design's bench sheets, quote and strips as PDF, with their drawings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from net3d.chain import Design
from net3d.drawings.hoop import hoop_view
from net3d.drawings.picture import picture_svg
from net3d.drawings.side import Room, side_view
from net3d.drawings.throat import throat_pattern
from net3d.mending.mended import Mended
from net3d.paper.bench import bench_pages
from net3d.paper.ink import in_ink
from net3d.paper.mend_pages import mend_pages
from net3d.paper.nested_hoops import nested_hoops
from net3d.paper.pdf import Book, Paper, QuoteBook, StripBook, book_pdf, usual_paper
from net3d.paper.quote import quote_of
from net3d.paper.strip import strips
from net3d.parts import Part
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.version import __version__

QUOTE_PICTURE = (1400, 700)  # pixels
SIDE = Room(174.0, 157.0, named=False)  # what A4 is wide and Letter high for, the main sizes below it


@dataclass(frozen=True)
class Imprint:
    """What is printed on every sheet besides the net: the day, and on which paper."""

    day: date
    paper: Paper

    @classmethod
    def usual(cls, units: str) -> Imprint:
        """Today's, on the paper of a shop that measures in these units."""
        return cls(date.today(), usual_paper(units))


def bench_pdf(design: Design, imprint: Imprint) -> bytes:
    """The bench sheets of a design."""
    pages = bench_pages(design, drawings_of(design))
    return book_pdf(Book(design.spec.title, imprint.day.isoformat(), _footer(), imprint.paper, pages))


def mend_pdf(spec: NetSpec, plan: Plan, holes: Sequence[Mended], imprint: Imprint) -> bytes:
    """How holes of a net are mended, a page each."""
    pages = tuple(page for hole in holes for page in mend_pages(spec, plan, hole))
    return book_pdf(Book(spec.title, imprint.day.isoformat(), _footer(), imprint.paper, pages))


def quote_pdf(design: Design, imprint: Imprint, with_costs: bool = False) -> bytes:
    """The customer's page. Raises PriceError where no price can be reckoned."""
    quote = quote_of(design, imprint.day, with_costs)
    picture = picture_svg(design.at_work, "cutaway" if design.plan.throats else "quarter", QUOTE_PICTURE)
    return book_pdf(QuoteBook(_footer(), imprint.paper, picture, quote))


def strip_pdf(design: Design, hoop: int, imprint: Imprint) -> bytes:
    """The marks of a hoop at full size. Raises IndexError for a hoop that the net does not have."""
    shown = strips(design.spec, design.plan, hoop, imprint.paper)
    return book_pdf(StripBook(f"{design.spec.title}: hoop {hoop}", _footer(), imprint.paper, shown))


def drawings_of(design: Design) -> dict[str, str]:
    """The drawings that the sheets show, as SVG by name, in ink and greys."""
    hoops = {Part.hoop(hoop.number).name: hoop_view(design, hoop.number) for hoop in design.plan.hoops}
    throats = {throat.part.name: throat_pattern(design, throat.number) for throat in design.plan.throats}
    drawn = {"side": side_view(design, SIDE), "nested-hoops": nested_hoops(design), **hoops, **throats}
    return {name: in_ink(svg) for name, svg in drawn.items()}


def _footer() -> str:
    return f"net3d {__version__}"
