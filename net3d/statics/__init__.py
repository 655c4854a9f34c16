"""The statics stage: the true equilibrium of the net."""

from net3d.statics.settle import settle

__all__ = ["settle"]
