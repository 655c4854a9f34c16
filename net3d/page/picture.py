"""The net's picture, small enough to stand in the page, where it is shown on paper and without a 3D view."""

from __future__ import annotations

from base64 import b64encode
from io import BytesIO

from PIL import Image, WebPImagePlugin

from net3d.chain import Design
from net3d.drawings.picture import picture_of

SIZE = (1000, 625)  # pixels
QUALITY = 70
PACKED = 2  # of 6: 1 % larger than the usual 4, in less than half the time


def picture_webp(design: Design, larger: Image.Image | None = None) -> bytes:
    """The picture as WebP, a sixth of the size of a PNG; made of a ``larger`` one if there is any."""
    content = BytesIO()
    picture = larger or picture_of(design, "quarter", SIZE)
    webp = WebPImagePlugin.WebPImageFile.format  # so that no other form is loaded
    picture.resize(SIZE, Image.Resampling.HAMMING).save(content, webp, quality=QUALITY, method=PACKED)
    return content.getvalue()


def picture_url(design: Design, larger: Image.Image | None = None) -> str:
    """The picture as a URL that holds it."""
    return f"data:image/webp;base64,{b64encode(picture_webp(design, larger)).decode('ascii')}"
