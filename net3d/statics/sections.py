"""What the equilibrium means for each section of the body: length, waist, tension, slack."""

from __future__ import annotations

import numpy as np

from net3d.netting.netting import Floats, Ints, Netting
from net3d.plan.plan import Plan, SectionPlan
from net3d.statics.balance import bar_spans
from net3d.statics.shape import SectionShape

FLAT = 1e-12  # sum of a row's cosines: netting that lies flat around has no share in an axial pull
SLACK = 0.02  # of its full share: below it a bar is slack (DESIGN: one definition for all)


def section_shapes(
    netting: Netting, plan: Plan, positions: Floats, tensions: Floats, hoop_positions: Floats
) -> tuple[SectionShape, ...]:
    """One record a section, mouth first."""
    spans, distances = bar_spans(netting, positions)
    return tuple(
        _section(netting, section, (positions, spans, distances, tensions), hoop_positions)
        for section in plan.sections
    )


def full_shares(pull: float, rows: Ints, spans: Floats, distances: Floats) -> Floats:
    """Tension of each bar if the body alone took the pull there, evenly over its row (k,) [N].

    ``T = P / sum of cos f`` over the bars of a row, f the angle of a bar to the axis.
    """
    axial = np.abs(spans[:, 0]) / np.maximum(distances, np.finfo(float).tiny)
    sums = np.bincount(rows, axial)
    return np.asarray(pull / np.maximum(sums, FLAT))[rows]


def _section(
    netting: Netting,
    section: SectionPlan,
    state: tuple[Floats, Floats, Floats, Floats],
    hoop_positions: Floats,
) -> SectionShape:
    positions, spans, distances, tensions = state
    bars = netting.bars_of(section.part)
    rows, pulls = netting.bar_rows[bars], tensions[bars]
    full = full_shares(netting.pull, rows, spans[bars], distances[bars])
    axial = pulls * spans[bars, 0] / np.maximum(distances[bars], np.finfo(float).tiny)
    looseness = 1.0 - distances[bars] / netting.bar_lengths[bars]
    return SectionShape(
        from_hoop=section.from_hoop,
        to_hoop=section.to_hoop,
        length=float(hoop_positions[section.to_hoop - 1] - hoop_positions[section.from_hoop - 1]),
        waist_diameter=_waist(netting, bars, positions),
        tension_min=float(pulls.min()),
        tension_mean=float(pulls.mean()),
        tension_max=float(pulls.max()),
        full_share=float(full.mean()),
        body_share=float(np.bincount(rows, axial).mean()) / netting.pull,
        slack_share=float(np.mean(pulls < SLACK * full)),
        looseness_max=float(max(looseness.max(), 0.0)),
        looseness_twentieth=float(np.quantile(looseness, 0.95)),
    )


def _waist(netting: Netting, bars: Ints, positions: Floats) -> float:
    """Diameter of the narrowest row of knots, twice their mean distance from the row's own middle [m]."""
    knots = np.unique(netting.bars[bars])
    rings = np.unique(netting.knot_rings[knots], return_inverse=True)[1]
    counts = np.bincount(rings)
    across = positions[knots, 1:]
    middles = np.stack([np.bincount(rings, across[:, axis]) / counts for axis in (0, 1)], axis=1)
    radii = np.linalg.norm(across - middles[rings], axis=1)
    return 2.0 * float((np.bincount(rings, radii) / counts).min())
