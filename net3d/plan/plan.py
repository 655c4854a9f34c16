"""The plan: whole-number trade arithmetic of a net, before any statics."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.handbook.twine import Twine


@dataclass(frozen=True, eq=False)
class HoopPlan:
    """One hoop and how its netting is spread along it. Lengths in m, measured outside with a tape."""

    number: int
    outside_diameter: float
    rod_diameter: float
    material: str
    knot_row: int  # which row of the body's knots is laced to this hoop, 0 at the mouth
    meshes_around: int
    pitch: float  # pi D / N
    hanging_ratio: float  # E1 = pi d / (N m), d the knot circle
    depth_ratio: float  # E2 = sqrt(1 - E1^2)
    half_pitch_off: bool  # the row starts half a pitch off the reference mark
    mark_offset: float  # from the reference mark to the row's first mark: 0 or pitch / 2
    marks: NDArray[np.float64]  # (N,) tape readings from the reference mark, each rounded once
    stepped_pitch: float  # the pitch rounded to the tape
    stepping_error: float  # by how much N steps of it overshoot (+) or fall short (-) of the circumference

    @property
    def circumference(self) -> float:
        """Outside circumference, pi D [m]."""
        return float(np.pi * self.outside_diameter)

    @property
    def knot_circle_diameter(self) -> float:
        """Diameter of the circle on which the knots sit, inside the rod: D - 2 rod [m]."""
        return self.outside_diameter - 2.0 * self.rod_diameter


@dataclass(frozen=True)
class SectionPlan:
    """The netting between a hoop and the next."""

    from_hoop: int
    to_hoop: int
    bar_rows: int  # 2 x meshes deep
    spacing: float | None  # distance held by spreader rods [m]; None: free to slide

    @property
    def part(self) -> str:
        """Name of the part in every output."""
        return f"section-{self.from_hoop}-{self.to_hoop}"

    @property
    def meshes_deep(self) -> float:
        """Depth in meshes, whole or half."""
        return self.bar_rows / 2


@dataclass(frozen=True)
class Plan:
    """What to mark, knit and buy for the body."""

    meshes_around: int
    stretched_mesh: float  # m
    twine: Twine
    hoops: tuple[HoopPlan, ...]
    sections: tuple[SectionPlan, ...]
    tail_rows: int  # rows of bars behind the last hoop, 0 without a tail
    knots: int
    twine_length: float  # m, knots counted
    twine_mass: float  # kg

    @property
    def bar(self) -> float:
        """One side of a mesh, half of the stretched mesh [m]."""
        return self.stretched_mesh / 2
