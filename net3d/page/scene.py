"""What the page's viewer draws: knots and bars packed in few bytes, rings, dimension lines, labels."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from net3d.chain import Design
from net3d.drawings.caption import water_of
from net3d.drawings.hoops import hoop_curves
from net3d.netting.netting import Floats, Ints
from net3d.netting.sorting import distinct
from net3d.page.bow import Bow, bow_of, packed
from net3d.page.dimensions import DimensionLine, Label, dimensions
from net3d.page.pulls import pull_bytes
from net3d.parts import Part
from net3d.solids.stub import stubbed

STEPS = 65535  # a coordinate is one of so many even steps over the longest side of the net's box
NARROW = 65536  # so many knots can be numbered in 16 bits
ROOM_ABOVE = 1.15  # of a hoop's radius: a view holds so much over it, for its size
FRAMED = 12  # points of a flat, round hoop to one that a view is made to hold
FRAMED_BOWED = 4  # of one whose farthest point may lie anywhere
RIM = 3.0  # times as thick as it is the twine around a hole is drawn
# What the viewer is told of the dimension lines, which it draws as it draws parts.
SIZES = {
    "part": "sizes",
    "table": "",
    "switch": "sizes",
    "kind": "size",
    "twine": False,
    "body": False,
    "shine": 0.0,
}


@dataclass(frozen=True)
class Group:
    """Bars of one part and one thickness, as the viewer draws them in one go; lengths in m."""

    about: dict[str, Any]  # what the viewer is told of the part
    radius: float
    bars: Ints  # (k, 2) knot numbers of the scene
    pulls: Ints  # (k,) bytes


@dataclass
class _Points:
    """Points of the scene, numbered as they come."""

    blocks: list[Floats] = field(default_factory=list)
    count: int = 0

    def add(self, points: Floats) -> int:
        first, self.count = self.count, self.count + len(points)
        self.blocks.append(points)
        return first


def scene_of(design: Design, top: float) -> dict[str, Any]:
    """The scene as plain values for JSON; ``top`` [N] is the highest tension of its colours.

    ``knots`` are three steps of 16 bits each from ``origin``, ``step`` metres a step; ``bars`` two knot
    numbers each, of 16 or 32 bits; ``pulls`` a byte each, 0 to 250 up to ``top`` newtons, 255 slack. A group
    of a ring is ``closed``: its points follow each other and make a loop. ``bow`` is there only where hoops
    are bowed or oval: how far every point departs for it, and how many times as large that may be drawn.
    ``water`` says which it is drawn in.
    """
    water, design = water_of(design), design.whole  # which is of no water any more
    points, knots, curves = _Points(), stubbed(design.netting, design.shape), hoop_curves(design)
    points.add(knots)
    groups = list(_bar_groups(design, top))
    rings = list(_rings(design, points, curves))
    bow = bow_of(design, knots, curves)
    lines, labels = dimensions(design)
    groups += _line_groups(lines, points)
    places = np.concatenate(points.blocks)
    wide = len(places) > NARROW
    bars = np.concatenate([group.bars for group in groups])
    return {
        **_packed_knots(places),
        "wide": wide,
        "bars": _text(bars.astype("<u4" if wide else "<u2")),
        "pulls": _text(np.concatenate([group.pulls for group in groups]).astype(np.uint8)),
        "groups": [*_described(groups), *rings],
        "labels": [_label(label) for label in labels],
        "frame": _frame(design, lines, labels, _framed(curves, bow)),
        "written": len(labels) + 2 * len(lines),
        "water": water,
        **({"bow": _packed_bow(bow, len(places))} if bow else {}),
    }


def scene_in_waters(design: Design, top: float) -> dict[str, Any]:
    """The scene of a net as it works; where that is in a current, ``still`` has what still water changes.

    Parameters
    ----------
    top : the highest tension of its colours [N]
    """
    still = scene_of(design, top)
    if design.working is None:
        return still
    scene = scene_of(design.at_work, top)
    same = {"bars", "groups", "wide", "written"}  # what is tied to what
    return scene | {"still": {key: value for key, value in still.items() if key not in same}}


def _packed_bow(bow: Bow, count: int) -> dict[str, Any]:
    """Departures of all points, none of the dimension lines' ends, which come last."""
    departures = np.zeros((count, 2))
    departures[: len(bow.departures)] = bow.departures
    numbers, steps = packed(departures)
    leans = _text(numbers.astype("<u2"))
    return {"name": bow.name, "factors": list(bow.factors), "steps": steps.tolist(), "leans": leans}


