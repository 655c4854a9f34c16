"""The loads on a net in one current: drag as a range over the published models, and what has to bear it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import degrees, radians

import numpy as np

from net3d.handbook.drag import DragModel, drag_models
from net3d.handbook.table import read_table
from net3d.handbook.water import water_constant
from net3d.netting.netting import Floats, Netting
from net3d.parts import ANCHOR_LINE, BRIDLE, Part
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.statics.settle import GOOD
from net3d.statics.shape import Shape
from net3d.water.bands import bar_normals
from net3d.water.cylinders import bar_forces
from net3d.water.holding import AnchorLine
from net3d.water.hoops import HoopLoad, hoop_loads
from net3d.water.models import Screens, bag_force, caught_solidity, in_range, screen_forces
from net3d.water.standing import stand_in
from net3d.water.water import Bands, Standing, Stream

SUMS = {
    "cylinder sum, smooth twine": "tangential_share_low",
    "cylinder sum": "tangential_share",
    "cylinder sum, rough twine": "tangential_share_high",
}
MIDDLE = "cylinder sum"
CROSS_FLOW = "cross-flow principle on every bar, Hoerner, Fluid-Dynamic Drag 1965 (from memory)"
MOSTLY = 0.5  # of the netting's outline must face the flow, or lie in a model's range, for it to count
ALONG = 15.0  # degrees in plan up to which the flow runs along the net: common practice
UNKNOTTED = "Milne knotless"  # hand-tied and sheet netting are both knotted here


@dataclass(frozen=True)
class ModelDrag:
    """What one model says the whole net pulls, along the flow [N], and why it counts or does not."""

    name: str
    drag: float
    counts: bool
    remark: str
    source: str


@dataclass(frozen=True, eq=False)
class Loads:
    """A net in one current. SI units."""

    standing: Standing
    models: tuple[ModelDrag, ...]
    anchor_pull: float  # along the bottom, of the pull and the middle drag together
    anchor_pull_high: float  # the same with the highest drag
    line: AnchorLine | None  # the anchor line under the highest, where there is one
    line_tension: float  # at the anchored end, as the shape has it
    leg_tension: float  # of the tightest bridle leg, 0 without a bridle
    waist: float  # narrowest diameter of the body
    twine_part: Part  # where twine is nearest to its strength
    twine_tension: float
    twine_share: float  # of its wet knotted strength
    hoops: tuple[HoopLoad, ...]

    @property
    def current(self) -> float:
        """Speed of the water [m/s]."""
        return self.standing.stream.speed

    @property
    def drag(self) -> float:
        """Drag by the middle model, the sum over all bars and hoops along the flow [N]."""
        return next(model.drag for model in self.models if model.name == MIDDLE)

    @property
    def drag_low(self) -> float:
        """Least of the models that count [N]."""
        return min(model.drag for model in self.models if model.counts)

    @property
    def drag_high(self) -> float:
        """Most of the models that count [N]."""
        return max(model.drag for model in self.models if model.counts)


def currents_of(spec: NetSpec) -> tuple[float, ...]:
    """Currents that the spec names, slowest first [m/s]; none unless it does."""
    named = {*spec.water.currents, *([spec.rigging.current] if spec.rigging.current else [])}
    return tuple(sorted(named))


def usual_currents() -> tuple[float, ...]:
    """Currents for a table where the spec names none [m/s].

    >>> usual_currents()[0], usual_currents()[-1]
    (0.25, 2.0)
    """
    return tuple(float(row["speed_mps"]) for row in read_table("currents"))


def stream_of(spec: NetSpec, speed: float) -> Stream:
    """The river of a spec at a speed [m/s]."""
    return Stream(
        speed=speed,
        toward=-1.0 if spec.rigging.anchor == "tail" else 1.0,
        angle=radians(spec.water.angle),
        blocked=spec.water.blocked,
        caught=spec.water.caught,
    )


def river_loads(spec: NetSpec, plan: Plan, netting: Netting, shape: Shape) -> tuple[Loads, ...]:
    """The loads in every current that the spec names; none without one, or without a shape."""
    named = currents_of(spec)
    return loads_in(spec, plan, (netting, shape), named) if named and shape.state in GOOD else ()


def loads_in(
    spec: NetSpec,
    plan: Plan,
    tied: tuple[Netting, Shape],
    currents: tuple[float, ...],
    announce: Callable[[float], None] = lambda current: None,
) -> tuple[Loads, ...]:
    """The loads in every current, each shape found from the one before.

    Parameters
    ----------
    tied : the netting and its shape in still water
    currents : slowest first [m/s]
    announce : told each current [m/s] before it is worked out
    """
    netting, shape = tied
    rows: list[Loads] = []
    for speed in currents:
        announce(speed)
        start = rows[-1].standing if rows else None
        standing = stand_in(netting, plan, shape, stream_of(spec, speed), start)
        rows.append(_loads(spec, plan, netting, standing))
    return tuple(rows)


def _loads(spec: NetSpec, plan: Plan, netting: Netting, standing: Standing) -> Loads:
    models = model_drags(plan, netting, standing)
    middle = next(model.drag for model in models if model.name == MIDDLE)
    high = max(model.drag for model in models if model.counts)
    pulls = [_anchor_pull(netting, standing, drag / middle) for drag in (middle, high)]
    bridle = spec.rigging.bridle
    legs = (bridle.legs, bridle.length) if bridle else None
    part, tension, share = _tightest(netting, standing.tensions)
    return Loads(
        standing=standing,
        models=models,
        anchor_pull=pulls[0],
        anchor_pull_high=pulls[1],
        line=_line(spec, plan, netting, (pulls[1], high / middle * _rope_drag(netting, standing))),
        line_tension=_most(netting, standing, ANCHOR_LINE),
        leg_tension=_most(netting, standing, BRIDLE),
        waist=2.0 * _waist_radius(plan, netting, standing.bands),
        twine_part=part,
        twine_tension=tension,
        twine_share=share,
        hoops=hoop_loads(netting, plan, standing.positions, standing.tensions, legs),
    )


def model_drags(plan: Plan, netting: Netting, standing: Standing) -> tuple[ModelDrag, ...]:
    """The drag of the whole net by every model; hoops, strings and lines are cylinders in all of them."""
    flow = (standing.bands, standing.stream)
    hoops = standing.drag.hoop_forces.sum(axis=0)
    found = []
    for name, key in SUMS.items():
        share = water_constant(key)
        forces = bar_forces(netting, standing.positions, standing.drag.bar_speeds, flow, share)
        drag = float((forces.sum(axis=0) + hoops) @ standing.stream.direction)
        found.append(ModelDrag(name, drag, True, "", CROSS_FLOW))
    models = [model for name, model in drag_models().items() if name != UNKNOTTED]
    screens = [_screen_drag(model, netting, standing) for model in models if model.form != "bag"]
    bags = [_bag_drag(model, plan, netting, standing) for model in models if model.form == "bag"]
    return (*found, *screens, *bags)


def _screen_drag(model: DragModel, netting: Netting, standing: Standing) -> ModelDrag:
    """Netting that faces the flow, within the model's range, by the model; all else as cylinders."""
    bands, stream = standing.bands, standing.stream
    netted = np.flatnonzero(bands.bar_bands >= 0)
    screens = bar_screens(netting, standing)
    facing = screens.cosines >= water_constant("screen_facing")
    fitting = in_range(model, screens)
    used = facing & fitting
    forces = standing.drag.bar_forces @ stream.direction
    forces[netted[used]] = screen_forces(model, screens)[used]
    drag = float(forces.sum() + (standing.drag.hoop_forces @ stream.direction).sum())
    shares = [float(screens.areas[part].sum() / screens.areas.sum()) for part in (used, facing, fitting)]
    remark = "" if shares[0] >= MOSTLY else _left(model, shares)
    return ModelDrag(model.name, drag, not remark, remark, model.source)


