"""The picture of a net as PNG."""

from __future__ import annotations

from pathlib import Path

import typst

from net3d.design import Design
from net3d.drawings.perspective import perspective_view

PIXELS_PER_INCH = 72.0  # so that a point of the page is a pixel of the picture


def picture_png(design: Design, view: str = "quarter", size: tuple[int, int] = (1600, 1000)) -> bytes:
    """A perspective view as PNG.

    Parameters: ``view`` of ``drawings.camera.VIEWS``; ``size`` [pixels].
    """
    width, height = size
    drawing = perspective_view(design, view, size)
    page = (
        f"#set page(width: {width}pt, height: {height}pt, margin: 0pt)\n"
        "#image(bytes(sys.inputs.svg), width: 100%)"
    )
    image = typst.compile(page.encode(), format="png", ppi=PIXELS_PER_INCH, sys_inputs={"svg": drawing})
    if not isinstance(image, bytes):
        raise TypeError("one page makes one picture")
    return image


def write_picture(
    design: Design, path: Path, view: str = "quarter", size: tuple[int, int] = (1600, 1000)
) -> None:
    """Write a perspective view as PNG. Raises OSError if the file cannot be written."""
    path.write_bytes(picture_png(design, view, size))