def _about(part: Part) -> dict[str, Any]:
    """What the viewer is told of a part: its switch, its paint, and what follows from its kind."""
    kind = part.kind
    return {
        "part": part.name,
        "switch": part.switch,
        "kind": kind.paint.name,
        "twine": kind.twine,
        "body": kind.body,
        "shine": kind.paint.shine,
    }


def _bar_groups(design: Design, top: float) -> Iterator[Group]:
    netting = design.netting
    pulls, torn = pull_bytes(design, top), design.torn
    for part in netting.parts:
        bars = netting.bars_of(part)
        if torn is not None:
            rim = np.intersect1d(bars, torn.rim)
            thick = RIM * float(netting.bar_diameters[bars].max(initial=0.0)) / 2
            yield from [Group(_about(part), thick, netting.bars[rim], pulls[rim])] if len(rim) else []
            bars = np.setdiff1d(bars[~torn.gone[bars]], rim)
        for diameter in sorted(set(netting.bar_diameters[bars].tolist())):
            chosen = bars[netting.bar_diameters[bars] == diameter]
            yield Group(_about(part), diameter / 2, netting.bars[chosen], pulls[chosen])


def _rings(design: Design, points: _Points, curves: list[Floats]) -> Iterator[dict[str, Any]]:
    for hoop, curve in zip(design.plan.hoops, curves, strict=True):
        yield {
            **_about(Part.hoop(hoop.number)),
            "radius": round(hoop.rod_diameter / 2, 6),
            "first": points.add(curve),
            "count": len(curve),
            "closed": True,
        }


def _line_groups(lines: list[DimensionLine], points: _Points) -> Iterator[Group]:
    ends = np.array([end for line in lines for end in line.ends()], float)
    first = points.add(ends)
    bars = first + np.arange(len(ends)).reshape(-1, 2)
    yield Group(SIZES, 0.0, bars, np.zeros(len(bars), np.int64))


def _described(groups: list[Group]) -> Iterator[dict[str, Any]]:
    first = 0
    for group in groups:
        count = len(group.bars)
        yield {
            **group.about,
            "radius": round(group.radius, 6),
            "first": first,
            "count": count,
            "closed": False,
        }
        first += count


def _packed_knots(places: Floats) -> dict[str, Any]:
    origin = places.min(axis=0)
    step = float(np.ptp(places, axis=0).max()) / STEPS
    steps = np.rint((places - origin) / step).astype("<u2")
    return {"origin": origin.round(7).tolist(), "step": step, "knots": _text(steps)}


def _text(array: np.ndarray[Any, Any]) -> str:
    return b64encode(array.tobytes()).decode("ascii")


def _label(label: Label) -> dict[str, Any]:
    at = [round(value, 4) for value in label.at]
    return {"text": label.text, "at": at, "rank": label.rank, "mark": label.mark}


def _framed(curves: list[Floats], bow: Bow | None) -> list[list[float]]:
    """Points of the hoops that a view must hold; with departures along and, as a share of the radius, out."""
    every = FRAMED_BOWED if bow else FRAMED
    corners = np.concatenate([curve[::every] for curve in curves])
    if bow:
        along, out = np.concatenate([hoop[::every] for hoop in bow.hoops]).T
        corners = np.column_stack([corners, along, out / np.hypot(corners[:, 1], corners[:, 2])])
    return corners.round(4).tolist()  # type: ignore[no-any-return]


def _frame(
    design: Design, lines: list[DimensionLine], labels: list[Label], hoops: list[list[float]]
) -> list[list[float]]:
    """Points that the first view must hold: hoops, the tail's end, what stands around; dimensions last."""
    tail = np.array([[design.shape.tail_end, 0.0, 0.0]])
    outside = design.netting.bars_that(
        lambda kind: not (kind.body or kind.throat or kind.far_off or kind.guide)
    )
    ahead = design.shape.knot_positions[distinct(design.netting.bars[outside])]
    labelled = [(x, y, ROOM_ABOVE * z if label.mark else z) for label in labels for x, y, z in [label.at]]
    written = np.array(labelled + [end for line in lines for end in line.ends()], float)
    return [*hoops, *np.concatenate([tail, ahead, written]).round(4).tolist()]
