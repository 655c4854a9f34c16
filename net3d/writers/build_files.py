"""What a build holds: every file with what it is and how it is written, in one list for all who ask.

A build is written from it and counts its steps by it, a folder is known by it as an earlier build, and
``net3d build --help`` and the README tell what it says. Heavy imports wait until a file is written.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from net3d.writers.text import write_text

if TYPE_CHECKING:
    from PIL.Image import Image

    from net3d.chain import Design
    from net3d.solids.solids import Solid
    from net3d.tables.sheet import Sheet

Announce = Callable[[str], None]


@dataclass(frozen=True, eq=False)
class Making:
    """What the files of one build are made of; what more than one of them needs is made once."""

    design: Design
    sides: int  # flat sides of the twine in the 3D files

    @cached_property
    def solids(self) -> tuple[Solid, ...]:
        """The net as closed surfaces."""
        from net3d.solids import solids_of

        return solids_of(self.design, self.sides)

    @cached_property
    def picture(self) -> Image:
        """The net in perspective as it works."""
        from net3d.drawings.picture import picture_of

        return picture_of(self.design.at_work)


@dataclass(frozen=True)
class BuildFile:
    """A file of a build: its name, what it is, and how it is written."""

    name: str
    about: str
    write: Callable[[Making, Path], None]


def write_build(making: Making, folder: Path, announce: Announce) -> None:
    """Write every file of a build into a folder, each announced. Raises OSError if one cannot be written."""
    for file in BUILD_FILES:
        announce(f"Writing {file.name}")
        file.write(making, folder / file.name)


def _glb(making: Making, path: Path) -> None:
    from net3d.writers.about import about_parts
    from net3d.writers.glb import write_glb

    write_glb(making.solids, path, about_parts(making.design))


def _stl(making: Making, path: Path) -> None:
    from net3d.writers.stl import write_stl

    write_stl(making.solids, path)


def _marks(making: Making, path: Path) -> None:
    from net3d.tables.marks import marks_sheet

    _table(marks_sheet(making.design.spec, making.design.plan), path)


def _cuts(making: Making, path: Path) -> None:
    from net3d.tables.cuts import cuts_sheet

    _table(cuts_sheet(making.design.spec, making.design.plan), path)


def _materials(making: Making, path: Path) -> None:
    from net3d.tables.materials import materials_sheet

    design = making.design
    _table(materials_sheet(design.spec, design.plan, design.string_lengths), path)


def _table(sheet: Sheet, path: Path) -> None:
    from net3d.writers.csv_tables import write_table

    write_table(sheet, path)


def _sheets(making: Making, path: Path) -> None:
    from net3d.paper.documents import Imprint, bench_pdf

    path.write_bytes(bench_pdf(making.design, Imprint.usual(making.design.spec.units)))


def _page(making: Making, path: Path) -> None:
    from datetime import date

    from net3d.page import page_html

    write_text(path, page_html(making.design, date.today(), picture=making.picture))


def _picture(making: Making, path: Path) -> None:
    from net3d.drawings.picture import png_of

    path.write_bytes(png_of(making.picture))


def _side(making: Making, path: Path) -> None:
    from net3d.drawings.side import side_view

    write_text(path, side_view(making.design))


def _report(making: Making, path: Path) -> None:
    from net3d.writers.report import report_text

    write_text(path, report_text(making.design))


BUILD_FILES = (
    BuildFile(
        "net.glb",
        "3D model, glTF 2.0, in metres, one named node a part with its sizes; of a long anchor line a stub",
        _glb,
    ),
    BuildFile(
        "net.stl",
        "the same as closed surfaces, in millimetres. Twines and knots overlap; slicers join them",
        _stl,
    ),
    BuildFile("marks.csv", "tape readings of the marks, a row for each hoop", _marks),
    BuildFile(
        "cuts.csv", "the netting to knit row by row, or the pieces to cut with how each edge runs", _cuts
    ),
    BuildFile("materials.csv", "twine, rod, rope, strings and dip", _materials),
    BuildFile(
        "sheet.pdf",
        "the bench sheets: order of work, a page a hoop, knitting or cutting, lacing, materials, hours",
        _sheets,
    ),
    BuildFile(
        "page.html",
        "the net in 3D to turn and cut open, with sizes, findings and cautions; the shop's tables folded "
        "below, and the work at the bench, one step at a time as large as a phone's screen; one file, works "
        "offline",
        _page,
    ),
    BuildFile("picture.png", "a perspective view to show a customer", _picture),
    BuildFile("side.svg", "the net from the side, to scale and dimensioned, for one sheet of paper", _side),
    BuildFile("report.json", "every number, in SI units, for scripts", _report),
)
