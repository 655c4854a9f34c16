"""The helical lines of a net whose hoops are all true: how they run, and how hard they pull."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from net3d.netting import tie
from net3d.netting.carriers import FIRST_WAVES, rod_of
from net3d.netting.netting import Netting
from net3d.outline.elastic import across_stiffness, within_stiffness
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
    yielding: Floats  # (families, N, waves) by how much a line is let out as a wave of its hoops grows
    holding: Floats  # (waves,) what holds each of these waves, over an even share [1/m]


def lines_of(spec: NetSpec, plan: Plan) -> tuple[Lines, ...]:
    """The lines of every section of the body, were its hoops flat and round; one equilibrium.

    An end state that is not at rest leaves directions that mean little; the ways solved in full then say so.
    """
    hoops = tuple(replace(hoop, outline=hoop.outline.trued()) for hoop in plan.hoops)
    true = replace(plan, hoops=hoops, throats=())
    netting = tie(spec, true)
    shape = settle(netting, true)
    return tuple(_lines(netting, shape, true, section) for section in true.sections)


def _lines(netting: Netting, shape: Shape, plan: Plan, section: SectionPlan) -> Lines:
    bars = netting.bars_of(section.part)
    rows = netting.bar_rows[bars]
    first, last = bars[rows == rows.min()], bars[rows == rows.max()]
    knots = np.unique(netting.bars[first, 0])
    stretches = netting.stretches(shape.bar_tensions)[bars]
    starts, turn = netting.knot_angles[knots], section.bar_rows * np.pi / len(knots)
    ends = (
        (section.from_hoop, -1.0, _direction(netting, shape, first, 0), 0.0),
        (section.to_hoop, 1.0, _direction(netting, shape, last, 1), turn),
    )
    waves = [
        wave
        for hoop, sign, direction, turned in ends
        for wave in _hoop_waves(plan, hoop, direction, (starts, sign, turned))
    ]
    return Lines(
        starts=starts,
        turn=turn,
        leaving=ends[0][2],
        reaching=ends[1][2],
        give=float(stretches.mean() * section.bar_rows),
        yielding=np.stack([lets_out for lets_out, _ in waves], axis=-1),
        holding=np.array([held for _, held in waves]) / float(shape.bar_tensions[bars].mean()),
    )


def _hoop_waves(
    plan: Plan, number: int, direction: Direction, ends: tuple[Floats, float, float]
) -> Iterator[tuple[Floats, float]]:
    """How each wave of an elastic hoop moves the ends of lines (families, N), and what holds it [N/m].

    A hoop between two sections gives way to either: half of what holds it counts to each. ``ends`` are where
    the lines leave the hoop before [rad], which of their ends this is, and how far they have turned by then.
    """
    starts, sign, turn = ends
    rod, count = rod_of(plan.hoops[number - 1]), 1.0 if number in (1, len(plan.hoops)) else 0.5
    angles = np.stack([starts + family * turn for family in FAMILIES])
    families = np.array(FAMILIES)[:, None]
    for wave in FIRST_WAVES:
        for phase in (0.0, np.pi / 2):
            grown, along = np.cos(wave * angles - phase), -np.sin(wave * angles - phase) / wave
            yield sign * direction.along * grown, count * across_stiffness(rod, wave)
            within = direction.outward * grown + families * direction.around * along
            yield sign * within, count * within_stiffness(rod, wave)


def _direction(netting: Netting, shape: Shape, bars: NDArray[np.int64], end: int) -> Direction:
    """Mean direction of some bars toward the tail, by the angle of their knots at an end on a hoop."""
    knots = netting.bars[bars]
    spans = shape.knot_positions[knots[:, 1]] - shape.knot_positions[knots[:, 0]]
    spans /= np.linalg.norm(spans, axis=1)[:, None]
    angles = netting.knot_angles[knots[:, end]]
    outward = spans[:, 2] * np.cos(angles) - spans[:, 1] * np.sin(angles)
    around = -spans[:, 1] * np.cos(angles) - spans[:, 2] * np.sin(angles)
    return Direction(float(spans[:, 0].mean()), float(outward.mean()), float(np.abs(around).mean()))
