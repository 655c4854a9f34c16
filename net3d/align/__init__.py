"""How to turn hoops that are bowed or oval so that the netting between them pulls evenly."""

from net3d.align.search import align

__all__ = ["align"]
