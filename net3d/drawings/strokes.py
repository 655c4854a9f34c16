"""What a picture shows: straight round strokes in space, from the netting, the lines and the hoops."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from net3d.chain import Design
from net3d.drawings.camera import Camera
from net3d.drawings.hoops import hoop_curves
from net3d.netting.netting import Floats, Ints
from net3d.parts import KINDS, Part
from net3d.water.whole import nearby

HOOP_STROKES = 384  # around a round hoop, so that a large one shows no corners
GUIDE_SHOWN = 0.8  # of the net's length: so much of wings and leader is shown, but of a pair all
MORE = 1.1  # times as far as a heart's netting reaches
LINE_SHOWN = 0.2  # of the net's length: so much of a long anchor line is shown


@dataclass(frozen=True, eq=False)
class Strokes:
    """Straight round strokes: ends (k, 2, 3) and diameters (k,) [m], and what each is (k,)."""

    ends: Floats
    diameters: Floats
    kinds: Ints  # places in the table of kinds


def strokes_of(design: Design) -> Strokes:
    """All bars and lines of a net and its hoops, with a short piece of the anchor line."""
    parts = [*_tied(design), *_hoops(design)]
    return Strokes(
        np.concatenate([part.ends for part in parts]),
        np.concatenate([part.diameters for part in parts]),
        np.concatenate([part.kinds for part in parts]),
    )


def far_half(strokes: Strokes, camera: Camera) -> Strokes:
    """The strokes without what of body and tail lies between the camera and the net's axis."""
    body = np.array([kind.body for kind in KINDS.values()])[strokes.kinds]
    near = strokes.ends.mean(axis=1)[:, 1:] @ camera.axes[2, 1:] < 0.0
    kept = ~(body & near)
    return Strokes(strokes.ends[kept], strokes.diameters[kept], strokes.kinds[kept])


def _tied(design: Design) -> Iterator[Strokes]:
    design = design.whole
    netting, places = design.netting, design.shape.knot_positions
    most = _shown_of_guides(design)
    shown = nearby(netting, places, most)
    for part in netting.parts:
        bars = netting.bars_of(part)
        bars = bars[shown[bars]]
        ends = places[netting.bars[bars]]
        if part.kind.guide and part.kind.rope:
            ends = _within(ends, most)
        if part.kind.far_off:
            ends = _shortened(ends, LINE_SHOWN * design.shape.length)
        yield Strokes(ends, netting.bar_diameters[bars], np.full(len(bars), _place(part)))


def _shown_of_guides(design: Design) -> float:
    """How far from the mouth they are shown [m]: all of a pair, all the netting of a heart."""
    if design.plan.pair:
        return float(np.inf)
    hearts = [Part("wing", guide.number) for guide in design.plan.guides if guide.spec.bends]
    knots = [design.netting.bars[design.netting.bars_of(part)] for part in hearts]
    places = design.shape.knot_positions
    far = max((float(np.linalg.norm(places[own], axis=2).max()) for own in knots), default=0.0)
    return max(GUIDE_SHOWN * design.shape.length, MORE * far)


def _within(ends: Floats, most: float) -> Floats:
    """The same lines, none of them farther from the mouth than this [m]."""
    off = np.linalg.norm(ends, axis=2)
    near = np.where(off[:, :1] <= off[:, 1:], ends[:, 0], ends[:, 1])
    far = np.where(off[:, :1] <= off[:, 1:], ends[:, 1], ends[:, 0])
    low, high = off.min(axis=1), off.max(axis=1)
    kept = np.clip((most - low) / np.maximum(high - low, 1e-12), 0.0, 1.0)
    return np.stack([near, near + kept[:, None] * (far - near)], axis=1)


def _place(part: Part) -> int:
    return list(KINDS).index(part.word)


def _shortened(ends: Floats, most: float) -> Floats:
    """The same lines from the same starts, none longer than ``most`` [m]."""
    spans = ends[:, 1] - ends[:, 0]
    kept = np.minimum(1.0, most / np.maximum(np.linalg.norm(spans, axis=1), 1e-12))
    return np.stack([ends[:, 0], ends[:, 0] + kept[:, None] * spans], axis=1)


def _hoops(design: Design) -> Iterator[Strokes]:
    for hoop, curve in zip(design.plan.hoops, hoop_curves(design, HOOP_STROKES), strict=True):
        ends = np.stack([curve, np.roll(curve, -1, axis=0)], axis=1)
        kinds = np.full(len(ends), _place(Part.hoop(hoop.number)))
        yield Strokes(ends, np.full(len(ends), hoop.rod_diameter), kinds)