def _left(model: DragModel, shares: list[float]) -> str:
    """Why a model is left out: how much of the netting it fits, faces the flow, and lies in its range."""
    used, facing, fitting = shares
    low, high = model.solidity
    why = [f"{facing:.0%} of the netting faces the flow"] if facing < MOSTLY else []
    if fitting < MOSTLY:
        speeds = " or its Reynolds numbers" if np.isfinite(model.reynolds[1]) else ""
        why.append(f"{fitting:.0%} lies in its solidity of {low:g} to {high:g}{speeds}")
    reason = " and ".join(why) or "few parts do both"
    return f"left, of use on {used:.0%} of the netting: {reason}; the rest taken as cylinders"


def bar_screens(netting: Netting, standing: Standing) -> Screens:
    """Every bar of netting with its share of the outline around it."""
    bands, stream = standing.bands, standing.stream
    netted = np.flatnonzero(bands.bar_bands >= 0)
    rows = bands.bar_bands[netted]
    normals = bar_normals(netting, standing.positions, bands)[netted]
    return Screens(
        areas=(bands.areas / bands.counts)[rows],
        cosines=np.abs(normals @ stream.direction),
        speeds=standing.drag.bar_speeds[netted],
        solidity=caught_solidity(bands, stream)[rows],
        diameters=bands.diameters[rows],
        bar_lengths=bands.bar_lengths[rows],
    )


