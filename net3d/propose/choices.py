"""The whole-number choices of a net from what is at hand, counted out in order; nothing is left to chance."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise, product
from math import ceil, floor, pi
from typing import Any

from net3d.propose.section import reach_form, section_form
from net3d.spec.wanted import Hand, Mesh, Wanted

HUNG = (0.707, 0.6, 0.5, 0.42)  # E1 at the widest hoop; the first is the published rule N = pi D / (1.41 bar)
APART = (0.45, 0.7, 1.0)  # hoops stand so many times their diameter apart
REACHES = (0.6, 0.85)  # of the way to the next throat or the end that a throat reaches
TAILS = (0.8, 1.2)  # meshes of a tail, drawn out, over the last hoop's diameter
MOST_PICKS = 40  # ways to pick so many hoops, above which only neighbours in size are taken
DEEPEST = 40.0  # meshes of a section
LEAST_THROAT = 2.0  # meshes deep
OPEN = 0.9  # girth of the largest fish over what a tip opens at most, as in handbook/limits.csv


@dataclass(frozen=True)
class ThroatChoice:
    """A throat: on which hoop, how deep, how many meshes at its tip, and its kind."""

    hoop: int
    deep: float
    tip: int
    style: str


@dataclass(frozen=True)
class Choice:
    """A net by its whole numbers."""

    hoops: tuple[Hand, ...]  # mouth first
    mesh: Mesh
    around: int
    deep: float  # meshes, every section alike
    throats: tuple[ThroatChoice, ...]
    tail: float  # meshes

    @property
    def kind(self) -> tuple[object, ...]:
        """What makes it another kind of net than another: not a mesh more or less."""
        throats = tuple((throat.hoop, throat.style) for throat in self.throats)
        shapes = tuple(sorted({hoop.frame.shape if hoop.frame else "round" for hoop in self.hoops}))
        return len(self.hoops), shapes, self.mesh.stretched, throats, self.is_close

    @property
    def has_frames(self) -> bool:
        """Whether not all of its hoops are round."""
        return any(hoop.frame for hoop in self.hoops)

    @property
    def is_close(self) -> bool:
        """Whether its hoops stand closer than seven tenths of their diameter."""
        length, _ = self.section
        return length < 0.7 * self.hoops[0].diameter

    @property
    def section(self) -> tuple[float, float]:
        """About the length and the waist's radius of its first section [m]."""
        hoop = self.hoops[0]
        return section_form(hoop.diameter / 2 - hoop.rod, self.around, self.mesh.stretched / 2, self.deep)

    def typed(self, netting: dict[str, Any]) -> dict[str, Any]:
        """The tables of its spec."""
        rest = {key: netting[key] for key in ("twine", "made") if key in netting}
        throats = [
            {"hoop": one.hoop, "deep": _plain(one.deep), "tip": one.tip, "style": one.style}
            for one in self.throats
        ]
        tables: dict[str, Any] = {
            "netting": {"around": self.around, self.mesh.key: self.mesh.typed, **rest},
            "hoop": [dict(hoop.typed) for hoop in self.hoops],
            "sections": {"deep": [_plain(self.deep)] * (len(self.hoops) - 1)},
            "tail": {"deep": _plain(self.tail)},
        }
        return tables | ({"throat": throats} if throats else {}) | self._lines()

    def _lines(self) -> dict[str, Any]:
        """Rib lines, one at every corner, that bear the pull where netting on frames would hang slack."""
        if not self.has_frames:
            return {}
        count = {} if self.hoops[0].frame else {"count": 4}
        return {"line": [{"from_hoop": 1, "to_hoop": len(self.hoops), **count}]}


def _plain(meshes: float) -> float:
    """Wholes as they are typed: 8, not 8.0."""
    return int(meshes) if meshes == int(meshes) else meshes


def picks_of(hoops: Sequence[Hand], count: int) -> list[tuple[Hand, ...]]:
    """Ways to pick hoops, widest first, alike ones once; only neighbours in size where there are too many."""
    every = dict.fromkeys(combinations(range(len(hoops)), count)) if len(hoops) <= 12 else {}
    picks = {_sizes(hoops, numbers): numbers for numbers in reversed(every)}
    if not picks or len(picks) > MOST_PICKS:
        rows = [tuple(range(first, first + count)) for first in range(len(hoops) - count + 1)]
        picks = {_sizes(hoops, numbers): numbers for numbers in reversed(rows)}
    return [tuple(hoops[number] for number in numbers) for numbers in reversed(picks.values())]


