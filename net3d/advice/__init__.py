"""The advice room: changes of a spec that set a finding right, each tried before it is told."""

from net3d.advice.advise import advise
from net3d.advice.kinds import KINDS, Kind

__all__ = ["KINDS", "Kind", "advise"]
