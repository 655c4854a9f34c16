"""The drag of a whole net by every model, which of them count, and the range that they leave."""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees

import numpy as np

from net3d.handbook.drag import DragModel, drag_models
from net3d.handbook.water import water_constant
from net3d.netting.netting import Netting
from net3d.plan.plan import Plan
from net3d.water.bands import bar_normals
from net3d.water.cylinders import bar_forces
from net3d.water.drag import hoop_forces
from net3d.water.models import Screens, bag_force, caught_solidity, in_range, screen_forces
from net3d.water.plane import PLANE, netting_forces
from net3d.water.water import Standing

SUM = "every twine and hoop by itself"
SUMS = {
    f"{SUM}, smooth": "tangential_share_low",
    SUM: "tangential_share",
    f"{SUM}, rough": "tangential_share_high",
}
CROSS_FLOW = (
    "cross-flow principle on every twine and rod, Hoerner, Fluid-Dynamic Drag 1965 (from memory); too high "
    "along the flow, where nothing shelters what comes next: OMAE 2012, vol. 44946, abstract (seen)"
)
KNOTS_ON_TOP = "knots: {share:.0%} of the drag of knotted nylon netting, Tang et al. 2019, abstract (seen)"
UNREAD = "not read, from memory: shown, and counts for nothing"
MOSTLY = 0.5  # of the netting's outline must face the flow, or lie in a model's range, for it to count
ALONG = 15.0  # degrees in plan up to which the flow runs along the net: common practice
UNKNOTTED = "Milne knotless"  # hand-tied and sheet netting are both knotted here


NAMES = {"sum": SUM, "plane": drag_models()[PLANE].title}  # of kinds with variants


@dataclass(frozen=True)
class ModelDrag:
    """What one model says the whole net pulls, along the flow [N], and why it counts or does not."""

    name: str  # what it is
    kind: str  # plane, sum, or the name again: variants of one kind are one model
    drag: float
    counts: bool
    remark: str
    source: str


@dataclass(frozen=True)
class DragRange:
    """Drag of the whole net along the flow by all models [N]."""

    models: tuple[ModelDrag, ...]  # the one that the shape is found with first

    @property
    def drag(self) -> float:
        """By the model that the shape is found with [N]."""
        return self.models[0].drag

    @property
    def kinds(self) -> tuple[str, ...]:
        """What counts, by its name; variants of one kind are one."""
        counting = [model for model in self.models if model.counts]
        return tuple(dict.fromkeys(NAMES.get(model.kind, model.name) for model in counting))

    @property
    def low(self) -> float:
        """Least of what counts [N]; of all that is said where that is one model alone."""
        return min(model.drag for model in self._telling)

    @property
    def high(self) -> float:
        """Most of what counts [N]; of all that is said where that is one model alone."""
        return max(model.drag for model in self._telling)

    @property
    def _telling(self) -> tuple[ModelDrag, ...]:
        if len(self.kinds) < 2:
            return self.models
        return tuple(model for model in self.models if model.counts)


def drag_range(plan: Plan, netting: Netting, standing: Standing) -> DragRange:
    """The drag of the whole net by every model; hoops, strings and lines are cylinders in all of them."""
    taken = bar_screens(netting, standing)
    screens = [
        _screen_drag(model, taken, standing)
        for name, model in drag_models().items()
        if model.form in ("outline", "cylinder", "twine") and name != UNKNOTTED
    ]
    bags = [
        _bag_drag(model, plan, netting, standing) for model in drag_models().values() if model.form == "bag"
    ]
    return DragRange(
        (*_plane_drags(netting, standing, taken), *_twine_sums(plan, netting, standing), *screens, *bags)
    )


