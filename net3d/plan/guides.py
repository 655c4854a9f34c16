"""Wings and leaders: how long their lines are, how high they stand, what floats lift and leads weigh."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, radians, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from net3d.handbook.allowances import allowance
from net3d.handbook.twine import Twine
from net3d.handbook.water import submerged_weight, water_constant
from net3d.outline.outline import Outline
from net3d.parts import Part
from net3d.plan.twine import twine_length
from net3d.spec.guides import GuideSpec

Floats = NDArray[np.float64]
HALF = 181  # points of half a mouth hoop
HALF_FLAT = 1e-3  # of its height


@dataclass(frozen=True)
class LinePlan:
    """One of a guide's two lines, and what hangs on it. Lengths in m, forces in N."""

    length: float  # along the netting
    hanging: float  # over the stretched length of the netting
    pieces: int  # floats or leads
    each: float  # what one lifts, or weighs in water
    mass: float = 0.0  # of a lead, in air [kg]

    @property
    def force(self) -> float:
        """What all of them lift or weigh in water [N]."""
        return self.pieces * self.each

    @property
    def apart(self) -> float:
        """From one to the next, half of it at either end [m]."""
        return self.length / self.pieces


@dataclass(frozen=True)
class GuidePlan:
    """A wing or a leader as it is tied and hung; of a wing on both sides, what one side takes."""

    spec: GuideSpec
    height: float  # from line to line as it hangs in still water [m]
    float_line: LinePlan
    lead_line: LinePlan
    knots: int
    twine_length: float  # m, knots counted
    twine_mass: float  # kg
    weight: float  # of the netting in water [N]

    @property
    def number(self) -> tuple[int, ...]:
        """What its parts are numbered by."""
        return (self.spec.number,) if self.spec.number else ()

    @property
    def part(self) -> Part:
        """Which part of the net its netting is."""
        return Part(self.spec.word, self.number)

    @property
    def lines_part(self) -> Part:
        """Which part of the net its float lines and lead lines are."""
        return Part(f"{self.spec.word}-lines", self.number)

    @property
    def twine(self) -> Twine:
        """What it is tied of."""
        return self.spec.twine

    @property
    def sides(self) -> tuple[str, ...]:
        """Where it stands: on one side of the mouth or on both, or in the middle."""
        return ("left", "right") if self.spec.side == "both" else (self.spec.side,)

    def toward(self, side: str) -> Floats:
        """Where it runs from the mouth on a side (3,), of length 1 [-]."""
        out = {"left": 1.0, "right": -1.0, "middle": 0.0}[side]
        angle = radians(self.spec.angle)
        return np.array([-cos(angle), out * sin(angle), 0.0])


def plan_guides(guides: tuple[GuideSpec, ...]) -> tuple[GuidePlan, ...]:
    """Every wing and the leader, as typed."""
    return tuple(_guide(guide) for guide in guides)


def _guide(guide: GuideSpec) -> GuidePlan:
    twine, stretched = guide.twine, guide.long * guide.stretched
    length = twine_length(guide.long, guide.deep, guide.stretched, twine.diameter)
    weight = submerged_weight(length * twine.mass_per_length, twine.density)
    floats = _floats(guide, weight, guide.hanging * stretched)
    lift = floats.force + max(-weight, 0.0)
    return GuidePlan(
        spec=guide,
        height=hung_height(guide.deep * guide.stretched, (guide.hanging + guide.lead_hanging) / 2),
        float_line=floats,
        lead_line=_leads(guide, (floats.pieces, lift), guide.lead_hanging * stretched),
        knots=2 * guide.long * guide.deep,
        twine_length=length,
        twine_mass=length * twine.mass_per_length,
        weight=weight,
    )


def hung_height(stretched: float, hanging: float) -> float:
    """How high netting stands that is hung at a ratio E, ``H = stretched sqrt(1 - E^2)`` [m].

    Source: ISO 1107's hanging ratio, and geometry.

    Parameters
    ----------
    stretched : its meshes drawn out, one below the other [m]
    hanging : E [-]

    >>> round(hung_height(1.0, 0.5), 3), round(hung_height(1.0, 0.71), 3)
    (0.866, 0.704)
    """
    return stretched * sqrt(1.0 - hanging**2)


