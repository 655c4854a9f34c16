"""Ways out of a net: which knots are cut out for a frame, and where what is left is sewn to it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, pi, sin, sqrt
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from net3d.errors import Problem, SpecError
from net3d.handbook.hoops import hoop_materials
from net3d.handbook.twine import Twine
from net3d.handbook.water import submerged_weight
from net3d.outline.elastic import Rod
from net3d.outline.outline import Outline
from net3d.parts import Part
from net3d.plan.guides import float_size
from net3d.plan.twine import twine_length
from net3d.spec.escapes import EscapeSpec
from net3d.spec.spec import NetSpec

if TYPE_CHECKING:
    from net3d.plan.plan import HoopPlan, SectionPlan

Floats = NDArray[np.float64]
Knot = tuple[int, int]  # row of the body, from the mouth hoop's, and place around, both from 0
TURN = 2 * pi
DENSE = 721  # points of a ring, or of half a mouth hoop
WIDEST = 0.7  # of the net's diameter: a flat frame that is wider stands out of it; common practice, no source
LACED = 0.75  # of a bar: sewn tight, a frame takes the pull of half the net; worked out in tests
HOLDS_UP = 2.5  # times its weight and its upper frame's: what floats lift it with; handbooks say 2 to 3 times


@dataclass(frozen=True, eq=False)
class Aperture:
    """One opening: what is cut out, and where the knots around it are sewn to its frame."""

    angle: float  # of its middle, from the top, clockwise [rad]
    out: float  # from the net's axis to its frame [m]
    cut: tuple[Knot, ...]
    bars: int  # that end there
    rim: tuple[Knot, ...]  # that lose a bar, in order around
    seats: Floats  # (k, 2) on the frame, where the rim is laced, and corners, in order: along, around [m]
    sewn: tuple[int, ...]  # which of the seats are for the rim

    def places(self) -> Floats:
        """The seats from the net's axis (k, 3) [m]."""
        out = np.array([0.0, -sin(self.angle), cos(self.angle)])
        around = np.array([0.0, -cos(self.angle), -sin(self.angle)])
        along = np.array([1.0, 0.0, 0.0])
        return np.asarray(self.out * out + self.seats[:, :1] * along + self.seats[:, 1:] * around)

    @property
    def outward(self) -> Floats:
        """From the net's axis through its middle (3,) [-]."""
        return np.array([0.0, -sin(self.angle), cos(self.angle)])


@dataclass(frozen=True)
class ChimneyPlan:
    """The tube of netting on a frame: a mesh a sewn knot, in the twine and mesh of the body."""

    around: int  # meshes
    rows: int  # of bars
    twine: Twine
    knots: int
    twine_length: float  # m, knots counted
    lift: float  # of the floats that hold it up [N]


@dataclass(frozen=True, eq=False)
class EscapePlan:
    """A way out as it is cut and sewn, or lines across the mouth."""

    spec: EscapeSpec
    apertures: tuple[Aperture, ...] = ()
    frame: float = 0.0  # around a frame along its inside [m]
    rod: Rod | None = None  # of its frames
    lacing: float = 0.0  # from a knot of the rim to the frame [m]
    chimney: ChimneyPlan | None = None
    lines: Floats | None = None  # arcs of the ends of lines on the mouth hoop (k, 2) [rad]
    apart: float = 0.0  # between them, clear [m]
    line_lengths: tuple[float, ...] = ()  # m
    seam: tuple[tuple[Knot, Knot], ...] = ()  # bars of a panel that thread takes the place of

    @property
    def frame_part(self) -> Part:
        """Which part of the net its frame or its lines are."""
        return Part("escape-lines" if self.lines is not None else "escape", (self.spec.place,))

    @property
    def lacing_part(self) -> Part:
        """Which part of the net its lacing is."""
        return Part("escape-lacing", (self.spec.place,))

    @property
    def chimney_part(self) -> Part:
        """Which part of the net its tube of netting is."""
        return Part("chimney", (self.spec.place,))

    @property
    def float_size(self) -> tuple[float, float]:
        """Thickness and length of each of its floats in the tail [m]."""
        return float_size(self.spec.lift or 0.0)

    @property
    def seam_part(self) -> Part:
        """Which part of the net the thread of its panel is."""
        return Part("escape-seam", (self.spec.place,))

    @property
    def floats_part(self) -> Part:
        """Which part of the net its floats in the tail are."""
        return Part("escape-floats", (self.spec.place,))

    @property
    def parts(self) -> tuple[Part, ...]:
        """All parts that it has."""
        parts = [self.frame_part] if self.apertures or self.lines is not None else []
        parts += [self.lacing_part] if self.apertures else []
        parts += [self.chimney_part] if self.chimney else []
        parts += [self.seam_part] if self.seam else []
        parts += [self.floats_part] if self.spec.kind == "floats" else []
        return tuple(parts)

    @property
    def title(self) -> str:
        """What the maker calls it."""
        return f"escape {self.spec.place}"

    @property
    def girth(self) -> float:
        """Around its frame, or around a panel's hole [m]; 0 of other kinds."""
        said = self.spec
        return frame_girth(said) if said.width and said.height else 0.0


