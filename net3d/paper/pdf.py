"""Pages as PDF, set in type from the templates beside this file."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from importlib.resources import as_file, files
from typing import Literal

from net3d.paper.pages import Page
from net3d.paper.quote import Quote
from net3d.paper.strip import Strip
from net3d.units import Tape

Paper = Literal["us-letter", "a4"]
PAPERS: dict[str, Paper] = {"letter": "us-letter", "a4": "a4"}


@dataclass(frozen=True)
class Book:
    """What is printed on every page, and the pages."""

    title: str
    date: str
    footer: str
    paper: Paper
    pages: tuple[Page, ...]


@dataclass(frozen=True)
class QuoteBook:
    """What is printed on a quote."""

    footer: str
    paper: Paper
    picture: str  # SVG; empty for none
    quote: Quote


@dataclass(frozen=True)
class StripBook:
    """What is printed on a strip's sheets of paper."""

    title: str
    footer: str
    paper: Paper
    strips: tuple[Strip, ...]


def usual_paper(units: str) -> Paper:
    """The paper of a shop that measures in these units.

    >>> usual_paper("in"), usual_paper("mm")
    ('us-letter', 'a4')
    """
    return "us-letter" if Tape(units).in_inches else "a4"


def book_pdf(book: Book | QuoteBook | StripBook) -> bytes:
    """A book as the bytes of a PDF; the same book gives the same bytes."""
    import typst  # noqa: PLC0415 - takes a while to load, and only paper needs it

    with as_file(files("net3d.paper").joinpath("templates")) as folder:
        return typst.compile(
            folder / f"{TEMPLATES[type(book)]}.typ",
            root=folder,
            ignore_system_fonts=True,
            format="pdf",
            sys_inputs={"book": json.dumps(asdict(book), ensure_ascii=False)},
            timestamp=0,
        )


TEMPLATES: dict[type, str] = {Book: "bench", QuoteBook: "quote", StripBook: "strip"}
