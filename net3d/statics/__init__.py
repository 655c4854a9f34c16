"""The statics stage: the true equilibrium of the net."""

from net3d.statics.settle import settle, settle_quickly

__all__ = ["settle", "settle_quickly"]