def plan_escapes(
    spec: NetSpec, hoops: tuple[HoopPlan, ...], sections: tuple[SectionPlan, ...]
) -> tuple[EscapePlan, ...]:
    """All ways out, as typed. Raises SpecError for those that do not fit, all of them at once."""
    planned, wrong = [], list[Problem]()
    for escape in spec.escapes:
        try:
            planned.append(_planned(spec, escape, hoops, sections))
        except SpecError as error:
            wrong += error.problems
    if wrong:
        raise SpecError("ways out", tuple(wrong))
    return tuple(planned)


def frame_girth(said: EscapeSpec) -> float:
    """Around an opening along the inside of its frame [m]: ``2 (w + h)``, or ``pi d`` of a ring."""
    along, around = said.size
    return pi * around if said.round else 2 * (along + around)


def _planned(
    spec: NetSpec, said: EscapeSpec, hoops: tuple[HoopPlan, ...], sections: tuple[SectionPlan, ...]
) -> EscapePlan:
    if said.apart is not None:
        return _lines(said, hoops[0].outline, hoops[0].rod_diameter)
    if said.behind is None:
        return EscapePlan(said)
    section = sections[said.behind - 1]
    _refuse_misfits(spec, said, hoops[said.behind - 1 : said.behind + 1], section)
    between = (hoops[said.behind - 1], hoops[said.behind])
    if not said.opens:
        return EscapePlan(said, seam=_seam(said, between, section, spec.netting.stretched))
    count = said.pieces if said.round else 1
    apertures = tuple(
        _aperture(said, TURN * (said.turn + number / count) % TURN, between, section, spec.netting.stretched)
        for number in range(count)
    )
    girth, material = frame_girth(said), hoop_materials()[said.material or between[0].material]
    rod = Rod(girth / TURN, said.rod, material)
    chimney = _chimney(spec, said, len(apertures[0].rim), rod) if said.high else None
    lacing = said.lacing or LACED * spec.netting.stretched / 2
    return EscapePlan(said, apertures, girth, rod, lacing, chimney)


def _step(hoops: tuple[HoopPlan, ...], stretched: float) -> float:
    """From a row of knots to the next along the net, as it hangs between hoops [m]: ``m E2 / 2``."""
    return stretched / 2 * sum(hoop.depth_ratio for hoop in hoops) / len(hoops)


def _radius(hoops: tuple[HoopPlan, ...]) -> float:
    return sum(hoop.knot_circle_diameter for hoop in hoops) / len(hoops) / 2


def _refuse_misfits(
    spec: NetSpec, said: EscapeSpec, hoops: tuple[HoopPlan, ...], section: SectionPlan
) -> None:
    """A row of whole netting is to stay along either hoop, and an opening is larger than a mesh."""
    tape, step, radius = spec.tape, _step(hoops, spec.netting.stretched), _radius(hoops)
    pitch = TURN * radius / section.piece.rows[0].count
    key = "inside" if said.round else "height"
    highest, widest = (section.bar_rows - 2) * step, WIDEST * 2 * radius
    where = f"hoops {section.from_hoop} and {section.to_hoop}"
    found = []
    least = step, pitch
    if highest <= least[0]:
        message = f"there is no room for an opening between {where}: put it behind another hoop"
        found.append(Problem(f"escape[{said.place}].behind", message))
    elif not least[0] <= said.size[0] <= highest:
        message = (
            f"between {where} an opening is {tape.length(least[0])} to {tape.length(highest)} high, more "
            "than a mesh and with a row of netting left along either hoop: write a height between them"
        )
        found.append(Problem(f"escape[{said.place}].{key}", message))
    if not said.round and not least[1] <= said.size[1] <= widest:
        message = (
            f"between {where} an opening is {tape.length(least[1])} to {tape.length(widest)} wide, more "
            "than a mesh and with a flat frame still in the net: write a width between them"
        )
        found.append(Problem(f"escape[{said.place}].width", message))
    if found:
        raise SpecError("ways out", tuple(found))


