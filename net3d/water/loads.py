"""The loads on a net in one current: drag as a range over the published models, and what has to bear it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from net3d.netting.netting import Floats, Netting
from net3d.parts import ANCHOR_LINE, BRIDLE, Part
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.statics.settle import GOOD
from net3d.statics.shape import Shape
from net3d.water.by_model import DragRange, ModelDrag, drag_range
from net3d.water.guides import StandingWall, standing_guides
from net3d.water.holding import AnchorLine
from net3d.water.hoops import HoopLoad, hoop_loads
from net3d.water.river import currents_of, stream_of
from net3d.water.standing import stand_in
from net3d.water.water import Bands, Standing

Stands = tuple[float, Standing, tuple[StandingWall, ...]]  # current [m/s], net, wings and leader


@dataclass(frozen=True, eq=False)
class Loads:
    """A net in one current. SI units."""

    current: float  # as the spec means it: see [water] current_at [m/s]
    standing: Standing
    range: DragRange
    anchor_pull: float  # along the bottom, of the pull and the middle drag together
    anchor_pull_high: float  # the same with the highest drag
    line: AnchorLine | None  # the anchor line under the highest, where there is one
    line_tension: float  # at the anchored end, as the shape has it
    leg_tension: float  # of the tightest bridle leg, 0 without a bridle
    waist: float | None  # narrowest diameter of the body between round hoops
    twine_part: Part  # where twine is nearest to its strength
    twine_tension: float
    twine_share: float  # of its wet knotted strength
    string_tension: float  # of the tightest string of a throat, 0 without throats
    hoops: tuple[HoopLoad, ...]
    guides: tuple[StandingWall, ...] = ()  # wings and leader, a side each

    @property
    def guide_drag(self) -> float:
        """Drag of wings and leader [N]."""
        return float(np.linalg.norm(sum((one.drag for one in self.guides), np.zeros(3))))

    @property
    def set_drag(self) -> float | None:
        """Drag of two nets and what stands between and beside them [N]; None for a net by itself."""
        if not paired(self.guides):
            return None
        total = sum((one.drag for one in self.guides), 2.0 * self.standing.drag.total)
        return float(np.linalg.norm(total))

    @property
    def models(self) -> tuple[ModelDrag, ...]:
        """What every model says, the one that the shape is found with first."""
        return self.range.models

    @property
    def drag(self) -> float:
        """Drag by the model that the shape is found with [N]."""
        return self.range.drag

    @property
    def drag_low(self) -> float:
        """Least that is to be reckoned with [N]."""
        return self.range.low

    @property
    def drag_high(self) -> float:
        """Most that is to be reckoned with [N]."""
        return self.range.high


def river_loads(
    spec: NetSpec,
    plan: Plan,
    tied: tuple[Netting, Shape],
    announce: Callable[[float], None] = lambda current: None,
) -> tuple[Loads, ...]:
    """The loads in every current [m/s] that the spec names; none without one, or without a shape."""
    named = currents_of(spec) if tied[1].state in GOOD else ()
    return loads_in(spec, plan, tied, named, announce)


def loads_in(
    spec: NetSpec,
    plan: Plan,
    tied: tuple[Netting, Shape],
    currents: tuple[float, ...],
    announce: Callable[[float], None] = lambda current: None,
) -> tuple[Loads, ...]:
    """The loads in every current, each shape found from those before.

    Parameters
    ----------
    tied : the netting and its shape in still water
    currents : slowest first [m/s]
    announce : told each current [m/s] before it is worked out
    """
    netting, shape = tied[0].pulled(spec.rigging.pull), tied[1]
    rows: list[Loads] = []
    for current in currents:
        announce(current)
        weaker = tuple(loads.standing for loads in rows[-2:])
        standing = stand_in(netting, plan, shape, stream_of(spec, plan, current), weaker)
        before = rows[-1].guides if rows else ()
        guides = standing_guides(spec, plan, current, before, abs(float(standing.drag.total[0])))
        rows.append(_loads(spec, plan, (current, standing, guides), netting))
    return tuple(rows)


def _loads(spec: NetSpec, plan: Plan, stands: Stands, netting: Netting) -> Loads:
    current, standing, guides = stands
    found = drag_range(plan, netting, standing)
    scale = found.high / found.drag
    pulls = [_anchor_pull(netting, (standing, guides), times) for times in (1.0, scale)]
    bridle = spec.rigging.bridle
    legs = (bridle.legs, bridle.length) if bridle else None
    part, tension, share = _tightest(netting, standing.tensions)
    return Loads(
        current=current,
        standing=standing,
        range=found,
        anchor_pull=pulls[0],
        anchor_pull_high=pulls[1],
        line=_line(spec, plan, netting, (pulls[1], scale * _rope_drag(netting, standing))),
        line_tension=_most(netting, standing, ANCHOR_LINE),
        leg_tension=_most(netting, standing, BRIDLE),
        waist=_waist(plan, netting, standing.bands),
        twine_part=part,
        twine_tension=tension,
        twine_share=share,
        string_tension=max((_most(netting, standing, t.strings_part) for t in plan.throats), default=0.0),
        hoops=hoop_loads(netting, plan, standing.positions, standing.tensions, legs),
        guides=guides,
    )


def paired(guides: tuple[StandingWall, ...]) -> bool:
    """Whether a leader joins the net to a second one."""
    return any(one.wall.plan.spec.pair for one in guides)


def _anchor_pull(netting: Netting, stands: tuple[Standing, tuple[StandingWall, ...]], scale: float) -> float:
    """What the anchor holds along the bottom: the pull and the drag, scaled from the middle one [N].

    Wings and leader pull at the mouth, which hands it on; where they would hold against the drag, they do not
    count. Of a pair the anchor up the stream bears what the river pulls along both nets: as much along the
    second as along the first.
    """
    standing, guides = stands
    along = np.array([1.0, 0.0, 0.0])
    pull = netting.pull * standing.stream.toward * along + scale * standing.drag.total
    if paired(guides):
        pull = pull + scale * standing.drag.total * along
    at_mouth = scale * sum((one.mouth_pull for one in guides if one.still), np.zeros(3))
    return max(float(np.linalg.norm(force[:2])) for force in (pull, pull + at_mouth))


def _line(spec: NetSpec, plan: Plan, netting: Netting, pulls: tuple[float, float]) -> AnchorLine | None:
    """The anchor line, if there is one; ``pulls``: along the bottom, and the ropes' part of it [N]."""
    if ANCHOR_LINE not in netting.parts:
        return None
    hoop = plan.hoops[-1 if spec.rigging.anchor == "tail" else 0]
    pull, rope_drag = pulls
    return AnchorLine(pull, spec.rigging.line, -hoop.outline.reach[0], spec.rigging.cordage, rope_drag)


