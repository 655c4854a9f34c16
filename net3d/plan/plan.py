"""The plan: whole-number trade arithmetic of a net, before any statics."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from net3d.handbook.twine import Twine
from net3d.outline.frames import Frame
from net3d.outline.outline import Outline
from net3d.parts import Part
from net3d.plan.decreases import Piece
from net3d.plan.escapes import EscapePlan
from net3d.plan.guides import GuidePlan
from net3d.plan.joins import Row


@dataclass(frozen=True, eq=False)
class HoopPlan:
    """One hoop and how its netting is spread along it. Lengths in m, measured outside with a tape."""

    number: int
    outline: Outline  # around the outside, as it is sewn in
    rod_diameter: float
    material: str
    knot_row: int  # which row of the body's knots is laced to this hoop, 0 at the mouth
    pitch: float  # along the outside from mark to mark
    hanging_ratio: float  # E1 = C / (N m), C around the knots
    depth_ratio: float  # E2 = sqrt(1 - E1^2)
    row: Row  # the knots laced to it, where they stand
    mark_offset: float  # from the reference mark to the row's first mark: 0 or pitch / 2 in a plain tube
    marks: NDArray[np.float64]  # (N,) tape readings from the reference mark, each rounded once
    stepped_pitch: float  # the pitch rounded to the tape
    stepping_error: float  # by how much N steps of it overshoot (+) or fall short (-) of the circumference
    frame: Frame | None = None  # its sizes where it is no round hoop

    @property
    def meshes_around(self) -> int:
        """Meshes around at this hoop, as many as its marks."""
        return self.row.count

    @property
    def is_true(self) -> bool:
        """Whether it is flat and round, as far as anyone has measured."""
        return self.outline.is_true

    @property
    def is_frame(self) -> bool:
        """Whether it is no round hoop."""
        return self.frame is not None

    @property
    def corners(self) -> list[float]:
        """Arcs of the middles of its corners [rad]; a D has none above, where it is round."""
        arcs: list[float] = self.outline.corners.tolist() if self.frame else []
        return arcs[1:3] if self.frame and self.frame.shape == "d" else arcs

    @property
    def narrowest(self) -> float:
        """Its diameter, or the shorter of a frame's sides [m]."""
        return min(self.frame.width, self.frame.height) if self.frame else self.outside_diameter

    @property
    def widest(self) -> float:
        """Its diameter, or the longer of a frame's sides [m]."""
        return max(self.frame.width, self.frame.height) if self.frame else self.outside_diameter

    @property
    def turn(self) -> float:
        """Where its reference mark stands, from the top, clockwise [rad]."""
        return self.outline.turn

    @property
    def meshes_turned(self) -> int:
        """Meshes by which its reference mark stands clockwise of the top, fewer than there are around."""
        return round(self.turn / self.row.pitch) % self.row.count

    @property
    def half_pitch_off(self) -> bool:
        """Whether the row starts half a pitch off the reference mark."""
        return abs(self.row.phase / self.row.pitch - 0.5) < 1e-6

    @property
    def circumference(self) -> float:
        """Outside circumference, be it round or oval [m]."""
        return self.outline.girth

    @property
    def outside_diameter(self) -> float:
        """Outside diameter D of the round hoop that is as long around [m]."""
        return self.outline.diameter

    @property
    def knot_girth(self) -> float:
        """Around the knots, which sit inside the rod [m]."""
        return self.outline.inner_girth(self.rod_diameter)

    @property
    def knot_circle_diameter(self) -> float:
        """Diameter of the circle that is as long around as the knots: D - 2 rod [m]."""
        return self.outside_diameter - 2.0 * self.rod_diameter


@dataclass(frozen=True)
class SectionPlan:
    """The netting between a hoop and the next."""

    from_hoop: int
    to_hoop: int
    piece: Piece
    spacing: float | None  # distance held by spreader rods [m]; None: free to slide

    @property
    def part(self) -> Part:
        """Which part of the net it is."""
        return Part.section(self.from_hoop, self.to_hoop)

    @property
    def bar_rows(self) -> int:
        """Rows of bars, two to a mesh."""
        return len(self.piece.changes)

    @property
    def meshes_deep(self) -> float:
        """Depth, whole or half [meshes]."""
        return self.bar_rows / 2


