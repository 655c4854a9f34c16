"""The shape: where everything comes to rest, and what every bar pulls."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from net3d.statics.symmetry import Symmetry


class EndState(Enum):
    """How the search for the equilibrium ended; the value is what report.json says."""

    SETTLED = "settled"
    SETTLED_LOOSELY = "settled loosely"
    OUT_OF_REACH = "out of reach"
    ADRIFT = "adrift"
    LIMIT_REACHED = "limit reached"

    @property
    def sentence(self) -> str:
        """What that means, plainly."""
        return _SENTENCES[self]


_SENTENCES = {
    EndState.SETTLED: "The net has come to rest: at every knot the pulls cancel.",
    EndState.SETTLED_LOOSELY: "The net has nearly come to rest: the pulls cancel to a thousandth.",
    EndState.OUT_OF_REACH: "Hoops are held further apart than the netting between them can stretch.",
    EndState.ADRIFT: "Something is pulled and tied to nothing that could hold it.",
    EndState.LIMIT_REACHED: "The search ended before the net came to rest; the shape cannot be trusted.",
}


@dataclass(frozen=True)
class SectionShape:
    """A section of the body as it hangs. Lengths in m, forces in N."""

    from_hoop: int
    to_hoop: int
    length: float
    waist_diameter: float
    tension_min: float
    tension_mean: float
    tension_max: float
    full_share: float  # mean tension if the body alone took the pull there, evenly
    body_share: float  # part of the axial pull that the body carries there
    slack_share: float  # part of the bars that carry less than 2 % of their full share
    looseness_max: float  # largest 1 - |x_i - x_j| / L
    looseness_twentieth: float  # looseness that a twentieth of the bars exceed


@dataclass(frozen=True, eq=False)
class Shape:
    """The equilibrium: positions with the mouth hoop at x = 0, tensions, and how well they balance."""

    state: EndState
    knot_positions: NDArray[np.float64]  # (n, 3) [m]
    bar_tensions: NDArray[np.float64]  # (m,) [N], never negative
    hoop_positions: NDArray[np.float64]  # (hoops,) x [m]
    sections: tuple[SectionShape, ...]
    residual: float  # largest unbalanced force at any knot or hoop, as a share of the pull
    symmetry: Symmetry  # what repeats around, and was solved once
    iterations: int
    free_lengths: tuple[float, ...] = ()  # per section without the rods, where there are any [m]
    shortfalls: tuple[float, ...] = ()  # per section: how far its rods lie beyond reach, if any do [m]

    @property
    def length(self) -> float:
        """From the first hoop to the last [m]."""
        return float(self.hoop_positions[-1] - self.hoop_positions[0])
