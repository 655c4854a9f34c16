"""page.html: the net in 3D with its findings and tables, in one file that works offline.

``page.py`` puts it together from ``page.html`` and ``page.css``; ``scene.py`` packs the net for the viewer,
whose program stands beside it (``main.js`` and what it calls, the shaders in ``*.glsl``).
"""

from net3d.page.page import page_html

__all__ = ["page_html"]
