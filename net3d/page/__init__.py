"""page.html: the net in 3D with its tables, in one file that works offline."""

from net3d.page.page import page_html

__all__ = ["page_html"]
