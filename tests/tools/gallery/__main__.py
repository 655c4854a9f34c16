"""Every output of every sample as pictures, to be looked at by eye, page by page.

python -m tests.tools.gallery                          all samples, into outputs/gallery/
python -m tests.tools.gallery FOLDER specs/brook-50.toml

Run it on two versions, into two folders, to see before and after. Needs chromium and what the tests need.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import suppress
from datetime import date
from html import escape
from pathlib import Path

import pypdfium2
from PIL import Image

import net3d
from net3d.drawings.picture import picture_png
from net3d.paper.documents import Imprint, bench_pdf, quote_pdf, strip_pdf
from net3d.paper.quote import PriceError
from net3d.solids.scale_model import scale_model
from net3d.writers.build_files import Making, write_build
from net3d.writers.stl import write_stl
from tests.page.conftest import DESKTOP, PHONE, Viewer, browser
from tests.tools.gallery.models import picture_of_glb, picture_of_stl

ROOT = Path(__file__).parents[3]
DPI, ACROSS, DOWN = 60, 3, 2  # of sheets of paper, and how many of them a picture shows
TABLES = ("marks", "cuts", "materials", "loads", "check")
TERMINAL = 80  # characters
VIEWS = ("quarter", "side", "mouth", "cutaway")


def main() -> None:
    """Draw what was asked for."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("folder", nargs="?", type=Path, default=ROOT / "outputs/gallery")
    parser.add_argument("specs", nargs="*", type=Path, default=sorted((ROOT / "specs").glob("*.toml")))
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as profile, browser(Path(profile)) as driver:
        for spec in asked.specs:
            print(spec.stem, flush=True)
            folder = asked.folder / spec.stem
            folder.mkdir(parents=True, exist_ok=True)
            draw(spec, folder, Viewer(driver))


def draw(spec: Path, folder: Path, viewer: Viewer) -> None:
    """All pictures of one net."""
    design = net3d.design(net3d.read_spec(spec))
    write_build(Making(design, 6), folder, lambda text: None)
    write_stl(scale_model(design, 20.0, 0.0008), folder / "print.stl")
    for name, content in printed(design):
        draw_paper(content, folder, name)
    for view in VIEWS:
        (folder / f"picture-{view}.png").write_bytes(picture_png(design, view, (1000, 625)))
    picture_of_glb(folder / "net.glb", folder / "net-glb.png")
    for name in ("net", "print"):
        picture_of_stl(folder / f"{name}.stl", folder / f"{name}-stl.png")
    draw_page(folder / "page.html", folder, viewer)
    draw_window(folder / "side.svg", folder / "side.png", viewer)
    for name in TABLES:
        draw_terminal(name, spec, folder, viewer)


def printed(design: net3d.Design) -> Iterator[tuple[str, bytes]]:
    """What is printed of a net, on either paper."""
    for paper in ("us-letter", "a4"):
        imprint = Imprint(date(2026, 3, 1), paper)
        yield f"sheet-{paper}", bench_pdf(design, imprint)
        yield f"strip-{paper}", strip_pdf(design, 1, imprint)
        with suppress(PriceError):
            yield f"quote-{paper}", quote_pdf(design, imprint)


def draw_paper(content: bytes, folder: Path, name: str) -> None:
    """Sheets of paper side by side, in as many pictures as it takes."""
    with pypdfium2.PdfDocument(content) as document:
        sheets = [page.render(scale=DPI / 72).to_pil() for page in document]
    starts = range(0, len(sheets), ACROSS * DOWN)
    for number, start in enumerate(starts, start=1):
        shown = sheets[start : start + ACROSS * DOWN]
        wide, tall = (max(size) + 6 for size in zip(*(sheet.size for sheet in shown), strict=True))
        drawn = Image.new("RGB", (ACROSS * wide, -(-len(shown) // ACROSS) * tall), "grey")
        for place, sheet in enumerate(shown):
            drawn.paste(sheet, (place % ACROSS * wide + 3, place // ACROSS * tall + 3))
        drawn.save(folder / f"{name}-{number}.png")


def draw_page(page: Path, folder: Path, viewer: Viewer) -> None:
    """The page on a desktop from every side, the shop's tables open, on phones, on paper."""
    viewer.open(page.absolute().as_uri(), DESKTOP)
    for view in ("quarter", "side", "mouth", "tail"):
        viewer.click(f"[data-view={view}]")
        save(viewer, folder / f"page-{view}.png")
    for switch in ("#cut", "#tension"):
        viewer.click(switch)
        save(viewer, folder / f"page-{switch[1:]}.png")
    viewer.ask("document.getElementById('shop').open = true")
    save(viewer, folder / "page-whole.png", whole=True)
    for name, size in (("phone", PHONE), ("phone-aside", PHONE[::-1])):
        viewer.open(page.absolute().as_uri(), size, touch=True)
        save(viewer, folder / f"page-{name}.png")
    for name, opened in (("customer", "false"), ("shop", "true")):
        viewer.ask(f"document.getElementById('shop').open = {opened}")
        draw_paper(viewer.pdf((8.5, 11)), folder, f"page-printed-{name}")


def save(viewer: Viewer, path: Path, *, whole: bool = False) -> None:
    """What the window shows, or the whole page."""
    path.write_bytes(viewer.shot(whole=whole))


def draw_window(drawing: Path, path: Path, viewer: Viewer) -> None:
    """A drawing by itself."""
    viewer.driver.get(drawing.absolute().as_uri())
    save(viewer, path)


def draw_terminal(command: str, spec: Path, folder: Path, viewer: Viewer) -> None:
    """What a command prints in a narrow window."""
    asked = [sys.executable, "-m", "net3d", command, str(spec)]
    narrow = {**os.environ, "COLUMNS": str(TERMINAL)}
    said = subprocess.run(asked, capture_output=True, text=True, check=False, env=narrow)
    style = f"font: 14px/1.25 monospace; width: {TERMINAL}ch; border-right: 1px solid red"
    text = folder / f"terminal-{command}.html"
    text.write_text(f'<pre style="{style}">{escape(said.stdout + said.stderr)}</pre>', "utf-8")
    viewer.driver.get(text.absolute().as_uri())
    save(viewer, folder / f"terminal-{command}.png", whole=True)


if __name__ == "__main__":
    main()
