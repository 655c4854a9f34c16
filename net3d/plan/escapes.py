"""Ways out of a net: which knots are cut out for a frame, and where what is left is sewn to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from math import ceil, pi, sqrt
from typing import TYPE_CHECKING

import numpy as np

from net3d.errors import Problem, SpecError
from net3d.handbook.hoops import hoop_materials
from net3d.handbook.twine import Twine
from net3d.handbook.water import submerged_weight
from net3d.outline.elastic import Rod
from net3d.outline.outline import Outline
from net3d.parts import Part
from net3d.plan.apertures import (
    DENSE,
    TURN,
    Aperture,
    Floats,
    Knot,
    aperture_of,
    mean_radius,
    row_step,
    seam_of,
)
from net3d.plan.guides import float_size
from net3d.plan.twine import twine_length
from net3d.spec.escapes import EscapeSpec
from net3d.spec.spec import NetSpec

if TYPE_CHECKING:
    from net3d.plan.plan import HoopPlan, SectionPlan

WIDEST = 0.7  # of the net's diameter: a flat frame that is wider stands out of it; common practice, no source
LACED = 0.75  # of a bar: sewn tight, a frame takes the pull of half the net; worked out in tests
HOLDS_UP = 2.5  # times its weight and its upper frame's: what floats lift it with; handbooks say 2 to 3 times


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
    if wrong or (wrong := _in_each_other(planned)):
        raise SpecError("ways out", tuple(wrong))
    return tuple(planned)


def _in_each_other(planned: list[EscapePlan]) -> list[Problem]:
    """Openings and panels of which two have to do with the same knots."""
    found = dict[str, Problem]()
    places = [(escape, knots) for escape in planned for knots in _knots_of(escape)]
    for (one, used), (other, also_used) in combinations(places, 2):
        if not used & also_used:
            continue
        key, message = "turn", f"it stands where {one.title} does: move it around, or behind another hoop"
        if one is other:
            key, message = "pieces", "so many do not fit around the net: write fewer, or make them smaller"
        where = f"escape[{other.spec.place}].{key}"
        found.setdefault(where, Problem(where, message))
    return list(found.values())


def _knots_of(escape: EscapePlan) -> Iterator[set[Knot]]:
    """The knots of each opening and panel: those that are cut out, and those around."""
    yield from ({*one.cut, *one.rim} for one in escape.apertures)
    if escape.seam:
        yield {knot for bar in escape.seam for knot in bar}


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
        return EscapePlan(said, seam=seam_of(said, between, section, spec.netting.stretched))
    count = said.pieces if said.round else 1
    apertures = tuple(
        aperture_of(
            said, TURN * (said.turn + number / count) % TURN, between, section, spec.netting.stretched
        )
        for number in range(count)
    )
    girth, material = frame_girth(said), hoop_materials()[said.material or between[0].material]
    rod = Rod(girth / TURN, said.rod, material)
    chimney = _chimney(spec, said, len(apertures[0].rim), rod) if said.high else None
    lacing = said.lacing or LACED * spec.netting.stretched / 2
    return EscapePlan(said, apertures, girth, rod, lacing, chimney)


def _refuse_misfits(
    spec: NetSpec, said: EscapeSpec, hoops: tuple[HoopPlan, ...], section: SectionPlan
) -> None:
    """A row of whole netting is to stay along either hoop, and an opening is larger than a mesh."""
    tape, step, radius = spec.tape, row_step(hoops, spec.netting.stretched), mean_radius(hoops)
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
    ends, gaps = list[Floats](), list[float]()
    for across in (0, 1) if said.kind == "guard" else (0,):
        low, high = points[:, across].min(), points[:, across].max()
        count = max(1, ceil((high - low) / said.apart - 1e-9) - 1)
        gaps.append(float(high - low) / (count + 1))
        numbers = range(1, count + 1)
        ends += [_crossing(arcs, points, across, low + number * gaps[-1]) for number in numbers]
    lines = np.array(ends)
    first, last = outline.points(lines.T.ravel(), rod).reshape(2, -1, 3)
    lengths: list[float] = np.linalg.norm(last - first, axis=1).tolist()
    return EscapePlan(said, lines=lines, apart=max(gaps), line_lengths=tuple(lengths))


def _crossing(arcs: Floats, points: Floats, across: int, value: float) -> Floats:
    """The two arcs [rad] at which an outline's points (k, 2) cross a line across it [m].

    The last point is the first again but for a hair, so the sides are counted around, without it.
    """
    own = points[:-1, across] - value
    after = np.flatnonzero((own < 0) != (np.roll(own, -1) < 0))
    share = own[after] / (own[after] - np.roll(own, -1)[after])
    return np.asarray(arcs[after] + share * (arcs[after + 1] - arcs[after]))
