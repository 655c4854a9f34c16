"""The picture of a net as PNG."""

from __future__ import annotations

import struct
import zlib
from base64 import b64encode

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from net3d.chain import Design
from net3d.drawings.caption import caption_of
from net3d.drawings.painting import painted_view
from net3d.drawings.palette import INK

SIZE = (1600, 1000)  # pixels
PACKED = 2  # of 9: 6 % larger than the usual 6, in half the time
LETTERS = 0.015  # size of type, of the picture's width: 2.5 mm where that is 170 mm, as on a quote
LEAST = 9  # size of type that can be read [pixels]


def picture_of(design: Design, view: str = "quarter", size: tuple[int, int] = SIZE) -> Image.Image:
    """A view of ``drawings.camera.VIEWS`` in a size [pixels]; below it stands in which water it is drawn."""
    picture = Image.fromarray(painted_view(design, view, size))
    _write(picture, caption_of(design))
    return picture


def png_of(picture: Image.Image) -> bytes:
    """A picture as PNG; the same picture gives the same bytes.

    No row is filtered: of a net on white paper that is the smallest, and the quickest. Source: W3C, Portable
    Network Graphics Specification, sections 5 (chunks), 9 (filters) and 11.2 (IHDR).
    """
    width, height = picture.size
    rows = np.zeros((height, 1 + 3 * width), np.uint8)
    rows[:, 1:] = np.asarray(picture).reshape(height, -1)
    chunks = {
        b"IHDR": struct.pack(">2I5B", width, height, 8, 2, 0, 0, 0),
        b"IDAT": zlib.compress(rows.data, PACKED),
        b"IEND": b"",
    }
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, held) for kind, held in chunks.items())


def _chunk(kind: bytes, held: bytes) -> bytes:
    return struct.pack(">I", len(held)) + kind + held + struct.pack(">I", zlib.crc32(kind + held))


def picture_png(design: Design, view: str = "quarter", size: tuple[int, int] = SIZE) -> bytes:
    """The same picture as PNG."""
    return png_of(picture_of(design, view, size))


def picture_svg(design: Design, view: str = "quarter", size: tuple[int, int] = SIZE) -> str:
    """The same picture inside an SVG, for what takes drawings."""
    width, height = size
    box = f'width="{width}" height="{height}" viewBox="0 0 {width} {height}"'
    url = f"data:image/png;base64,{b64encode(picture_png(design, view, size)).decode('ascii')}"
    image = f'<image width="{width}" height="{height}" href="{url}"/>'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {box}>{image}</svg>\n'


def _write(picture: Image.Image, text: str) -> None:
    """A line of type at the foot, on the left; none in a picture too narrow for it."""
    letters = max(LETTERS * picture.width, LEAST)
    font = ImageFont.load_default(letters)
    if font.getlength(text) + 2 * letters <= picture.width:
        place = (letters, picture.height - 1.6 * letters)
        ImageDraw.Draw(picture).text(place, text, INK, font)
