"""What was measured of the net as built, and how far what is measured and tied may be off."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot


@dataclass(frozen=True)
class BuiltSpec:
    """The net as it was built. Lengths in m, None or empty where nothing was measured."""

    planned: float  # stretched mesh as it was to be
    ten_meshes: float | None
    length: float | None  # from the first hoop to the last, as it hung
    apart: tuple[float, ...]  # from hoop to hoop, likewise

    @property
    def gain(self) -> float:
        """By how much the body's meshes came out larger than planned [-]."""
        return 0.0 if self.ten_meshes is None else self.ten_meshes / (10 * self.planned) - 1.0


@dataclass(frozen=True)
class TolerancesSpec:
    """How far what is measured and tied may be off, either way: parts of the whole, lengths in m."""

    gauge: float  # of the mesh, the whole net alike
    knot_to_knot: float  # each bar by itself
    wet: float  # of the mesh, from dry to wet
    dip: float  # of the mesh, from dip and drawn knots; 0 where the net is not dipped
    stretch: float  # of the twine's stretch under the pull
    pull: float
    tape: float  # around a hoop
    string: float  # from knot to knot

    @property
    def common(self) -> float:
        """Of the mesh of the whole net, by all that is alike in it [-].

        ``sqrt(gauge^2 + wet^2 + dip^2)``, the three being independent. Source: propagation of errors.
        """
        return hypot(self.gauge, self.wet, self.dip)
