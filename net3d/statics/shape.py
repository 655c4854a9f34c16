"""The shape: where everything comes to rest, and what every bar pulls."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from math import hypot

import numpy as np
from numpy.typing import NDArray

from net3d.outline.pose import Pose
from net3d.parts import Part
from net3d.spec.measured import TolerancesSpec


class EndState(Enum):
    """How the search for the equilibrium ended; the value is what report.json says."""

    SETTLED = "settled"
    SETTLED_LOOSELY = "settled loosely"
    OUT_OF_REACH = "out of reach"
    ADRIFT = "adrift"
    LIMIT_REACHED = "limit reached"
    FOLDED = "folded"

    @property
    def sentence(self) -> str:
        """What that means, plainly."""
        return _SENTENCES[self]


_SENTENCES = {
    EndState.SETTLED: "The net has come to rest: at every knot the pulls cancel.",
    EndState.SETTLED_LOOSELY: "The net has nearly come to rest: within a ten-thousandth of the pull.",
    EndState.OUT_OF_REACH: "Hoops are held further apart than the netting between them can stretch.",
    EndState.ADRIFT: "Something is pulled and tied to nothing that could hold it.",
    EndState.LIMIT_REACHED: "The search ended before the net came to rest; the shape cannot be trusted.",
    EndState.FOLDED: "The netting pulls a hoop inward by more than its rod bears: it folds.",
}


@dataclass(frozen=True)
class Symmetry:
    """How often a net repeats in a turn, and whether its left side mirrors its right."""

    turns: int = 1
    mirrored: bool = False


@dataclass(frozen=True)
class Follows:
    """What becomes of a length as the net is tied a little otherwise."""

    meshes: float  # by all meshes grown to twice, were it to go on as it begins [m]
    each: float  # by every bar grown by itself: the root of the sum of squares [m]
    stretch: float  # what of it is stretch of twine under the pull [m]
    hoops: tuple[float, ...]  # by a metre more around each hoop [m/m]
    lines: float = 0.0  # by a metre more of each rib line by itself: the root of the sum of squares [m/m]

    @property
    def known(self) -> bool:
        """Whether anything is known of it."""
        return bool(self.hoops)

    def either_way(self, off: TolerancesSpec) -> float:
        """How sure the length is: by what all that may be off moves it, either way [m].

        ``sqrt(sum of (d length / d cause x tolerance)^2)``. Source: propagation of independent errors.
        """
        causes = (
            self.meshes * off.common,
            self.each * off.knot_to_knot,
            self.stretch * hypot(off.pull, off.stretch),
            *(hoop * off.tape for hoop in self.hoops),
            self.lines * off.string,
        )
        return hypot(*causes)


NOT_FOLLOWED = Follows(0.0, 0.0, 0.0, ())


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
    follows: Follows = NOT_FOLLOWED  # how its length does
    bag: float = 0.0  # by how much throats that pull past it draw it shorter than it would hang [m]


@dataclass(frozen=True)
class Passage:
    """A throat or its strings passing through a hoop, or past a waist of the body. Lengths in m."""

    part: Part
    past: Part  # a hoop, or the section whose waist it is
    radius: float  # largest distance from the axis there
    room: float  # from there to what is around it; below 0 it passes outside

    @property
    def place(self) -> str:
        """What it passes, in every output: hoop 3, waist 2-3."""
        return f"waist {'-'.join(map(str, self.past.numbers))}" if self.past.kind.body else self.past.title


@dataclass(frozen=True)
class StringLengths:
    """String lengths [m] between which a throat fits, all throats' strings alike."""

    tight: float  # takes 20 % of the pull from the body
    to_tie: float  # takes what the spec asks
    loose: float  # takes 1 % of the pull: the throat begins to sag


@dataclass(frozen=True)
class ThroatShape:
    """A throat as it hangs. Lengths in m, forces in N."""

    number: int
    hoop: int
    tip_position: float  # from the mouth hoop, the mean of its tip knots
    tip_middle: tuple[float, float]  # across and up from the net's middle, likewise
    length: float  # from its hoop to its tip, along the net
    string_length: float  # as given, or as fitted
    strings: StringLengths
    string_follows: Follows  # how the length to tie does
    follows: Follows  # how its own length does
    tip_follows: Follows  # how its tip's distance from the mouth hoop does
    string_tension: float  # of all strings together
    string_tension_max: float  # of the tightest
    opening_girth: float  # around the tip as it hangs
    opening_clear: float  # clear width of the tip, seen along the net
    pull_share: float  # part of the axial pull that the throat takes from the body
    slack_share: float  # part of its bars below 2 % of an even share of what its strings are to pull
    looseness_max: float
    clearance: float  # from two meshes behind its hoop on, to the body around it
    lying_share: float  # part of its knots that lie on the body
    passages: tuple[Passage, ...]
    bag: float = 0.0  # by how much it draws the body shorter than that would hang


@dataclass(frozen=True, eq=False)
class Shape:
    """The equilibrium: positions with the mouth hoop at x = 0, tensions, and how well they balance."""

    state: EndState
    knot_positions: NDArray[np.float64]  # (n, 3) [m]
    bar_tensions: NDArray[np.float64]  # (m,) [N], never negative
    bar_rest_lengths: NDArray[np.float64]  # (m,) [m], found ones where the netting leaves them open
    knot_pushes: NDArray[np.float64]  # (n, 3) of the body on throats that lie on it [N]
    poses: tuple[Pose, ...]  # how the hoops stand
    hoop_pushes: NDArray[np.float64]  # (hoops - 1,) between hoops whose rods touch [N]
    tail_end: float  # x of the gathered end, or of the last hoop without a tail [m]
    sections: tuple[SectionShape, ...]
    throats: tuple[ThroatShape, ...]
    length_follows: Follows
    tail_follows: Follows
    end_follows: Follows  # from the first hoop to the tail's end
    residual: float  # largest unbalanced force at any knot or hoop, as a share of the pull
    symmetry: Symmetry  # what repeats around, and was solved once
    iterations: int
    one_of_many: bool = False  # bars hang slack of twine without weight: they could hang otherwise as well
    free_lengths: tuple[float, ...] = ()  # per section without the rods, where there are any [m]
    free: tuple[float, ...] = ()  # from hoop to hoop to the end, where no throat pulls past them [m]
    shortfalls: tuple[float, ...] = ()  # per section: how far its rods lie beyond reach, if any do [m]

    @property
    def hoop_positions(self) -> NDArray[np.float64]:
        """Where each hoop stands along the net (hoops,) [m]."""
        return np.array([pose.place for pose in self.poses])

    @property
    def length(self) -> float:
        """From the first hoop to the last [m]."""
        return float(self.hoop_positions[-1] - self.hoop_positions[0])

    @property
    def at_rest(self) -> bool:
        """Whether there is an equilibrium to judge: that without rods where those are too long."""
        rodless = self.state is EndState.OUT_OF_REACH and any(self.shortfalls)
        return rodless or self.state in {EndState.SETTLED, EndState.SETTLED_LOOSELY}
