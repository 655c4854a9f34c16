"""The net with its wings and leader from above, to scale: where stakes and anchors are to stand (SVG)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from string import ascii_uppercase

import numpy as np

from net3d.chain import Design
from net3d.drawings.drawing import LEADING, TEXT, Drawing, ThinLine, Words, drawing_svg, lines_at, lines_of
from net3d.drawings.hoops import hoop_edges
from net3d.drawings.palette import HOOPS, LINE, ROPE
from net3d.netting.netting import Floats
from net3d.parts import ANCHOR_LINE
from net3d.plan.guide_places import Station

WIDTH, HIGH = 172.0, 100.0  # of the drawing, and of what is drawn on it at most [mm]
EDGE = 8.0  # mm
SCALES = (5, 10, 20, 25, 50, 75, 100, 150, 200, 300, 500, 750, 1000)
SPOT = 0.9  # mm: half a stake as it is drawn
DASHES = "1.5 1"
LEVEL = 0.01  # m: what is less ahead, or aside, is not told


@dataclass(frozen=True, eq=False)
class Spot:
    """Where a stake or pole stands, on one side or on both alike."""

    letter: str
    name: str
    station: Station
    sides: tuple[str, ...]
    anchor: Floats | None  # (2,) where its anchor lies [m]


def from_above(design: Design) -> str:
    """The drawing, with where each stake stands from the middle of the mouth in words below it."""
    spots = list(_spots(design))
    shapes = list(_shapes(design, spots))
    points = np.concatenate([points for points, _, _ in shapes])
    span = np.ptp(points, axis=0) * 1000.0
    least = max(span[0] / (WIDTH - 2 * EDGE), span[1] / HIGH)
    scale = next((scale for scale in SCALES if scale >= least), float(np.ceil(least)))
    high = span[1] / scale
    left = (WIDTH - span[0] / scale) / 2 - 1000.0 * points[:, 0].min() / scale
    top = EDGE + 1000.0 * points[:, 1].max() / scale
    onto = np.array([1000.0, -1000.0]) / scale
    below = tuple(_stroke(points * onto + (left, top), *look) for points, *look in shapes)
    marks = [(spot.letter, place * onto + (left, top)) for spot in spots for place in _places(spot)]
    words = [Words(letter, x + 2.2, y - 1.4) for letter, (x, y) in marks]
    foot = [line for text in _told(design, spots, scale) for line in lines_of(text, WIDTH - 2 * EDGE)]
    height = EDGE + high + 2 * EDGE + LEADING * TEXT * len(foot)
    words += lines_at(foot, (WIDTH / 2, height - EDGE / 2))
    lines = tuple(
        ThinLine((x - SPOT, y + turn * SPOT), (x + SPOT, y - turn * SPOT))
        for _, (x, y) in marks
        for turn in (1, -1)
    )
    return drawing_svg(Drawing(f"{design.spec.title}: from above", WIDTH, height, below, lines, tuple(words)))


def _spots(design: Design) -> Iterator[Spot]:
    letters = iter(ascii_uppercase)
    for guide in design.plan.guides:
        held = next(one.wall.held for one in design.guides if one.wall.plan is guide)
        for station in held[1:] if guide.holds else ():
            foot = station.places[0, :2]
            anchor = None if guide.spec.anchor is None else foot + guide.anchor_reach * station.out[:2]
            yield Spot(next(letters), guide.part.title, station, guide.sides, anchor)


def _places(spot: Spot) -> list[Floats]:
    """On one side or on both (2,) [m]."""
    place = spot.station.places[0, :2]
    return [place, place * (1.0, -1.0)] if len(spot.sides) > 1 else [place]


def _shapes(design: Design, spots: list[Spot]) -> Iterator[tuple[Floats, str, str]]:
    """Lines as points (k, 2) [m], colour, and dashes: nets, walls as they are to stand, lines to anchors."""
    nets = [[(line, HOOPS, "") for line in _net(design)]]
    if _tail_line(design):
        end = design.shape.tail_end
        nets[0].append((np.array([[end, 0.0], [end + design.spec.rigging.line, 0.0]]), ROPE, DASHES))
    for one in design.guides:
        if one.wall.plan.spec.pair:
            across = one.wall.held[-1].places[0, 0] + one.wall.held[0].places[0, 0]
            nets.append([((across, 0.0) + line * (-1.0, 1.0), ink, dashed) for line, ink, dashed in nets[0]])
    yield from (shape for net in nets for shape in net)
    for one in design.guides:
        feet = [station.places[:, :2].mean(axis=0) for station in one.wall.held]
        yield np.array(feet), LINE, ""
    for spot in spots:
        if spot.anchor is not None:
            for place, turn in zip(_places(spot), (1.0, -1.0), strict=False):
                yield np.array([place, spot.anchor * (1.0, turn)]), ROPE, DASHES


def _tail_line(design: Design) -> bool:
    """Whether an anchor holds the tail by a line."""
    return ANCHOR_LINE in design.netting.parts and design.spec.rigging.anchor == "tail"


def _net(design: Design) -> list[Floats]:
    """Each hoop from above, and the sides of the net from hoop to hoop (k, 2) [m]."""
    edges = [edge[:, :2] for edge in hoop_edges(design)]
    ends = np.array([[edge[edge[:, 1].argmin()], edge[edge[:, 1].argmax()]] for edge in edges])
    if design.plan.tail_rows:
        ends = np.concatenate([ends, [[[design.shape.tail_end, 0.0]] * 2]])
    return [*ends[: len(edges)], ends[:, 0], ends[:, 1]]


def _stroke(places: Floats, colour: str, dashes: str) -> str:
    corners = " ".join(f"{x:.2f},{y:.2f}" for x, y in places)
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'<polyline points="{corners}" fill="none" stroke="{colour}" stroke-width="0.4"{dashed}/>'


def _told(design: Design, spots: list[Spot], scale: float) -> Iterator[str]:
    """Scale, then where everything stands, by tape from the middle of the mouth along the bottom."""
    tape = design.spec.tape.length
    yield f"Mouth to the left. Scale 1:{scale:g}. Walls as they are to be set, before they belly."
    for one in design.guides:
        if one.wall.plan.spec.pair:
            apart = one.wall.held[0].places[0, 0] - one.wall.held[-1].places[0, 0]
            yield f"The mouth of the second net stands {tape(apart)} before this one's, and faces it."
    if _tail_line(design):
        tails = "each tail" if design.plan.pair else "the tail"
        yield f"An anchor behind {tails}, on {tape(design.spec.rigging.line)} of line."
    for spot in spots:
        x, y = spot.station.places[0, :2].tolist()
        ahead = f"{tape(-x)} ahead of the mouth" if -x > LEVEL else "level with the mouth"
        aside = (
            f", {tape(abs(y))} {_side(spot)} of its middle" if abs(y) > LEVEL else ", in line with the net"
        )
        out = ""
        if spot.anchor is not None:
            out = f"; its anchor {tape(float(np.linalg.norm(spot.anchor - (x, y))))} farther out"
        yield f"{spot.letter}, {spot.name}: {ahead}{aside}{out}."


def _side(spot: Spot) -> str:
    return "either side" if len(spot.sides) > 1 else f"to the {spot.sides[0]}"
