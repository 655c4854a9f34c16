"""The net from the side, to scale and dimensioned: a true projection of it as it hangs in still water."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from net3d.chain import Design
from net3d.drawings.callouts import Callout, callout_row
from net3d.drawings.dimensions import Dimension, dimension_rows
from net3d.drawings.drawing import LEADING, TEXT, Drawing, Point, drawing_svg, lines_at, lines_of
from net3d.drawings.hoop_words import size_text
from net3d.drawings.hoops import hoop_curves, hoop_edges
from net3d.drawings.palette import HOOPS, ROPE, STRINGS, THROATS, WAISTS
from net3d.drawings.twine import twine_path
from net3d.netting.netting import Floats
from net3d.netting.sorting import distinct
from net3d.parts import ANCHOR_LINE, BRIDLE, KINDS, Part
from net3d.parts.looks import Pen
from net3d.plan.plan import HoopPlan

if TYPE_CHECKING:
    from net3d.spec.spec import NetSpec
    from net3d.statics.shape import Follows

EDGE = 4.0  # kept free on either side of the net [mm]
SCALES = (1, 2, 2.5, 4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 25, 30, 40, 48, 50, 60, 75, 80, 100, 125, 150, 200)
LINE_SHOWN = 0.12  # of the net's length: so much of the anchor line is drawn
FOOT = 3.0  # above the lower edge [mm]


@dataclass(frozen=True)
class Room:
    """How wide the drawing is, how high it may be [mm], and whether the net's name stands under it."""

    width: float
    height: float
    named: bool = True


LYING = Room(255.0, 186.0)  # what is left of Letter and of A4, lying, within margins of 12 mm


@dataclass(frozen=True, eq=False)
class Paper:
    """Where the net comes to lie on the paper: scale 1 to ``scale``, x = 0 and z = 0 at ``origin`` [mm]."""

    scale: float
    origin: tuple[float, float]

    def places(self, points: Floats) -> Floats:
        """Points (n, 3) [m] seen from the side, the mouth on the left (n, 2) [mm]."""
        flat = points[:, [0, 2]] * (1000.0 / self.scale, -1000.0 / self.scale)
        return np.asarray(flat + self.origin)

    def place(self, x: float, z: float) -> tuple[float, float]:
        """The same for one point in the middle plane [mm].

        Parameters
        ----------
        x, z : along the net and up [m]
        """
        ((across, down),) = self.places(np.array([[x, 0.0, z]])).tolist()
        return across, down


def side_view(design: Design, room: Room = LYING) -> str:
    """The dimensioned side view as SVG, to scale; for one sheet of Letter or A4 paper, lying, unless told.

    Hoop and waist diameters, strings, legs and line stand above the net; below it the spacings of the hoops,
    each throat's length and where its tip stands, and lengths over all. Every number is rounded to the tape.
    """
    points = _drawn_points(design)
    scales = _scales_that_fit(points, room)
    tried = (_words(design, points, scale, room) for scale in scales)
    fitting = ((drawing, paper) for drawing, paper in tried if drawing.height <= room.height)
    drawing, paper = next(fitting, None) or _words(design, points, _last_resort(points, scales, room), room)
    return drawing_svg(replace(drawing, below=tuple(_net(design, points, paper))))


def _last_resort(points: Floats, scales: list[float], room: Room) -> float:
    """Where its words alone are higher than the room: a scale at which the net can still be made out."""
    tall = 1000.0 * float(np.ptp(points[:, 2]))
    return next((scale for scale in scales if tall / scale <= room.height / 4), scales[-1])


def _scales_that_fit(points: Floats, room: Room) -> list[float]:
    least = 1000.0 * float(np.ptp(points[:, 0])) / (room.width - 2 * EDGE)
    fitting = [scale for scale in SCALES if scale >= least]
    return fitting or [float(np.ceil(least))]


def _drawn_points(design: Design) -> Floats:
    """Knots, with the anchor brought nearer, so that a long line does not make the net small."""
    points, netting = design.shape.knot_positions.copy(), design.netting
    for near, far in netting.bars[netting.bars_that(lambda kind: kind.far_off)]:
        way = points[far] - points[near]
        points[far] = points[near] + way * min(1.0, LINE_SHOWN * design.shape.length / np.linalg.norm(way))
    return points


def _words(design: Design, points: Floats, scale: float, room: Room) -> tuple[Drawing, Paper]:
    """The drawing but for the net, and where that comes to lie."""
    width = room.width
    half = max(float(np.abs(points[:, 2]).max()), *(top[1] for top in _hoop_tops(design)))
    reach = 1000.0 * half / scale
    slack = width - 1000.0 * float(np.ptp(points[:, 0])) / scale
    left = slack / 2 - 1000.0 * float(points[:, 0].min()) / scale
    callouts = callout_row(_callouts(design, points, Paper(scale, (left, 0.0))), width)
    paper = Paper(scale, (left, callouts.depth + reach))
    above = callout_row(_callouts(design, points, paper), width)
    below = dimension_rows(_dimensions(design, paper), paper.origin[1] + reach, width)
    legend = _legend(design, scale, room)
    height = below.bottom + LEADING * TEXT * len(legend) + FOOT + TEXT
    drawing = Drawing(
        f"{design.spec.title}: side view",
        width,
        height,
        (),
        above.lines + below.lines,
        (*above.words, *below.words, *lines_at(legend, (width / 2, height - FOOT))),
    )
    return drawing, paper


