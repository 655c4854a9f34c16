"""What the equilibrium means for each section of the body: length, waist, tension, slack.

Between equal hoops, without weight, all bars pull alike at an angle f to the meridian. A bar b spans half
a pitch, ``sin f = c r / b`` at radius r with ``c = pi / N``, and balance keeps ``T cos^2 f`` all along.
So waist w and length follow from the knots' radius R and the n rows of bars between waist and hoop:
``n = (1 / c) integral_w^R sqrt(b^2 - c^2 w^2) / sqrt((b^2 - c^2 r^2) (r^2 - w^2)) dr`` and
``length = (2 / c) integral_w^R sqrt(b^2 - c^2 r^2) / sqrt(r^2 - w^2) dr``. Source: balance of a shell.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from net3d.netting.netting import Floats, Ints, Netting
from net3d.netting.sorting import distinct, quantile
from net3d.plan.plan import Plan, SectionPlan
from net3d.statics.equilibrium import Equilibrium
from net3d.statics.follows import section_follows
from net3d.statics.pulls import part_pulls
from net3d.statics.shape import SectionShape


def section_shapes(
    netting: Netting, plan: Plan, found: Equilibrium, bags: Floats
) -> tuple[SectionShape, ...]:
    """One record a section, mouth first; ``bags`` (hoops,): by how much each hangs shorter than free [m]."""
    follows = section_follows(netting, plan, found)
    return tuple(
        replace(_section(netting, section, found), follows=own, bag=bag)
        for section, own, bag in zip(plan.sections, follows, bags.tolist(), strict=False)
    )


def _section(netting: Netting, section: SectionPlan, found: Equilibrium) -> SectionShape:
    pulls, hoops = part_pulls(netting, section.part, found), found.hoop_positions
    return SectionShape(
        from_hoop=section.from_hoop,
        to_hoop=section.to_hoop,
        length=float(hoops[section.to_hoop - 1] - hoops[section.from_hoop - 1]),
        waist_diameter=_waist(netting, pulls.bars, found.positions),
        tension_min=float(pulls.tensions.min()),
        tension_mean=float(pulls.tensions.mean()),
        tension_max=float(pulls.tensions.max()),
        full_share=float(pulls.even_shares(netting.pull).mean()),
        body_share=pulls.axial() / netting.pull,
        slack_share=pulls.slack_share(netting.pull),
        looseness_max=float(max(pulls.looseness.max(), 0.0)),
        looseness_twentieth=quantile(pulls.looseness, 0.95),
    )


def _waist(netting: Netting, bars: Ints, positions: Floats) -> float:
    """Diameter of the narrowest row of knots, twice their mean distance from the row's own middle [m]."""
    knots = distinct(netting.bars[bars])
    rings = np.unique(netting.knot_rings[knots], return_inverse=True)[1]
    counts = np.bincount(rings)
    across = positions[knots, 1:]
    middles = np.stack([np.bincount(rings, across[:, axis]) / counts for axis in (0, 1)], axis=1)
    radii = np.linalg.norm(across - middles[rings], axis=1)
    return 2.0 * float((np.bincount(rings, radii) / counts).min())
