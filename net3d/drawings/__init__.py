"""Drawings of a net: lines and words as SVG, and the picture in perspective as PNG.

SVG: the side view, hoops with their marks, throats laid out flat, drag against current, all put down with
the thin lines and words of ``drawing.py``. The picture: ``strokes.py`` says what is seen, ``camera.py``
from where, ``painting.py`` paints it.
"""

from net3d.drawings.hoop import hoop_view
from net3d.drawings.side import side_view
from net3d.drawings.throat import throat_pattern

__all__ = ["hoop_view", "side_view", "throat_pattern"]