def _legend(design: Design, scale: float, room: Room) -> list[str]:
    pull = design.spec.tape.force(design.plan.pull)
    about = f"From the side, pulled straight by {pull} in still water. Scale 1:{scale:g}."
    if design.shape.one_of_many:
        about += " Slack twine could hang otherwise."
    turned = any(hoop.meshes_turned for hoop in design.plan.hoops)
    way = ["Turned clockwise as seen from the mouth, reference mark from the top."] if turned else []
    tape = design.spec.tape.length
    ahead = [
        f"{guide.part.title} {tape(guide.float_line.length)} long, {tape(guide.height)} high"
        + (", and a second net alike at its far end" if guide.spec.pair else "")
        for guide in design.plan.guides
    ]
    guides = [f"At the mouth, not drawn: {'; '.join(ahead)}."] if ahead else []
    name = [design.spec.title] if room.named else []
    return [line for text in (*name, about, *way, *guides) for line in lines_of(text, room.width - 2 * EDGE)]


def _net(design: Design, points: Floats, paper: Paper) -> Iterator[str]:
    """What is tied, and the hoops on top."""
    yield from _bars(design, points, paper)
    for hoop, curve in zip(design.plan.hoops, hoop_curves(design), strict=True):
        pen = Part.hoop(hoop.number).kind.pen
        rod = _width(pen, hoop.rod_diameter, paper)
        corners = " ".join(f"{x:.2f},{y:.2f}" for x, y in paper.places(curve))
        yield f'<polygon points="{corners}" fill="none" stroke="{pen.colour}" stroke-width="{rod:.2f}"/>'


def _bars(design: Design, points: Floats, paper: Paper) -> Iterator[str]:
    """The bars, pen by pen in the order of the table of kinds; what is far before what is near."""
    netting, places = design.netting, paper.places(points)
    far = points[netting.bars][:, :, 1].mean(axis=1) > 0
    used = {part.kind.pen for part in netting.parts}
    for pen in dict.fromkeys(kind.pen for kind in KINDS.values() if kind.pen in used):
        drawn = netting.bars_that(lambda kind: kind.pen == pen)  # noqa: B023 - called at once
        width = _width(pen, float(netting.bar_diameters[drawn].max()), paper)
        if pen.far != pen.colour:
            if pen.far and not design.shape.symmetry.mirrored:  # else the near side hides it
                yield twine_path(netting.bars[drawn & far], places, pen.far, width)
            drawn &= ~far
        yield twine_path(netting.bars[drawn], places, pen.colour, width)


def _width(pen: Pen, thickness: float, paper: Paper) -> float:
    """How wide a stroke is drawn of what is so thick [m]: [mm]."""
    return max(1000.0 * thickness / paper.scale, pen.width) if pen.to_scale else pen.width


def _callouts(design: Design, points: Floats, paper: Paper) -> list[Callout]:
    spec, shape = design.spec, design.shape

    def tape(length: float) -> str:
        return spec.tape.length(length)

    found = []
    for hoop, top in zip(design.plan.hoops, _hoop_tops(design), strict=True):
        named = (f"hoop {hoop.number}", size_text(spec.tape, hoop), *_departures(design, hoop))
        found.append(Callout(paper.place(*top), named, HOOPS))
    for section in shape.sections:
        if design.plan.frame_of(design.plan.sections[section.from_hoop - 1]):
            continue  # no one diameter is its waist
        x = _waist_place(design, Part.section(section.from_hoop, section.to_hoop))
        top = paper.place(x, section.waist_diameter / 2)
        found.append(Callout(top, ("waist", f"Ø {tape(section.waist_diameter)}"), WAISTS))
    found += _string_callouts(design, points, paper, [callout.at[0] for callout in found])
    found += _rope_callouts(design, points, paper)
    return found


def _hoop_tops(design: Design) -> Iterator[tuple[float, float]]:
    """The highest point of the outside of every hoop, along the net and up [m]."""
    for edge in hoop_edges(design):
        x, _, z = edge[edge[:, 2].argmax()].tolist()
        yield x, z


def _departures(design: Design, hoop: HoopPlan) -> Iterator[str]:
    """How far a hoop is from flat and round, and how it is turned, as far as it is."""
    tape = design.spec.tape
    bow, oval = hoop.outline.bow, hoop.outline.oval
    if bow.numbers:
        yield f"bow {tape.length(bow.height)}"
    if oval.numbers:
        yield f"oval by {tape.length(2 * oval.height)}"
    if design.spec.hoops[hoop.number - 1].flip:
        yield "turned over"
    if hoop.meshes_turned:
        yield f"turned {hoop.meshes_turned} {'mesh' if hoop.meshes_turned == 1 else 'meshes'}"


