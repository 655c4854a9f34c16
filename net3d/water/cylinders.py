"""Every bar, string, line and hoop as a slender cylinder in the flow."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from net3d.handbook.drag import cylinder_drag
from net3d.handbook.water import water_constant
from net3d.netting.netting import Floats, Netting
from net3d.outline.curves import even
from net3d.outline.outline import Outline
from net3d.outline.pose import Pose
from net3d.parts import Part
from net3d.water.models import caught_solidity
from net3d.water.water import Bands, Stream

HOOP_PIECES = 72  # straight pieces that a hoop is taken for


@dataclass(frozen=True, eq=False)
class Cylinders:
    """Straight pieces in the flow (k,): spans [m], diameters [m] and water speeds [m/s]."""

    spans: Floats  # (k, 3)
    diameters: Floats  # (k,)
    speeds: Floats  # (k,)


def cylinder_forces(pieces: Cylinders, direction: Floats, share: float) -> Floats:
    """Force on straight pieces by the cross-flow principle (k, 3) [N].

    ``F = rho d L / 2 (Cn(Re_n) |u_n| u_n + share Cn(Re) |u_t| u_t)``, u_n and u_t the water's speed across
    and along a piece, Re_n = |u_n| d / nu, Re = |u| d / nu.

    Parameters
    ----------
    pieces : spans, diameters and speeds
    direction : where the water flows (3,), of length 1 [-]
    share : drag along over drag across for each area, 0 to 1 [-]

    Source: Hoerner, Fluid-Dynamic Drag, 1965, chapter 3 (from memory); coefficients in
    ``handbook/cylinder_drag.csv``.

    Examples
    --------
    >>> metre = Cylinders(np.array([[0.0, 0.0, 1.0]]), np.array([0.01]), np.array([1.0]))
    >>> cylinder_forces(metre, np.array([1.0, 0.0, 0.0]), 0.3).round(2).tolist()
    [[5.42, 0.0, 0.0]]
    """
    viscosity = water_constant("kinematic_viscosity")
    lengths = np.linalg.norm(pieces.spans, axis=1)
    axes = pieces.spans / np.maximum(lengths, np.finfo(float).tiny)[:, None]
    water = pieces.speeds[:, None] * direction
    along = np.sum(water * axes, axis=1)[:, None] * axes
    across = water - along
    fast_across = np.linalg.norm(across, axis=1)
    normal = cylinder_drag(fast_across * pieces.diameters / viscosity) * fast_across
    whole = cylinder_drag(pieces.speeds * pieces.diameters / viscosity)
    tangential = share * whole * np.linalg.norm(along, axis=1)
    pressure = water_constant("fresh_water_density") / 2 * pieces.diameters * lengths
    return np.asarray(pressure[:, None] * (normal[:, None] * across + tangential[:, None] * along))


def bar_forces(
    netting: Netting, positions: Floats, speeds: Floats, flow: tuple[Bands, Stream], share: float
) -> Floats:
    """Drag of every bar (m, 3) [N].

    Parameters
    ----------
    netting : its m bars
    positions : of the knots (n, 3) [m]
    speeds : of the water at the bars (m,) [m/s]
    flow : rows of netting, and the stream
    share : drag along twine over drag across it for each area [-]
    """
    bands, stream = flow
    ends = positions[netting.bars]
    pieces = Cylinders(ends[:, 1] - ends[:, 0], netting.bar_diameters, speeds)
    widths = bar_widths(netting, bands, stream)
    return np.asarray(cylinder_forces(pieces, stream.direction, share) * widths[:, None])


def bar_widths(netting: Netting, bands: Bands, stream: Stream) -> Floats:
    """By how much knots and debris widen every bar to the flow (m,) [-]: 1 for strings and lines.

    Debris counts as more twine of the same kind, and bunched netting as no more than its outline.
    """
    netted = bands.bar_bands >= 0
    clean = bands.twine_areas / bands.areas
    grown = caught_solidity(bands, stream, clean) / clean
    widths = np.ones(len(netting.bars))
    widths[netted] = water_constant("knotted_over_knotless") * grown[bands.bar_bands[netted]]
    return widths


def ring_pieces(outline: Outline, pose: Pose, inside: float) -> tuple[Floats, Floats]:
    """What lies inside an outline by so much [m] as straight pieces: spans and middles (72, 3) each [m].

    The spans are chords, made as long together as what they stand for.
    """
    ends = even(HOOP_PIECES)
    corners = pose.points(outline, ends, inside)
    chords = np.roll(corners, -1, axis=0) - corners
    spans = chords * (outline.inner_girth(inside) / np.linalg.norm(chords, axis=1).sum())
    return spans, pose.points(outline, ends + ends[1] / 2, inside)


def twine_area(netting: Netting, bands: Bands) -> dict[Part, float]:
    """Diameter times length of the twine of every netting part, knots included [m^2]."""
    areas = bands.twine_areas + bands.knot_areas
    sums = np.bincount(bands.parts, areas, len(netting.parts))
    return {part: float(sums[number]) for number, part in enumerate(netting.parts) if part.kind.shelters}