def _aperture(
    said: EscapeSpec,
    angle: float,
    hoops: tuple[HoopPlan, HoopPlan],
    section: SectionPlan,
    stretched: float,
) -> Aperture:
    """Knots well within the frame are cut out; those that lose a bar, about where it is, are laced to it."""
    radius, first = _radius(hoops), hoops[0].knot_row
    step, pitch = _step(hoops, stretched), radius * section.piece.rows[0].pitch
    stand = _stand(angle, hoops, section, stretched)
    inside = [_within(said, at, (step / 2, pitch / 4)) for at in stand]
    if not any(own.any() for own in inside):  # little more than a mesh: about the knot that is nearest
        row = len(stand) // 2
        nearest = stand[row][np.abs(stand[row][:, 1]).argmin()]
        stand = [at - nearest for at in stand]
        inside = [np.hypot(*at.T) < pitch / 4 for at in stand]
    cut, rim, bars = set[Knot](), set[Knot](), 0
    for number, join in enumerate(section.piece.joins):
        upper, lower = join.bars()
        gone = inside[number][upper], inside[number + 1][lower]
        bars += int((gone[0] | gone[1]).sum())
        cut |= {(number, int(knot)) for knot in upper[gone[0]]}
        cut |= {(number + 1, int(knot)) for knot in lower[gone[1]]}
        rim |= {(number, int(knot)) for knot in upper[gone[1] & ~gone[0]]}
        rim |= {(number + 1, int(knot)) for knot in lower[gone[0] & ~gone[1]]}
    ordered = sorted(rim, key=lambda knot: _bearing(stand[knot[0]][knot[1]]))
    seats, sewn = _sewn(said, np.array([stand[row][place] for row, place in ordered]))
    return Aperture(
        angle,
        radius,
        tuple(sorted((first + row, place) for row, place in cut)),
        bars,
        tuple((first + row, place) for row, place in ordered),
        seats,
        sewn,
    )


def _stand(
    angle: float, hoops: tuple[HoopPlan, HoopPlan], section: SectionPlan, stretched: float
) -> list[Floats]:
    """Where a section's knots stand, row by row, along the net and around from an opening's middle [m]."""
    step, radius, rows = _step(hoops, stretched), _radius(hoops), section.piece.rows
    return [
        np.column_stack(
            [np.full(row.count, (number - (len(rows) - 1) / 2) * step), radius * _near(row.angles() - angle)]
        )
        for number, row in enumerate(rows)
    ]


def _seam(
    said: EscapeSpec, hoops: tuple[HoopPlan, HoopPlan], section: SectionPlan, stretched: float
) -> tuple[tuple[Knot, Knot], ...]:
    """Bars from a panel to the netting around it, but for those toward the mouth, by which it hangs."""
    stand, first = _stand(TURN * said.turn, hoops, section, stretched), hoops[0].knot_row
    within = (_step(hoops, stretched) / 2, _radius(hoops) * section.piece.rows[0].pitch / 4)
    inside = [_within(said, at, within) for at in stand]
    hinge = next((number for number, own in enumerate(inside) if own.any()), 0)
    seam = list[tuple[Knot, Knot]]()
    for number, join in enumerate(section.piece.joins):
        upper, lower = join.bars()
        edge = inside[number][upper] != inside[number + 1][lower]
        if number + 1 > hinge:
            ends = zip(upper[edge].tolist(), lower[edge].tolist(), strict=True)
            seam += [((first + number, above), (first + number + 1, below)) for above, below in ends]
    return tuple(seam)


def _near(angles: Floats) -> Floats:
    """Angles from -pi to pi [rad]."""
    return np.asarray((angles + pi) % TURN - pi)


def _within(said: EscapeSpec, at: Floats, nearer: tuple[float, float]) -> NDArray[np.bool_]:
    """Which places (k, 2) [m] lie inside a frame by so much along the net and around [m]."""
    shares = np.abs(at) / np.maximum(np.array(said.size) / 2 - nearer, 1e-9)
    return np.asarray(np.hypot(*shares.T) < 1.0 if said.round else (shares < 1.0).all(axis=1))


