"""The net where it works: in the current that its spec names, or in a slow one where it names none."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.handbook.water import water_constant
from net3d.netting.netting import Netting
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.statics.settle import GOOD, measured
from net3d.statics.shape import Shape
from net3d.statics.windows import Window
from net3d.water.guides import StandingWall, standing_guides
from net3d.water.loads import Loads
from net3d.water.river import currents_of, stream_of
from net3d.water.standing import stand_in
from net3d.water.water import Standing


@dataclass(frozen=True, eq=False)
class Working:
    """A net with throats as it stands in a current."""

    current: float  # as the spec means it, or as it is assumed [m/s]
    named: bool  # whether the spec names it
    tied: Netting  # pulled by its drag too
    shape: Shape  # tensions and shares of pull and drag together
    guides: tuple[StandingWall, ...] = ()  # wings and leader there


def working_net(
    spec: NetSpec, plan: Plan, tied: tuple[Netting, Shape], loads: tuple[Loads, ...]
) -> Working | None:
    """The net where it works; None for one without throats, whose shape no current changes much.

    Parameters
    ----------
    tied : the netting and its shape in still water
    loads : in the currents that the spec names, slowest first
    """
    netting, shape = tied[0].pulled(spec.rigging.pull), tied[1]
    if not shape.throats or shape.state not in GOOD:
        return None
    current = spec.rigging.current or min(currents_of(spec), default=water_constant("slow_current"))
    at = [row for row in loads if row.current == current]
    standing = at[0].standing if at else stand_in(netting, plan, shape, stream_of(spec, plan, current))
    if standing.state not in GOOD:
        return None
    along = abs(float(standing.drag.total[0]))
    guides = at[0].guides if at else standing_guides(spec, plan, current, (), along)
    return Working(current, bool(at), standing.tied, shape_in(plan, shape, standing), guides)


def shape_in(plan: Plan, shape: Shape, standing: Standing) -> Shape:
    """The shape of a net in a stream, its strings fitted in still water."""
    # Where less pulls than in still water, the body would hang shorter than there by what it stretches less.
    stretched = np.array(
        [*(section.follows.stretch for section in shape.sections), shape.tail_follows.stretch]
    )
    less = 1.0 - min(standing.tied.pull / plan.pull, 1.0)
    window = Window(
        tuple(throat.strings for throat in shape.throats), np.array(shape.free) - less * stretched
    )
    return replace(measured(standing.tied, plan, standing.rest, window), state=standing.state)
