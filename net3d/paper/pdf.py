"""Pages as PDF, set in type from the templates beside this file."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from importlib.resources import as_file, files
from typing import TYPE_CHECKING, Literal, cast

from net3d.paper.pages import Page
from net3d.paper.quote import Quote
from net3d.paper.strip import Strip
from net3d.units import Tape

if TYPE_CHECKING:
    import typst

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

    held = {"book": json.dumps(asdict(book), ensure_ascii=False)}
    with as_file(files("net3d.paper").joinpath("templates")) as folder:
        setter = typst.Compiler(_source(book), root=folder, ignore_system_fonts=True, sys_inputs=held)
        source = _source(book, _running_over(setter)) if isinstance(book, Book) else _source(book)
        return cast("bytes", setter.compile(source, format="pdf", timestamp=0))


def _source(book: Book | QuoteBook | StripBook, over: Sequence[int] = ()) -> bytes:
    """What is set in type: a template, that of a book with its pages that run over as they are."""
    name = TEMPLATES[type(book)]
    if not isinstance(book, Book):
        return f'#include "{name}.typ"'.encode()
    return f'#import "{name}.typ": bench\n#bench(({"".join(f"{number}," for number in over)}))'.encode()


def _running_over(setter: typst.Compiler) -> list[int]:
    """Pages that take more than one sheet of paper: only these are measured at several scales."""
    places = json.loads(setter.query("<sheets>", field="value"))
    both = zip(places[::2], places[1::2], strict=True)
    return [number for (number, begins), (_, ends) in both if ends > begins]


TEMPLATES: dict[type, str] = {Book: "bench", QuoteBook: "quote", StripBook: "strip"}
