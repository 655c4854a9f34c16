"""The picture of a net as PNG."""

from __future__ import annotations

import io
from base64 import b64encode

from PIL import Image

from net3d.chain import Design
from net3d.drawings.painting import painted_view

SIZE = (1600, 1000)  # pixels


def picture_png(design: Design, view: str = "quarter", size: tuple[int, int] = SIZE) -> bytes:
    """A view of ``drawings.camera.VIEWS`` as PNG of a size [pixels]; the same net gives the same bytes."""
    content = io.BytesIO()
    Image.fromarray(painted_view(design, view, size)).save(content, "PNG")
    return content.getvalue()


def picture_svg(design: Design, view: str = "quarter", size: tuple[int, int] = SIZE) -> str:
    """The same picture inside an SVG, for what takes drawings."""
    width, height = size
    box = f'width="{width}" height="{height}" viewBox="0 0 {width} {height}"'
    url = f"data:image/png;base64,{b64encode(picture_png(design, view, size)).decode('ascii')}"
    image = f'<image width="{width}" height="{height}" href="{url}"/>'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {box}>{image}</svg>\n'
