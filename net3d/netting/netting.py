"""The netting: which knot is tied to which, how long each bar is, and what rides on which hoop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from net3d.errors import PartError
from net3d.outline.elastic import Rod, least_load
from net3d.outline.modes import Modes
from net3d.parts import Kind, Part

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

FREE = -1  # carrier number of a knot that rides on nothing
NONE = -1  # number of no fitted length, of no running line


@dataclass(frozen=True)
class Bending:
    """How a hoop bends: some waves around it, and what holds each against growing.

    A wave n moves the rod by ``u = a cos n t`` (or sin) along the net, or by ``w = c cos n t`` outward and
    ``v = -(c / n) sin n t`` along the rod, which keeps its length; each costs ``K a^2 / 2``.
    Source: a ring in bending, as in ``outline/elastic.py``. A frame has ``modes`` in place of waves.
    """

    rod: Rod
    numbers: tuple[int, ...]
    inward: float = 0.0  # what the netting draws it inward with [N/m], which lets waves grow
    modes: Modes | None = None

    @property
    def folding_load(self) -> float:
        """The inward load that the least of its waves bears, or of its modes [N/m]."""
        if self.modes is not None:
            return self.modes.folding_compression / self.rod.ring_radius
        return min(least_load(self.rod, number) for number in self.numbers)


@dataclass(frozen=True)
class Carrier:
    """A rigid thing that knots ride on: a hoop, the gathered end of the tail, the anchor.

    A carrier shifts along the axes named in ``slides`` (x along the net, y, z up). One that ``follows`` an
    earlier carrier stays ``offset`` metres further along x than that one. One that ``tilts`` also turns a
    little about every axis.
    """

    name: str
    slides: str  # some of "xyz"; "" does not move
    follows: int | None = None
    offset: float = 0.0
    tilts: bool = False
    thickness: float = 0.0  # of the rod [m]: neighbours touch at a mean of theirs
    bends: Bending | None = None


@dataclass(frozen=True, eq=False)
class Netting:
    """Knots, bars and carriers as arrays; n knots, m bars, SI units.

    The first carriers are the hoops, in order. Bars are netting, bridle legs and lines alike: what
    pulls and cannot push. Every knot and bar knows its part, row and place around.

    Bars may share one length that is to be found, given what they pull together; and a line that runs
    freely through knots has one length for all its spans together.
    """

    parts: tuple[Part, ...]
    carriers: tuple[Carrier, ...]
    hoop_count: int
    knot_carriers: Ints  # (n,) carrier number, or FREE
    knot_seats: Floats  # (n, 3) place on the carrier [m]; 0 for free knots
    knot_parts: Ints  # (n,) number of the part
    knot_rows: Ints  # (n,) row of knots: of the body from the mouth hoop, of a throat from its own hoop
    knot_rings: Ints  # (n,) number of the ring of knots that it is in, over the whole net
    knot_angles: Floats  # (n,) nominal angle from the top, clockwise seen from the mouth [rad]
    knot_loads: Floats  # (n, 3) pull on the knots, twine weight apart [N]
    bars: Ints  # (m, 2) knot numbers, the end nearer the mouth first
    bar_lengths: Floats  # (m,) rest length [m]
    bar_stiffnesses: Floats  # (m,) A of T / e = A + B T, EA as the bar begins to pull [N]
    bar_stiffening: Floats  # (m,) B [-]; 0 where EA is one secant
    bar_expected: Floats  # (m,) about what it pulls, so that it is known how far it gives; 0 is not known [N]
    bar_strengths: Floats  # (m,) wet and knotted [N]
    bar_diameters: Floats  # (m,) of the twine or rope [m]
    bar_weights: Floats  # (m,) in water, the share of its knots included [N]
    bar_parts: Ints  # (m,) number of the part
    bar_rows: Ints  # (m,) row of bars within its part, 0 nearest the mouth
    bar_fits: Ints  # (m,) which length to be fitted the bar has, bar_lengths being near it; or NONE
    bar_runs: Ints  # (m,) which running line the bar is a span of, or NONE
    bar_seams: Ints  # (m,) by which way out it is of thread that rots, or NONE
    fit_tensions: Floats  # (fits,) what all bars of a fitted length pull together [N]
    fit_least: Floats  # (fits,) no fitted length is shorter: it takes so much to tie it [m]
    run_lengths: Floats  # (runs,) whole length of each running line [m]
    run_stiffnesses: Floats  # (runs,) A of it, as of a bar [N]
    run_stiffening: Floats  # (runs,) B of it [-]
    pull: float  # axial pull through the net [N]

    def pulled(self, pull: float) -> Netting:
        """The same net under another pull [N], strings to be fitted under their share of it."""
        if pull == self.pull:
            return self
        times = pull / self.pull
        return replace(
            self,
            pull=pull,
            knot_loads=self.knot_loads * times,
            fit_tensions=self.fit_tensions * times,
            bar_expected=self.bar_expected * times,
        )

    def secants(self, tensions: Floats) -> Floats:
        """EA of every bar that pulls so much (m,) [N], ``A + B T``, no more than where it breaks [N]."""
        return self.bar_stiffnesses + self.bar_stiffening * np.minimum(tensions, self.bar_strengths)

    def stretches(self, tensions: Floats) -> Floats:
        """By how much every bar stretches that pulls so much (m,) [N]: ``L T / (A + B T)`` [m]."""
        return self.bar_lengths * tensions / self.secants(tensions)

    def number_of(self, part: Part) -> int:
        """Place of a part among the net's. Raises PartError for one that the net does not have."""
        if part not in self.parts:
            raise PartError(
                f"The net has no {part.name}: its parts are {', '.join(p.name for p in self.parts)}."
            )
        return self.parts.index(part)

    def bars_of(self, part: Part) -> Ints:
        """Numbers of the bars of a part."""
        return np.flatnonzero(self.bar_parts == self.number_of(part))

    def knots_of(self, part: Part) -> Ints:
        """Numbers of the knots of a part."""
        return np.flatnonzero(self.knot_parts == self.number_of(part))

    def bars_that(self, trait: Callable[[Kind], bool]) -> Bools:
        """Which bars are of kinds that have a trait (m,)."""
        return np.array([trait(part.kind) for part in self.parts])[self.bar_parts]

    def knots_that(self, trait: Callable[[Kind], bool]) -> Bools:
        """Which knots are of kinds that have a trait (n,)."""
        return np.array([trait(part.kind) for part in self.parts])[self.knot_parts]
