"""Wings and leaders: how long their lines are, how high they stand, what floats lift and leads weigh."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, pi, sqrt

from net3d.handbook.allowances import allowance
from net3d.handbook.twine import Twine
from net3d.handbook.water import submerged_weight, water_constant
from net3d.parts import Part
from net3d.plan.twine import twine_length
from net3d.spec.guides import GuideSpec

FLOAT_LONG, LEAD_LONG = 1.5, 3.0  # over their thickness; common practice, no source
POLE_LINE = 3.0  # times as long as a pole is high is the line to its anchor; common practice, no source


@dataclass(frozen=True)
class LinePlan:
    """One of a guide's two lines, and what hangs on it. Lengths in m, forces in N."""

    length: float  # along the netting
    hanging: float  # over the stretched length of the netting
    pieces: int  # floats or leads
    each: float  # what one lifts, or weighs in water
    mass: float = 0.0  # of a lead, in air [kg]
    thick: float = 0.0  # of a float or lead, a round cylinder
    long: float = 0.0  # likewise

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
    def floats_part(self) -> Part:
        """Which part of the net its floats are."""
        return Part(f"{self.spec.word}-floats", self.number)

    @property
    def leads_part(self) -> Part:
        """Which part of the net its leads are."""
        return Part(f"{self.spec.word}-leads", self.number)

    @property
    def ends_part(self) -> Part:
        """Which part of the net the stakes, or poles and anchors, at its bends and far end are."""
        return Part(f"{self.spec.word}-ends", self.number)

    @property
    def parts(self) -> tuple[Part, ...]:
        """All that it is of, but what a pair shares with the second net."""
        tied = (self.part, self.lines_part, self.floats_part, self.leads_part)
        return tied if self.spec.pair else (*tied, self.ends_part)

    @property
    def holds(self) -> int:
        """Stakes, or poles with their anchors, on one side."""
        return 0 if self.spec.pair else len(self.spec.bends) + 1

    @property
    def anchor_line(self) -> float:
        """From the middle of a pole to its anchor, where it has one [m]."""
        anchor = self.spec.anchor
        return 0.0 if anchor is None else anchor.line or POLE_LINE * self.height

    @property
    def anchor_reach(self) -> float:
        """How far from its pole an anchor lies along the bottom [m]."""
        return sqrt(max(self.anchor_line**2 - (self.height / 2) ** 2, 0.0))

    @property
    def twine(self) -> Twine:
        """What it is tied of."""
        return self.spec.twine

    @property
    def sides(self) -> tuple[str, ...]:
        """Where it stands: on one side of the mouth or on both, or in the middle."""
        return ("left", "right") if self.spec.side == "both" else (self.spec.side,)


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
    else:
        count = guide.floats or usual
    lift = guide.float_lift or wanted / count
    return LinePlan(length, guide.hanging, count, lift, 0.0, *float_size(lift))


def _leads(guide: GuideSpec, lifted: tuple[int, float], length: float) -> LinePlan:
    """By what is typed of them; else they draw down so many times what floats and netting lift [N]."""
    floats, lift = lifted
    in_water = submerged_weight(1.0, water_constant("lead_density"))  # N for each kg in air
    count = guide.leads or floats
    mass = guide.lead_weight or allowance("leads_over_floats") * lift / in_water / count
    size = cylinder(mass / water_constant("lead_density"), LEAD_LONG)
    return LinePlan(length, guide.lead_hanging, count, mass * in_water, mass, *size)


def float_size(lift: float) -> tuple[float, float]:
    """Thickness and length [m] of a float that lifts so much [N]: ``V = F / g (rho_water - rho)``.

    Source: buoyancy.

    >>> [round(size, 3) for size in float_size(2.0)]
    [0.061, 0.092]
    """
    lifting = water_constant("gravity") * (
        water_constant("fresh_water_density") - water_constant("float_density")
    )
    return cylinder(lift / lifting, FLOAT_LONG)


def cylinder(volume: float, ratio: float) -> tuple[float, float]:
    """Thickness and length of a round cylinder k times as long as thick, ``V = pi k d^3 / 4`` [m].

    Source: geometry.

    Parameters
    ----------
    volume : V [m^3]
    ratio : k [-]

    >>> [round(size, 3) for size in cylinder(0.001, 4.0)]
    [0.068, 0.273]
    """
    thick = (4.0 * volume / (pi * ratio)) ** (1 / 3)
    return thick, ratio * thick
