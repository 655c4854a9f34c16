"""Drawings of a net as SVG."""

from net3d.drawings.perspective import perspective_view
from net3d.drawings.side import side_view

__all__ = ["perspective_view", "side_view"]
