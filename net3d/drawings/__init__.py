"""Drawings of a net as SVG."""

from net3d.drawings.perspective import perspective_view

__all__ = ["perspective_view"]
