"""The helical lines of a net whose hoops are all true: how they run, and how hard they pull."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from net3d.netting import tie
from net3d.netting.netting import Netting
from net3d.plan.bow import FLAT
from net3d.plan.plan import Plan, SectionPlan
from net3d.spec.spec import NetSpec
from net3d.statics import settle
from net3d.statics.shape import Shape

Floats = NDArray[np.float64]

FAMILIES = (1.0, -1.0)  # lines that turn clockwise on their way to the tail, and the others


@dataclass(frozen=True)
class Direction:
    """Where the lines of the clockwise family point at a hoop, on their way to the tail; parts of one."""

    along: float  # the net
    outward: float
    around: float  # clockwise


@dataclass(frozen=True)
class Lines:
    """The lines of a section: where they leave a hoop for, where they reach the next from."""

    turn: float  # angle between the two ends of a line, n pi / N [rad]
    leaving: Direction
    reaching: Direction
    weight: float  # of a squared stretch: 1 / (n b T)^2, T by the mean of the net [1/m^2]


def lines_of(spec: NetSpec, plan: Plan) -> tuple[Lines, ...]:
    """The lines of every section of the body, were its hoops flat and round; one equilibrium.

    An end state that is not at rest leaves directions that mean little; the ways solved in full then say so.
    """
    hoops = tuple(replace(hoop, bow=FLAT, oval=FLAT) for hoop in plan.hoops)
    true = replace(plan, hoops=hoops, throats=())
    netting = tie(spec, true)
    shape = settle(netting, true)
    pulls = np.array([section.tension_mean for section in shape.sections])
    shares = pulls / pulls.mean()
    pairs = zip(true.sections, shares, strict=True)
    return tuple(_lines(netting, shape, section, share) for section, share in pairs)


def _lines(netting: Netting, shape: Shape, section: SectionPlan, share: float) -> Lines:
    bars = netting.bars_of(section.part)
    rows = netting.bar_rows[bars]
    ends = (bars[rows == rows.min()], 0), (bars[rows == rows.max()], 1)
    leaving, reaching = (_direction(netting, shape, *end) for end in ends)
    around = netting.bar_places[ends[0][0]].max() + 1
    length = float(netting.bar_lengths[bars].mean() * section.bar_rows)
    turn = section.bar_rows * np.pi / float(around)
    return Lines(turn, leaving, reaching, 1.0 / (length * share) ** 2)


def _direction(netting: Netting, shape: Shape, bars: NDArray[np.int64], end: int) -> Direction:
    """Mean direction of some bars toward the tail, by the angle of their knots at an end on a hoop."""
    knots = netting.bars[bars]
    spans = shape.knot_positions[knots[:, 1]] - shape.knot_positions[knots[:, 0]]
    spans /= np.linalg.norm(spans, axis=1)[:, None]
    angles = netting.knot_angles[knots[:, end]]
    outward = spans[:, 2] * np.cos(angles) - spans[:, 1] * np.sin(angles)
    around = -spans[:, 1] * np.cos(angles) - spans[:, 2] * np.sin(angles)
    return Direction(float(spans[:, 0].mean()), float(outward.mean()), float(np.abs(around).mean()))