@dataclass(frozen=True, eq=False)
class RibPlan:
    """The rib lines of one section, all alike. Lengths in m."""

    from_hoop: int
    to_hoop: int
    starts: NDArray[np.float64]  # arcs at which they begin on the first hoop (k,) [rad]
    ends: NDArray[np.float64]  # and end on the next [rad]
    hanging: float  # length over the stretched length of the netting
    length: float  # from hoop to hoop, as cut but for its ends

    @property
    def part(self) -> Part:
        """Which part of the net they are."""
        return Part.rib(self.from_hoop, self.to_hoop)

    @property
    def section(self) -> Part:
        """The netting that is laced to them."""
        return Part.section(self.from_hoop, self.to_hoop)


@dataclass(frozen=True)
class StringPlan:
    """The strings that hold a throat's tip back. Lengths in m."""

    to_hoop: int | None  # None: to the gathered end of the tail
    points: int  # ties around that hoop, evenly spaced
    turn: float  # angle of the first tie from the reference mark [rad]
    twine: Twine
    length: float | None  # None: to be fitted
    about: float  # what the length will come to: enough to know how far such a string stretches
    share: float  # of the pull, carried by fitted strings together


@dataclass(frozen=True)
class ThroatPlan:
    """A throat: a piece of netting that narrows to its tip, laced to a hoop together with the body."""

    number: int
    hoop: int
    piece: Piece
    own_marks: bool  # its meshes around differ from the body's, so it ties at its own spacing
    stretched_mesh: float  # m
    twine: Twine
    tip_line: float | None  # square throat: length of the line through its tip meshes [m]
    strings: StringPlan
    knots: int
    twine_length: float  # m, knots counted, strings and line not
    twine_mass: float  # kg

    @property
    def bar(self) -> float:
        """One side of a mesh [m]."""
        return self.stretched_mesh / 2

    @property
    def part(self) -> Part:
        """Which part of the net its netting is."""
        return Part.throat(self.number)

    @property
    def strings_part(self) -> Part:
        """Which part of the net its strings are."""
        return Part.strings(self.number)

    @property
    def tip(self) -> int:
        """Meshes around at the tip."""
        return self.piece.rows[-1].count


@dataclass(frozen=True)
class Plan:
    """What to mark, knit and buy; knots and twine are the body's, every throat has its own."""

    meshes_around: int
    stretched_mesh: float  # m
    twine: Twine
    pull: float  # axial pull through the net in still water [N]
    bench_pull: float  # while strings are tied [N]
    hoops: tuple[HoopPlan, ...]
    sections: tuple[SectionPlan, ...]
    ribs: tuple[RibPlan, ...]
    guides: tuple[GuidePlan, ...]
    escapes: tuple[EscapePlan, ...]
    tail: Piece | None
    throats: tuple[ThroatPlan, ...]
    knots: int
    twine_length: float  # m, knots counted
    twine_mass: float  # kg

    @property
    def pair(self) -> bool:
        """Whether a leader joins the net to a second one alike."""
        return any(guide.spec.pair for guide in self.guides)

    @property
    def nets(self) -> tuple[Plan, ...]:
        """It, and of a pair the second net, of which wings and leader are the first one's."""
        return (self, replace(self, guides=())) if self.pair else (self,)

    @property
    def nests(self) -> bool:
        """Whether its hoops nest about one centre, all of them round."""
        return not any(hoop.outline.oval.numbers or hoop.is_frame for hoop in self.hoops)

    @property
    def throats_in_frames(self) -> bool:
        """Whether a throat starts on a frame, or stands before one."""
        first = min((throat.hoop for throat in self.throats), default=len(self.hoops))
        return any(hoop.is_frame for hoop in self.hoops[first - 1 :])

    @property
    def ribbed(self) -> frozenset[Part]:
        """The sections that have rib lines."""
        return frozenset(rib.section for rib in self.ribs)

    @property
    def framed(self) -> bool:
        """Whether any of its hoops is a frame."""
        return any(hoop.is_frame for hoop in self.hoops)

    def frame_of(self, section: SectionPlan) -> HoopPlan | None:
        """The first frame that a section hangs on, if any."""
        ends = (self.hoops[section.from_hoop - 1], self.hoops[section.to_hoop - 1])
        return next((hoop for hoop in ends if hoop.is_frame), None)

    @property
    def bar(self) -> float:
        """One side of a mesh, half of the stretched mesh [m]."""
        return self.stretched_mesh / 2

    @property
    def body(self) -> tuple[Piece, ...]:
        """The body from the mouth: its sections, then the tail, each hung from the one before."""
        return (*(section.piece for section in self.sections), *((self.tail,) if self.tail else ()))

    @property
    def tail_rows(self) -> int:
        """Rows of bars behind the last hoop, 0 without a tail."""
        return len(self.tail.changes) if self.tail else 0
