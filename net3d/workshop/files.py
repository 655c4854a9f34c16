"""The files that can be taken along, made of a spec's text."""

from __future__ import annotations

import json
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

from net3d.chain import Design, shaped, sketch
from net3d.page.facts import facts_of
from net3d.page.picture import picture_webp
from net3d.paper.documents import Imprint, quote_pdf
from net3d.spec.read import spec_beside
from net3d.writers.build_files import BUILD_FILES, Making

SIDES = 6  # flat sides of the twine in the model


def file_of(text: str, path: Path, name: str) -> bytes:
    """A file of the build, the quote, or the small picture. Raises NetError where it cannot be made."""
    if name == "picture.webp":
        return picture_webp(_sketched(text, path))
    if name == "about.json":
        return _about(_sketched(text, path))
    making = _making(text, path)
    if name == "quote.pdf":
        return quote_pdf(making.design, Imprint.usual(making.design.spec.units))
    file = next(file for file in BUILD_FILES if file.name == name)
    with TemporaryDirectory() as folder:
        file.write(making, Path(folder, name))
        return Path(folder, name).read_bytes()


def design_of(text: str, path: Path) -> Design:
    """The net of a text, worked out whole; the last few are remembered."""
    return _making(text, path).design


def _about(made: Design) -> bytes:
    """What stands under its picture: name, hoops, length, and its price where that can be reckoned."""
    facts = dict(facts_of(made))
    sizes = [
        f"{len(made.plan.hoops)} hoops",
        made.spec.tape.length(made.shape.length),
        facts.get("Price", ""),
    ]
    return json.dumps({"title": made.spec.title, "sizes": ", ".join(filter(None, sizes))}).encode()


@lru_cache(maxsize=3)
def _sketched(text: str, path: Path) -> Design:
    return sketch(spec_beside(text, path))


@lru_cache(maxsize=3)
def _making(text: str, path: Path) -> Making:
    return Making(shaped(spec_beside(text, path)), SIDES)
