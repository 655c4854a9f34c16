"""The record of a wing or a leader."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from net3d.handbook.twine import Twine


@dataclass(frozen=True)
class Bend:
    """Where a wing turns."""

    after: int  # meshes from the mouth
    angle: float  # in which it runs on, from straight ahead [degrees]


@dataclass(frozen=True)
class GuideAnchor:
    """An anchor in place of a stake, tied to an upright pole."""

    type: str
    weight: float  # in air [kg]
    have: bool
    line: float | None  # from the middle of the pole [m]


@dataclass(frozen=True)
class GuideSpec:
    """A wing or the leader: netting between two lines that guides fish to the mouth. Lengths in m."""

    word: Literal["wing", "leader"]
    number: int  # of a wing, from 1; 0 of the leader
    side: Literal["left", "right", "both", "middle"]
    angle: float  # from straight ahead [degrees]
    long: int  # meshes
    deep: int  # meshes
    stretched: float
    twine: Twine
    hanging: float
    lead_hanging: float
    slack: float  # by how much lines are longer than the way, as a part of it
    rope: float
    reserve: float
    floats: int | None
    float_lift: float | None  # N
    leads: int | None
    lead_weight: float | None  # of one, in air [kg]
    stake_holds: float | None  # what its stake was tried with [N]
    anchor: GuideAnchor | None
    bends: tuple[Bend, ...]
    pair: bool  # whether its far end is tied to a second net

    @property
    def table(self) -> str:
        """Where it is typed."""
        return f"{self.word}.{self.number}" if self.number else self.word
