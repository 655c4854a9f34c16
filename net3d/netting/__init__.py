"""The netting stage: knots, bars and what rides on which hoop."""

from net3d.netting.tie import tie

__all__ = ["tie"]