def _floats(guide: GuideSpec, weight: float, length: float) -> LinePlan:
    """By what is typed of them; else so many times what the netting weighs in water, at a usual spacing."""
    wanted = guide.reserve * abs(weight)
    usual = max(2, ceil(length / allowance("float_spacing")))
    if guide.floats is None and guide.float_lift is not None:
        count = max(2, ceil(wanted / guide.float_lift))
        return LinePlan(length, guide.hanging, count, guide.float_lift)
    count = guide.floats or usual
    return LinePlan(length, guide.hanging, count, guide.float_lift or wanted / count)


def _leads(guide: GuideSpec, lifted: tuple[int, float], length: float) -> LinePlan:
    """By what is typed of them; else they draw down so many times what floats and netting lift [N]."""
    floats, lift = lifted
    in_water = submerged_weight(1.0, water_constant("lead_density"))  # N for each kg in air
    count = guide.leads or floats
    mass = guide.lead_weight or allowance("leads_over_floats") * lift / in_water / count
    return LinePlan(length, guide.lead_hanging, count, mass * in_water, mass)


def stake_foot(guide: GuidePlan, side: str, edge: Floats) -> Floats:
    """Where the foot of its stake stands (3,) [m]: as far out as both lines reach, short by their slack.

    The stake stands upright, as high as the guide hangs or its float line reaches up. From a line's end a
    at the mouth it is ``|p + t d - a| = L (1 - slack)`` away, p the middle of the mouth's edge and d the way
    out. Source: geometry.

    Parameters
    ----------
    guide : its plan
    side : of the mouth
    edge : where its near edge is tied (k, 3), from the foot up [m]
    """
    high = stake_height(guide, edge)
    toward, middle = guide.toward(side), edge.mean(axis=0) * (1.0, 1.0, 0.0)
    lift = np.array([0.0, 0.0, 1.0])
    ways = []
    for line, end, height in (
        (guide.lead_line, edge[0], edge[0, 2]),
        (guide.float_line, edge[-1], edge[0, 2] + high),
    ):
        off = middle + height * lift - end
        reach, along = line.length * (1.0 - guide.spec.slack), float(off @ toward)
        ways.append(-along + sqrt(max(along**2 - float(off @ off) + reach**2, 0.0)))
    return np.asarray(middle + min(ways) * toward + edge[0, 2] * lift)


def stake_height(guide: GuidePlan, edge: Floats) -> float:
    """How high its stake holds the float line [m]: as it hangs, or as far up as half of that line reaches.

    Parameters
    ----------
    guide : its plan
    edge : where its near edge is tied (k, 3), from the foot up [m]
    """
    return min(guide.height, float(edge[-1, 2] - edge[0, 2]) + guide.float_line.length / 2)


def near_edge(outline: Outline, side: str, height: float, count: int) -> Floats:
    """Where the near edge is tied at the mouth (count, 3) [m], from its foot up.

    A wing goes up along the side of the mouth hoop; a leader up a line across its middle. What is higher than
    the mouth is gathered there.

    Parameters
    ----------
    outline : of the mouth hoop
    side : of the mouth
    height : of the guide as it hangs [m]
    count : places
    """
    foot, top = outline.reach
    if side == "middle":
        heights = np.linspace(foot, min(top, foot + height), count)
        return np.column_stack([np.zeros(count), np.zeros(count), heights])
    arcs = np.linspace(np.pi, 2 * np.pi, HALF) if side == "left" else np.linspace(np.pi, 0.0, HALF)
    edge = outline.points(arcs)
    inside = HALF_FLAT * (top - foot)  # where a frame is flat its ends are whole sides, and no places
    edge = edge[(edge[:, 2] > foot + inside) & (edge[:, 2] < top - inside)]
    steps = np.linalg.norm(np.diff(edge, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    places = np.linspace(0.0, min(along[-1], height), count)
    return np.column_stack([np.interp(places, along, edge[:, axis]) for axis in range(3)])
