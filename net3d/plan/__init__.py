"""The plan stage: the trade's whole-number arithmetic."""

from net3d.plan.lay_out import lay_out

__all__ = ["lay_out"]
