"""The records of what is round the net and along it: hoops, frames and rib lines."""

from __future__ import annotations

from dataclasses import dataclass

from net3d.outline.frames import Frame


@dataclass(frozen=True)
class HoopSpec:
    """One hoop, mouth first, or one on the pile. Lengths in m."""

    diameter: float  # outside; a frame's is that of the round hoop as long around
    rod: float
    material: str
    have: bool  # at hand already
    gaps: tuple[float, ...]  # heights off a flat floor, clockwise from the reference mark
    across: tuple[float, ...]  # outside diameters over half of the hoop, likewise
    turn: int  # meshes by which its reference mark stands clockwise of the top
    flip: bool
    within: float  # by how much the diameter of a hoop that takes its place may differ
    name: str
    frame: Frame | None = None  # None: it is round


@dataclass(frozen=True)
class LineSpec:
    """Rib lines from hoop to hoop, on which netting is hung."""

    from_hoop: int
    to_hoop: int
    count: int | None  # None: one at every corner
    hanging: float | None  # over the stretched length of the netting; None: as the plan chooses
