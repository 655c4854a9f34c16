"""The record of a way out for what is not meant to be caught."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

EscapeKind = Literal["hole", "chimney", "rings", "panel", "bars", "guard", "floats"]
NEEDED: dict[EscapeKind, tuple[str, ...]] = {
    "hole": ("behind", "width", "height"),
    "chimney": ("behind", "width", "height", "high"),
    "rings": ("behind", "inside"),
    "panel": ("behind", "width", "height"),
    "bars": ("apart",),
    "guard": ("apart",),
    "floats": ("pieces", "lift"),
}
ALSO: dict[EscapeKind, tuple[str, ...]] = {
    "hole": ("turn", "rod", "material", "lacing"),
    "chimney": ("turn", "rod", "material", "lacing", "lift"),
    "rings": ("pieces", "turn", "rod", "material", "lacing"),
    "panel": ("turn", "thread_holds"),
    "bars": (),
    "guard": (),
    "floats": (),
}


@dataclass(frozen=True)
class EscapeSpec:
    """A way out, or what keeps others from coming in. Lengths in m."""

    place: int  # among them, from 1
    kind: EscapeKind
    behind: int | None  # the hoop it stands behind
    width: float | None  # of an opening, around the net
    height: float | None  # along the net
    turn: float  # its middle, clockwise of the top [parts of the way around]
    high: float | None  # of a chimney
    apart: float | None  # of bars, clear
    pieces: int  # rings or floats
    lift: float | None  # of one float, or of the floats that hold a chimney up [N]
    rod: float  # thickness of its frame
    material: str | None  # of it; None: that of the hoop before
    lacing: float | None  # from a knot to the frame
    thread_holds: float | None  # what a panel's thread was tried with, wet and knotted [N]

    @property
    def size(self) -> tuple[float, float]:
        """Of an opening, inside its frame: along the net and around it [m]."""
        assert self.width is not None, "rules ask it of every opening"
        assert self.height is not None, "rules ask it of every opening"
        return self.height, self.width

    @property
    def round(self) -> bool:
        """Whether its frame is a ring."""
        return self.kind == "rings"

    @property
    def opens(self) -> bool:
        """Whether knots are cut out for it."""
        return self.kind in {"hole", "chimney", "rings"}