def _plane_drags(netting: Netting, standing: Standing, screens: Screens) -> list[ModelDrag]:
    """Netting as plane netting, as the shape was found; and with the drag of its knots on top."""
    model, stream = drag_models()[PLANE], standing.stream
    knots = water_constant("knots_share_along")
    along = model.coefficients[2] / (1.0 - knots)
    flow = (standing.bands, stream)
    forces = netting_forces(netting, standing.positions, standing.drag.bar_speeds, flow, along)
    fitting = in_range(model, screens)
    share = float(screens.areas[fitting].sum() / screens.areas.sum())
    remark = "" if share >= MOSTLY else f"left: {share:.0%} of the netting lies {_range_text(model)}"
    drags = [
        (model.title, float(standing.drag.total @ stream.direction), model.source),
        (
            f"{model.title}, knots on top",
            float((forces @ stream.direction).sum()) + _other_drag(standing),
            KNOTS_ON_TOP.format(share=knots),
        ),
    ]
    return [ModelDrag(name, model.form, drag, not remark, remark, source) for name, drag, source in drags]


def _twine_sums(plan: Plan, netting: Netting, standing: Standing) -> list[ModelDrag]:
    """Every twine as a cylinder in the water there, by the drag along it, and every hoop without a wake."""
    flow, stream = (standing.bands, standing.stream), standing.stream
    hoops = hoop_forces(plan, standing.poses, *flow, sheltered=False)
    found = []
    for name, key in SUMS.items():
        forces = bar_forces(netting, standing.positions, standing.drag.bar_speeds, flow, water_constant(key))
        drag = float((forces.sum(axis=0) + hoops.sum(axis=0)) @ stream.direction)
        found.append(ModelDrag(name, "sum", drag, True, "", CROSS_FLOW))
    return found


def _other_drag(standing: Standing) -> float:
    """Drag of all but the netting, along the flow [N]."""
    others, stream = standing.bands.bar_bands < 0, standing.stream
    lines = standing.drag.bar_forces[others] @ stream.direction
    return float(lines.sum() + (standing.drag.hoop_forces @ stream.direction).sum())


def _screen_drag(model: DragModel, screens: Screens, standing: Standing) -> ModelDrag:
    """Netting that faces the flow, within the model's range, by the model; all else as plane netting."""
    bands, stream = standing.bands, standing.stream
    netted = np.flatnonzero(bands.bar_bands >= 0)
    facing = screens.cosines >= water_constant("screen_facing")
    fitting = in_range(model, screens)
    used = facing & fitting
    forces = standing.drag.bar_forces @ stream.direction
    forces[netted[used]] = screen_forces(model, screens)[used]
    drag = float(forces.sum() + (standing.drag.hoop_forces @ stream.direction).sum())
    shares = [float(screens.areas[part].sum() / screens.areas.sum()) for part in (used, facing, fitting)]
    remark = "" if shares[0] >= MOSTLY else _left(model, shares)
    return _judged(model, drag, remark)


def _judged(model: DragModel, drag: float, remark: str) -> ModelDrag:
    """A model that was read counts unless it is left; one that was not never does."""
    if not model.read:
        remark = UNREAD
    return ModelDrag(model.title, model.title, drag, not remark, remark, model.source)


def _left(model: DragModel, shares: list[float]) -> str:
    """Why a model is left out: how much of the netting it fits, faces the flow, and lies in its range."""
    used, facing, fitting = shares
    why = [f"{facing:.0%} of the netting faces the flow"] if facing < MOSTLY else []
    if fitting < MOSTLY:
        why.append(f"{fitting:.0%} lies {_range_text(model)}")
    reason = " and ".join(why) or "few parts do both"
    return f"left, of use on {used:.0%} of the netting: {reason}; the rest taken as plane netting"


def _range_text(model: DragModel) -> str:
    low, high = model.solidity
    speeds = " or its Reynolds numbers" if np.isfinite(model.reynolds[1]) else ""
    return f"in its solidity of {low:g} to {high:g}{speeds}"


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
    solidity = caught_solidity(bands, stream)
    mouth = plan.hoops[0].outline.inner_area(plan.hoops[0].rod_diameter)
    seen = _seen_along(netting, standing)
    drag = bag_force(float(bands.areas.sum()), mouth, seen, stream.speed) + _other_drag(standing)
    mean = float(np.average(solidity, weights=bands.areas))
    remark = ""
    if degrees(stream.angle) > ALONG:
        remark = "left: it is for flow along the net"
    elif mean > model.solidity[1]:
        remark = f"left: the mean solidity of {mean:.2f} is above {model.solidity[1]:g}"
    return _judged(model, drag, remark)


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
