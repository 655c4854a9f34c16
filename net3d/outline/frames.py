"""Frames by the sizes that a maker reads off them: squares, rectangles and D frames, with rounded corners."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from math import hypot, pi

import numpy as np

from net3d.outline.polygon import TURN, Polygon, rectangle
from net3d.outline.spread import corner_arcs

FEET = {"square": 4, "rectangle": 4, "d": 2}  # corners that have the radius given
SIDES = {"square": 4, "rectangle": 4, "d": 2}  # between corners that are told
SIDEWAYS = {"square": 2.0, "rectangle": 2.0, "d": pi / 2}  # how often the girth holds the width


@dataclass(frozen=True)
class Frame:
    """A frame by its outside sizes [m]: ``shape`` is square, rectangle or d, flat below and half round above.

    Around it: ``C = s w + 2 h - k (2 - pi / 2) r`` with k corners of radius r, and s = 2, or pi / 2 for a D,
    whose top is half a circle of its width. Source: geometry.

    >>> round(Frame("rectangle", 0.9, 0.6, 0.05).girth, 4), round(Frame("d", 0.8, 1.0, 0.0).girth, 4)
    (2.9142, 3.2566)
    """

    shape: str
    width: float
    height: float
    corner: float
    sides: tuple[int, ...] = ()  # meshes from corner to corner, above first; () where they are even

    @property
    def girth(self) -> float:
        """Around the outside [m]."""
        return SIDEWAYS[self.shape] * self.width + 2 * self.height - self._cut

    @property
    def reach(self) -> float:
        """From the middle no point of it is further away than this [m]."""
        return hypot(self.width, self.height) / 2

    @cached_property
    def curve(self) -> Polygon:
        """The curve around its outside, its middle half way up. Raises ValueError for no such frame."""
        if not self.sides:
            return self._even
        tapes = self._even.corners[1:3] if self.shape == "d" else self._even.corners
        spread = zip(corner_arcs(self.sides).tolist(), tapes, strict=True)
        return replace(self._even, spread=tuple(spread))

    def side_lengths(self, inside: float) -> list[float]:
        """From corner to corner along what lies inside it by so much [m], above first [m]."""
        tapes = self._even.corners[1:3] if self.shape == "d" else self._even.corners
        around = np.diff([*tapes, tapes[0] + TURN])
        turned = np.array([pi / 2, 3 * pi / 2] if self.shape == "d" else [pi / 2] * 4)
        lengths: list[float] = np.roll(around / TURN * self.girth - inside * turned, 1).tolist()
        return lengths

    @cached_property
    def _even(self) -> Polygon:
        if self.shape != "d":
            return rectangle(self.width, self.height, self.corner)
        half, top = self.width / 2, self.height / 2
        points = ((half, top), (-half, top), (-half, -top), (half, -top))
        return Polygon(points, (half, half, self.corner, self.corner))

    def measured(self, girth: float) -> Frame:
        """The same, its corners kept, as large as makes it so long around [m]."""
        times = (girth + self._cut) / (self.girth + self._cut)
        return replace(self, width=times * self.width, height=times * self.height)

    @property
    def _cut(self) -> float:
        return FEET[self.shape] * (2 - pi / 2) * self.corner


def other_size(shape: str, girth: float, corner: float, size: float | None, *, wide: bool) -> float:
    """The size of a frame that its girth leaves for the other [m].

    Parameters
    ----------
    shape : square, rectangle or d
    girth : around the outside [m]
    corner : radius of its corners [m]
    size : its width where ``wide``, else its height [m]; None for a square, whose two sizes are alike

    Examples
    --------
    >>> round(other_size("rectangle", Frame("rectangle", 0.9, 0.6, 0.05).girth, 0.05, 0.9, wide=True), 6)
    0.6
    """
    sum_of_sides = girth + FEET[shape] * (2 - pi / 2) * corner
    if size is None:
        return sum_of_sides / (SIDEWAYS[shape] + 2)
    if wide:
        return (sum_of_sides - SIDEWAYS[shape] * size) / 2
    return (sum_of_sides - 2 * size) / SIDEWAYS[shape]