def _bag_drag(model: DragModel, plan: Plan, netting: Netting, standing: Standing) -> ModelDrag:
    """Netting as one bag by the model, all else as cylinders."""
    bands, stream = standing.bands, standing.stream
    netted = bands.bar_bands >= 0
    forces = standing.drag.bar_forces @ stream.direction
    solidity = caught_solidity(bands, stream)
    mouth = plan.hoops[0].outline.inner_area(plan.hoops[0].rod_diameter)
    seen = _seen_along(netting, standing)
    bag = bag_force(float(bands.areas.sum()), mouth, seen, stream.speed)
    drag = bag + float(forces[~netted].sum() + (standing.drag.hoop_forces @ stream.direction).sum())
    mean = float(np.average(solidity, weights=bands.areas))
    remark = ""
    if degrees(stream.angle) > ALONG:
        remark = "left: it is for flow along the net"
    elif mean > model.solidity[1]:
        remark = f"left: the mean solidity of {mean:.2f} is above {model.solidity[1]:g}"
    return ModelDrag(model.name, drag, not remark, remark, model.source)


def _seen_along(netting: Netting, standing: Standing) -> float:
    """Area of the netting's twine as seen along the flow, debris included [m^2]."""
    bands, stream = standing.bands, standing.stream
    netted = bands.bar_bands >= 0
    ends = standing.positions[netting.bars[netted]]
    spans = ends[:, 1] - ends[:, 0]
    across = spans - np.outer(spans @ stream.direction, stream.direction)
    grown = caught_solidity(bands, stream) / (bands.twine_areas / bands.areas)
    widths = netting.bar_diameters[netted] * grown[bands.bar_bands[netted]]
    return float(np.sum(widths * np.linalg.norm(across, axis=1)))


def _anchor_pull(netting: Netting, standing: Standing, scale: float) -> float:
    """What the anchor holds along the bottom: the pull and the drag, scaled from the middle one [N]."""
    pull = netting.pull * np.array([standing.stream.toward, 0.0, 0.0])
    return float(np.linalg.norm((pull + scale * standing.drag.total)[:2]))


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


def _waist_radius(plan: Plan, netting: Netting, bands: Bands) -> float:
    """Least radius of the sections: the tail is gathered, and has no waist [m]."""
    sections = [netting.number_of(section.part) for section in plan.sections]
    return float(bands.radii[np.isin(bands.parts, sections)].min())