def _sizes(hoops: Sequence[Hand], numbers: tuple[int, ...]) -> tuple[object, ...]:
    return tuple(
        (hoops[n].diameter, hoops[n].rod, hoops[n].frame, hoops[n].name if hoops[n].measured else "")
        for n in numbers
    )


def choices_of(wanted: Wanted, meshes: Sequence[Mesh], hoops: Sequence[Hand]) -> Iterator[Choice]:
    """Every net that the meshes and hoops at hand may make, as far as is worth a look."""
    want = wanted.want
    for count in range(max(want.hoops_min, 2), min(want.hoops_max, len(hoops)) + 1):
        for pick, mesh in product(picks_of(hoops, count), meshes):
            for around in arounds(pick, mesh):
                for deep in depths(pick, mesh, around):
                    yield from _with_throats(wanted, Choice(pick, mesh, around, deep, (), 0.0))


def arounds(hoops: Sequence[Hand], mesh: Mesh) -> list[int]:
    """Meshes around: by the published rule, and hung closer; even, so that left and right are alike."""
    widest, rule = hoops[0], round(pi * hoops[0].diameter / (1.41 * mesh.stretched / 2))
    girth = pi * (widest.diameter - 2 * widest.rod)
    counts = [rule, *(2 * ceil(girth / (ratio * mesh.stretched) / 2) for ratio in HUNG)]
    return list(dict.fromkeys(count for count in counts if count >= 8))


def depths(hoops: Sequence[Hand], mesh: Mesh, around: int) -> list[float]:
    """How deep sections are in halves [meshes], so that hoops stand as far apart as is asked."""
    radius = max(hoop.diameter / 2 - hoop.rod for hoop in hoops)
    each = reach_form(radius, around, mesh.stretched / 2)
    if each <= 0:
        return []
    least = 1 + max((abs(a.diameter - b.diameter) / each for a, b in pairwise(hoops)), default=0)
    depths = [round(2 * share * 2 * radius / each) / 2 for share in APART]
    return list(dict.fromkeys(deep for deep in depths if least < deep <= DEEPEST))


def _with_throats(wanted: Wanted, bare: Choice) -> Iterator[Choice]:
    mesh, last = bare.mesh.stretched, bare.hoops[-1]
    for share in TAILS:
        tail = ceil(2 * share * last.diameter / mesh) / 2
        tailed = Choice(bare.hoops, bare.mesh, bare.around, bare.deep, (), tail)
        if not wanted.want.throats:
            yield tailed
            continue
        for places, style, reach in product(
            throat_places(wanted.want.throats, len(bare.hoops)), wanted.want.styles, REACHES
        ):
            deeps = throat_depths(tailed, places, reach)
            for tip in tips(wanted, tailed, style):
                if min(deeps) >= LEAST_THROAT:
                    throats = (
                        ThroatChoice(p, deep, tip, style) for p, deep in zip(places, deeps, strict=True)
                    )
                    yield Choice(bare.hoops, bare.mesh, bare.around, bare.deep, tuple(throats), tail)


def throat_places(throats: int, hoops: int) -> list[tuple[int, ...]]:
    """Which hoops bear the throats: evenly from the first or the second to the last but one.

    >>> throat_places(2, 5), throat_places(1, 3)
    ([(1, 4), (2, 4)], [(1,), (2,)])
    """
    firsts = [first for first in (1, 2) if first < hoops]
    if throats == 1:
        return [(first,) for first in firsts]
    places = [
        tuple(first + round(n * (hoops - 1 - first) / (throats - 1)) for n in range(throats))
        for first in firsts
    ]
    return [one for one in places if len(set(one)) == throats]


def throat_depths(bare: Choice, places: Sequence[int], reach: float) -> list[float]:
    """Meshes of every throat, so that it reaches so far toward the next or the end [-].

    Parameters
    ----------
    reach : part of the way [-]
    """
    length, _ = bare.section
    ways = [(b - a) * length for a, b in pairwise(places)]
    ways.append((len(bare.hoops) - places[-1]) * length + 0.5 * bare.tail * bare.mesh.stretched)
    return [floor(2 * reach * way / (OPEN * bare.mesh.stretched)) / 2 for way in ways]


def tips(wanted: Wanted, bare: Choice, style: str) -> list[int]:
    """Meshes at a tip: what lets the largest fish in, and a quarter of those around."""
    quarter = max(bare.around // 4, 4)
    if wanted.girths is None:
        return [quarter]
    opens = 2 if style == "square" else 1  # a line through a square tip is half as long as its meshes
    least = max(4, ceil(opens * wanted.girths[1] / (OPEN * bare.mesh.stretched)))
    return [tip for tip in dict.fromkeys((least, quarter)) if least <= tip <= bare.around]
