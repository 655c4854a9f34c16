"""Pages as PDF, set in type from the templates beside this file."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from importlib.resources import as_file, files
from pathlib import Path
from typing import Literal

from net3d.sheets.pages import Page

Paper = Literal["us-letter", "a4"]


@dataclass(frozen=True)
class Book:
    """What is printed on every page, and the pages."""

    title: str
    date: str
    footer: str
    paper: Paper
    pages: tuple[Page, ...]


def usual_paper(units: str) -> Paper:
    """The paper of a shop that measures in these units.

    >>> usual_paper("in"), usual_paper("mm")
    ('us-letter', 'a4')
    """
    return "us-letter" if units in ("in", "ft") else "a4"


def write_book(book: Book, path: Path, template: str = "bench") -> None:
    """Write the pages as PDF; the same pages give the same file."""
    path.write_bytes(book_pdf(book, template))


def book_pdf(book: Book, template: str = "bench") -> bytes:
    """The pages as the bytes of a PDF."""
    return _compiled(book, template, "pdf")[0]


def book_pictures(book: Book, template: str = "bench", dots_per_inch: float = 100.0) -> Sequence[bytes]:
    """The pages as PNG pictures, one each."""
    return _compiled(book, template, "png", dots_per_inch)


def _compiled(book: Book, template: str, kind: Literal["pdf", "png"], ppi: float = 144.0) -> list[bytes]:
    import typst  # noqa: PLC0415 - half of the writers' loading time, and only paper needs it

    with as_file(files("net3d.writers").joinpath("templates")) as folder:
        made = typst.compile(
            folder / f"{template}.typ",
            root=folder,
            ignore_system_fonts=True,
            format=kind,
            ppi=ppi,
            sys_inputs={"book": json.dumps(asdict(book), ensure_ascii=False)},
            timestamp=0,
        )
    return made if isinstance(made, list) else [made]
