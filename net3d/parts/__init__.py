"""The parts of a net, and what follows from their kinds: the only place that knows a part's name."""

from net3d.parts.kinds import KINDS, Kind, Made
from net3d.parts.part import ANCHOR_LINE, BRIDLE, TAIL, Part

__all__ = ["ANCHOR_LINE", "BRIDLE", "KINDS", "TAIL", "Kind", "Made", "Part"]