def _waist_place(design: Design, part: Part) -> float:
    """Where a section is narrowest: the row of its knots that is nearest to the axis."""
    netting, points = design.netting, design.shape.knot_positions
    knots = distinct(netting.bars[netting.bars_of(part)])
    rows = netting.knot_rows[knots]
    radii = np.hypot(points[knots, 1], points[knots, 2])
    mean = {row: radii[rows == row].mean() for row in distinct(rows)}
    narrowest = min(mean, key=lambda row: mean[row])
    return float(points[knots[rows == narrowest], 0].mean())


def _string_callouts(
    design: Design, points: Floats, paper: Paper, taken: Sequence[float]
) -> Iterator[Callout]:
    """One string of each throat, named where its leader stands farthest from those of hoops and waists."""
    spec, netting = design.spec, design.netting
    for throat in design.plan.throats:
        bars = netting.bars_of(throat.strings_part)
        strings = bars[netting.bar_rows[bars] == 0]
        ends = points[netting.bars[strings]]
        tip, tie = ends[np.argmax((ends[:, :, 2] - ends[:, :, 1]).sum(axis=1))]
        along = paper.places(tip + np.linspace(0.2, 0.8, 13)[:, None] * (tie - tip))
        alone = np.abs(along[:, :1] - np.array(taken)).min(axis=1).argmax()
        hung = design.shape.throats[throat.number - 1]
        told = _sure(spec, hung.string_length, hung.string_follows).partition(" ± ")
        sure = (f"± {told[2]}",) if told[2] else ()
        named = f"strings {throat.number}" if len(design.plan.throats) > 1 else "strings"
        across, down = along[alone].tolist()
        yield Callout((across, down), (named, told[0], *sure), STRINGS, dot=True)


def _rope_callouts(design: Design, points: Floats, paper: Paper) -> Iterator[Callout]:
    rigging, netting = design.spec.rigging, design.netting
    lengths = {ANCHOR_LINE: (ANCHOR_LINE.title, rigging.line)}
    for rib in design.plan.ribs:
        lengths[rib.part] = (f"{len(rib.starts)} rib lines", rib.length)
    if rigging.bridle is not None:
        lengths[BRIDLE] = (f"{rigging.bridle.legs} legs", rigging.bridle.length)
    for part, (named, length) in lengths.items():
        if part in netting.parts:
            middles = points[netting.bars[netting.bars_of(part)]].mean(axis=1)
            x, _, z = middles[np.argmax(middles[:, 2])].tolist()
            text = design.spec.tape.length(length)
            yield Callout(paper.place(x, z), (named, text), ROPE, dot=True)


def _dimensions(design: Design, paper: Paper) -> list[list[Dimension]]:
    """Groups of dimensions, nearest to the net first: spacings, throats, lengths over all."""
    spec, shape = design.spec, design.shape
    hoops = shape.hoop_positions.tolist()
    low = [hoop.outline.reach[0] for hoop in design.plan.hoops]

    def between(places: Sequence[Point], text: str, colour: str, follows: Follows) -> Dimension:
        start, end = places
        length = _sure(spec, end[0] - start[0], follows)
        named = f"{text}: {length}" if text else length
        return Dimension(paper.place(*start), paper.place(*end), named, colour)

    ends = list(zip(hoops, low, strict=True))
    tail_end = (shape.tail_end, 0.0)
    chain = [
        between(pair, "", HOOPS, section.follows)
        for pair, section in zip(pairwise(ends), shape.sections, strict=True)
    ]
    if design.plan.tail is not None:
        chain.append(between((ends[-1], tail_end), "tail", HOOPS, shape.tail_follows))
    standing = [(throat, (throat.tip_position, 0.0)) for throat in shape.throats]
    lengths = [
        between((ends[throat.hoop - 1], tip), f"throat {throat.number}", THROATS, throat.follows)
        for throat, tip in standing
    ]
    tips = [
        between((ends[0], tip), f"tip {throat.number} from the mouth", THROATS, throat.tip_follows)
        for throat, tip in standing
    ]
    whole = [between((ends[0], ends[-1]), "first hoop to last", HOOPS, shape.length_follows)]
    if design.plan.tail is not None:
        whole.append(between((ends[0], tail_end), "over all, with the tail", HOOPS, shape.end_follows))
    return [chain, lengths, tips, whole]


def _sure(spec: NetSpec, metres: float, follows: Follows) -> str:
    """A length [m], and how sure it is where that is known."""
    off = spec.tape.either_way(follows.either_way(spec.tolerances))
    bare = off if spec.tape.units == "ft" else off.removesuffix(f" {spec.tape.units}")
    return f"{spec.tape.length(metres)} ± {bare}" if follows.known else spec.tape.length(metres)
