"""The helical lines of a net whose hoops are all true: how they run, and how hard they pull."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from net3d.netting import tie
from net3d.netting.netting import Netting
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


@dataclass(frozen=True, eq=False)
class Lines:
    """The lines of a section: where they leave a hoop for, where they reach the next from."""

    starts: Floats  # (N,) where they leave, from the top [rad]
    turn: float  # angle between the two ends of a line, n pi / N [rad]
    leaving: Direction
    reaching: Direction
    give: float  # by how much a line stretches that pulls an even share, n b T / EA [m]


def lines_of(spec: NetSpec, plan: Plan) -> tuple[Lines, ...]:
    """The lines of every section of the body, were its hoops flat and round; one equilibrium.

    An end state that is not at rest leaves directions that mean little; the ways solved in full then say so.
    """
    hoops = tuple(replace(hoop, outline=hoop.outline.trued()) for hoop in plan.hoops)
    true = replace(plan, hoops=hoops, throats=())
    netting = tie(spec, true)
    shape = settle(netting, true)
    return tuple(_lines(netting, shape, section) for section in true.sections)


def _lines(netting: Netting, shape: Shape, section: SectionPlan) -> Lines:
    bars = netting.bars_of(section.part)
    rows = netting.bar_rows[bars]
    first, last = bars[rows == rows.min()], bars[rows == rows.max()]
    knots = np.unique(netting.bars[first, 0])
    stretches = shape.bar_tensions[bars] * netting.bar_lengths[bars] / netting.bar_stiffnesses[bars]
    return Lines(
        starts=netting.knot_angles[knots],
        turn=section.bar_rows * np.pi / len(knots),
        leaving=_direction(netting, shape, first, 0),
        reaching=_direction(netting, shape, last, 1),
        give=float(stretches.mean() * section.bar_rows),
    )


def _direction(netting: Netting, shape: Shape, bars: NDArray[np.int64], end: int) -> Direction:
    """Mean direction of some bars toward the tail, by the angle of their knots at an end on a hoop."""
    knots = netting.bars[bars]
    spans = shape.knot_positions[knots[:, 1]] - shape.knot_positions[knots[:, 0]]
    spans /= np.linalg.norm(spans, axis=1)[:, None]
    angles = netting.knot_angles[knots[:, end]]
    outward = spans[:, 2] * np.cos(angles) - spans[:, 1] * np.sin(angles)
    around = -spans[:, 1] * np.cos(angles) - spans[:, 2] * np.sin(angles)
    return Direction(float(spans[:, 0].mean()), float(outward.mean()), float(np.abs(around).mean()))
