"""What is chalked on every hoop: the marks of its rows of netting, and the ties between them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.parts import BRIDLE, Part
from net3d.plan.joins import Row
from net3d.plan.legs import leg_arcs
from net3d.plan.marking import mark_readings, step_around
from net3d.plan.plan import HoopPlan, Plan, ThroatPlan
from net3d.spec.spec import NetSpec

HAIR = 1e-9  # rad, so that the reference mark itself is the first place, and not the last


@dataclass(frozen=True, eq=False)
class Marking:
    """One set of marks on a hoop. Lengths in m."""

    hoop: HoopPlan
    body: bool  # whether a mark takes the body
    throats: tuple[Part, ...]  # that it takes, in the same hitches
    row: Row  # its angles counted from the hoop's own reference mark
    first: int  # number of the mark that takes the first knot of the netting's row
    readings: tuple[float, ...]
    stepped_pitch: float
    stepping_error: float

    @property
    def pitch(self) -> float:
        """From mark to mark along the outside [m]."""
        return self.hoop.outline.pitch(self.row.count)

    @property
    def offset(self) -> float:
        """From the reference mark to the first mark, over a pitch [-]."""
        return self.row.phase / self.row.pitch


@dataclass(frozen=True)
class Ties:
    """Places between the marks of a hoop where a part is tied to it."""

    part: Part  # the bridle, or a throat's strings
    angles: tuple[float, ...]  # from the hoop's own reference mark [rad]
    readings: tuple[float, ...]  # of the tape [m]


def markings(spec: NetSpec, plan: Plan) -> tuple[Marking, ...]:
    """The marks of every hoop, mouth first; a throat's own marks after those of the body."""
    return tuple(marking for hoop in plan.hoops for marking in marks_on(spec, plan, hoop))


def marks_on(spec: NetSpec, plan: Plan, hoop: HoopPlan) -> tuple[Marking, ...]:
    """The marks of a hoop: the body's, which throats may share, then those of throats with their own."""
    throats = [throat for throat in plan.throats if throat.hoop == hoop.number]
    shared = tuple(throat.part for throat in throats if not throat.own_marks)
    body = Marking(
        hoop=hoop,
        body=True,
        throats=shared,
        row=hoop.row.seen_from(hoop.turn),
        first=hoop.row.place_of_first(hoop.turn),
        readings=tuple(hoop.marks.tolist()),  # turned by whole meshes, so the same from any of the marks
        stepped_pitch=hoop.stepped_pitch,
        stepping_error=hoop.stepping_error,
    )
    return (body, *(_own_marks(spec, hoop, throat) for throat in throats if throat.own_marks))


def ties_on(spec: NetSpec, plan: Plan, hoop: HoopPlan) -> tuple[Ties, ...]:
    """What else is tied to a hoop: the bridle's legs at the mouth, then throats' strings."""
    tied = []
    if hoop.number == 1 and spec.rigging.bridle is not None:
        tied.append((BRIDLE, leg_arcs(hoop, spec.rigging.bridle.legs)))
    tied += [
        (throat.strings_part, Row(throat.strings.points, throat.strings.turn).angles())
        for throat in plan.throats
        if throat.strings.to_hoop == hoop.number
    ]
    return tuple(_tied(spec, hoop, part, arcs) for part, arcs in tied)


def _tied(spec: NetSpec, hoop: HoopPlan, part: Part, arcs: NDArray[np.float64]) -> Ties:
    """Ties at arcs from the top of the net [rad], as the hoop's own tape finds them."""
    own = np.sort((arcs - hoop.turn + HAIR) % (2 * np.pi) - HAIR)
    return Ties(part, tuple(own.tolist()), _on_tape(hoop, own, spec.marking.round))


def _own_marks(spec: NetSpec, hoop: HoopPlan, throat: ThroatPlan) -> Marking:
    row = throat.piece.rows[0]
    stepped_pitch, stepping_error = step_around(hoop.circumference, row.count, spec.marking.round)
    return Marking(
        hoop=hoop,
        body=False,
        throats=(throat.part,),
        row=row.seen_from(hoop.turn),
        first=row.place_of_first(hoop.turn),
        readings=_readings(spec, hoop, row),
        stepped_pitch=stepped_pitch,
        stepping_error=stepping_error,
    )


def _readings(spec: NetSpec, hoop: HoopPlan, row: Row) -> tuple[float, ...]:
    """Tape readings of some places, from the hoop's own reference mark clockwise [m]."""
    own, step = row.seen_from(hoop.turn), spec.marking.round
    if hoop.outline.curve.spread:
        return _on_tape(hoop, own.angles(), step)
    offset = hoop.outline.length(own.phase)
    return tuple(mark_readings(hoop.circumference, own.count, offset, step).tolist())


def _on_tape(hoop: HoopPlan, arcs: NDArray[np.float64], step: float) -> tuple[float, ...]:
    """Tape readings of arcs from the hoop's own reference mark [rad], in steps of the tape [m]."""
    lengths = np.array([hoop.outline.length(arc) for arc in arcs.tolist()])
    return tuple((np.round(lengths / step) * step + 0.0).tolist())