def _rope_drag(netting: Netting, standing: Standing) -> float:
    """Drag of bridle and anchor line [N]."""
    ropes = [netting.bars_of(part) for part in netting.parts if part.kind.rope]
    return float(sum(np.linalg.norm(standing.drag.bar_forces[bars], axis=1).sum() for bars in ropes))


def _most(netting: Netting, standing: Standing, part: Part) -> float:
    if part not in netting.parts:
        return 0.0
    return float(standing.tensions[netting.bars_of(part)].max(initial=0.0))


def _tightest(netting: Netting, tensions: Floats) -> tuple[Part, float, float]:
    """Part, tension and share of its strength of the bar of twine nearest to breaking."""
    twine = netting.bars_that(lambda kind: kind.twine)
    shares = np.where(twine, tensions / netting.bar_strengths, 0.0)
    worst = int(shares.argmax())
    return netting.parts[netting.bar_parts[worst]], float(tensions[worst]), float(shares[worst])


def _waist(plan: Plan, netting: Netting, bands: Bands) -> float | None:
    """Least diameter of the sections between round hoops: the tail is gathered, and has no waist [m]."""
    sections = [netting.number_of(one.part) for one in plan.sections if plan.frame_of(one) is None]
    return 2.0 * float(bands.radii[np.isin(bands.parts, sections)].min()) if sections else None
