"""Drawings of a net as SVG."""

from net3d.drawings.hoop import hoop_view
from net3d.drawings.side import side_view
from net3d.drawings.throat import throat_pattern

__all__ = ["hoop_view", "side_view", "throat_pattern"]