def _bearing(at: Floats) -> float:
    """Around the frame's middle, from straight toward the tail [rad]."""
    return float(np.arctan2(at[1], at[0]) % TURN)


def _edge(said: EscapeSpec) -> Floats:
    """A frame as a closed line of points (k, 2) [m], from the middle of its side toward the tail."""
    along, around = (whole / 2 for whole in said.size)
    if said.round:
        arcs = np.linspace(0.0, TURN, DENSE)
        return np.column_stack([along * np.cos(arcs), around * np.sin(arcs)])
    corners = [(1, 0), (1, 1), (-1, 1), (-1, -1), (1, -1), (1, 0)]
    return np.array(corners) * (along, around)


def _sewn(said: EscapeSpec, stand: Floats) -> tuple[Floats, tuple[int, ...]]:
    """Places on a frame, nearest to where each knot stands, and of its corners, in order around."""
    edge = _edge(said)
    reached = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(edge, axis=0), axis=1))])
    girth, starts, ways = reached[-1], edge[:-1], np.diff(edge, axis=0)
    shares = ((stand[:, None] - starts) * ways).sum(axis=2) / (ways**2).sum(axis=1)
    nearest = starts + shares.clip(0.0, 1.0)[:, :, None] * ways
    side = np.linalg.norm(stand[:, None] - nearest, axis=2).argmin(axis=1)
    own = np.arange(len(stand))
    at = reached[side] + shares.clip(0.0, 1.0)[own, side] * np.diff(reached)[side]
    corners = reached[1:-1] if not said.round else np.arange(12) * girth / 12
    every = np.concatenate([at, [one for one in corners if np.abs(at - one).min() > 1e-6 * girth]])
    order = np.argsort(every, kind="stable")
    places = np.column_stack([np.interp(every[order], reached, edge[:, axis]) for axis in (0, 1)])
    where = np.empty(len(every), dtype=int)
    where[order] = np.arange(len(every))
    return places, tuple(where[: len(stand)].tolist())


def _chimney(spec: NetSpec, said: EscapeSpec, around: int, rod: Rod) -> ChimneyPlan:
    """A row of bars stands ``sqrt(b^2 - (p / 2)^2)`` high, p from knot to knot along the frame."""
    assert said.high is not None
    bar, pitch = spec.netting.stretched / 2, rod.ring_length / around
    if pitch >= 1.9 * bar:
        message = "meshes do not reach around a frame so large: make it smaller"
        raise SpecError("ways out", (Problem(f"escape[{said.place}].width", message),))
    rows = max(2, ceil(said.high / sqrt(bar**2 - pitch**2 / 4)))
    length = twine_length(around, rows / 2, spec.netting.stretched, spec.twine.diameter)
    netting = submerged_weight(length * spec.twine.mass_per_length, spec.twine.density)
    lift = said.lift or HOLDS_UP * abs(netting + rod.weight * rod.ring_length)
    return ChimneyPlan(around, rows, spec.twine, around * rows, length, lift)


def _lines(said: EscapeSpec, outline: Outline, rod: float) -> EscapePlan:
    """Upright lines across the mouth, no farther apart than typed; of a guard also as many across."""
    assert said.apart is not None
    arcs = np.linspace(0.0, TURN, 4 * DENSE)
    points = outline.points(arcs, rod)[:, 1:]
    ends, lengths, gaps = list[Floats](), list[float](), list[float]()
    for across in (0, 1) if said.kind == "guard" else (0,):
        low, high = points[:, across].min(), points[:, across].max()
        count = max(1, ceil((high - low) / said.apart - 1e-9) - 1)
        gaps.append(float(high - low) / (count + 1))
        for number in range(1, count + 1):
            pair = _crossing(arcs, points, across, low + number * gaps[-1])
            ends.append(pair)
            lengths.append(float(np.linalg.norm(np.diff(outline.points(pair, rod), axis=0))))
    return EscapePlan(said, lines=np.array(ends), apart=max(gaps), line_lengths=tuple(lengths))


def _crossing(arcs: Floats, points: Floats, across: int, value: float) -> Floats:
    """The two arcs [rad] at which an outline's points (k, 2) cross a line across it [m].

    The last point is the first again but for a hair, so the sides are counted around, without it.
    """
    own = points[:-1, across] - value
    after = np.flatnonzero((own < 0) != (np.roll(own, -1) < 0))
    share = own[after] / (own[after] - np.roll(own, -1)[after])
    return np.asarray(arcs[after] + share * (arcs[after + 1] - arcs[after]))
