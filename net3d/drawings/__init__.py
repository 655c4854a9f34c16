"""Drawings of a net: lines and words as SVG, and the picture in perspective as PNG.

SVG: the side view, hoops with their marks, throats laid out flat, drag against current, all put down with
the thin lines and words of ``drawing.py``. The picture: ``strokes.py`` says what is seen, ``camera.py``
from where, ``painting.py`` paints it.
"""
