"""Round strokes as samples: for every sample of a picture the nearest stroke, and where across it.

A sample is a part of a pixel. Every stroke steps along its longer way on the picture, one column (or row) of
samples a step, and covers in it what is as wide as the stroke. The nearest wins: its distance, its number and
the place across it are packed into one whole number, distance first, and the least is kept.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.drawings.camera import Camera
from net3d.drawings.strokes import Strokes
from net3d.netting.netting import Floats, Ints
from net3d.solids.solids import Singles

EMPTY = np.uint64(2**64 - 1)
NUMBER_BITS, ACROSS_BITS = 24, 8
OVERLAP = 0.35  # of a stroke's width, by which it runs on past its ends, so that corners do not gape
TOGETHER = 16384  # strokes painted at a time, so that memory does not grow with them
SHORT = 0.25  # of its width: a stroke shorter than that on the picture is shown as a disc


@dataclass(frozen=True, eq=False)
class Flat:
    """Strokes on the picture: ends (k, 2, 2) and widths (k,) [samples], distances of the ends (k, 2) [m]."""

    ends: Floats
    widths: Floats
    away: Floats
    radii: Floats  # (k,) [m]
    round: NDArray[np.bool_]  # (k,) seen so nearly end on that it shows as a disc, its ends being the disc's


@dataclass(frozen=True, eq=False)
class Seen:
    """What is seen, sample by sample of those that show anything."""

    samples: NDArray[np.int32]  # (s,) number in the picture, row by row
    strokes: NDArray[np.int32]  # (s,)
    across: NDArray[np.uint8]  # (s,) 0 to 255, from one edge of the stroke to the other
    away: Singles  # (s,) [m]


def flatten(strokes: Strokes, camera: Camera, least: Floats) -> Flat:
    """Project strokes; none is narrower than its ``least`` (k,) [samples]."""
    flat, away = camera.see(strokes.ends.reshape(-1, 3))
    ends, away = flat.reshape(-1, 2, 2), away.reshape(-1, 2)
    widths = np.maximum(camera.pixels(strokes.diameters, away.mean(axis=1)), least)
    spans = ends[:, 1] - ends[:, 0]
    lengths = np.maximum(np.linalg.norm(spans, axis=1), 1e-9)
    over = spans * (OVERLAP * widths / lengths)[:, None]
    short = lengths < SHORT * widths  # rectangles of these would stand out as teeth where a hoop turns away
    middles, across = ends[short].mean(axis=1), np.outer(widths[short] / 2, [1.0, 0.0])
    longer = np.stack([ends[:, 0] - over, ends[:, 1] + over], axis=1)
    longer[short] = np.stack([middles - across, middles + across], axis=1)
    return Flat(longer, widths, away, strokes.diameters / 2, short)


def nearest(flat: Flat, size: tuple[int, int]) -> Seen:
    """The nearest stroke at every sample of a picture ``size`` samples wide and high."""
    width, height = size
    buffer = np.full(width * height, EMPTY)
    spans = np.abs(flat.ends[:, 1] - flat.ends[:, 0])
    upright = spans[:, 1] > spans[:, 0]
    for turned, chosen in ((False, np.flatnonzero(~upright)), (True, np.flatnonzero(upright))):
        for start in range(0, len(chosen), TOGETHER):
            _paint(buffer, flat, chosen[start : start + TOGETHER], (width, height), turned)
    samples = np.flatnonzero(buffer != EMPTY).astype(np.int32)
    kept = buffer[samples]
    painted = kept.astype(np.uint32)  # the lower half
    away = (kept >> np.uint64(32)).astype(np.uint32).view(np.float32)
    return Seen(samples, (painted >> np.uint32(ACROSS_BITS)).view(np.int32), painted.astype(np.uint8), away)


def _paint(buffer: NDArray[np.uint64], flat: Flat, chosen: Ints, size: tuple[int, int], turned: bool) -> None:
    """Lay strokes that run more along than down into the buffer; ``turned`` for those that run more down."""
    ends = flat.ends[chosen][..., ::-1] if turned else flat.ends[chosen]
    along_size, down_size = size[::-1] if turned else size
    backward = ends[:, 0, 0] > ends[:, 1, 0]
    ends[backward] = ends[backward][:, ::-1]
    away = flat.away[chosen]
    away[backward] = away[backward][:, ::-1]
    number, along, part = _steps(ends, along_size)
    spans = (ends[:, 1] - ends[:, 0]).astype(np.float32)
    steep = np.hypot(spans[:, 0], spans[:, 1]) / np.maximum(spans[:, 0], np.float32(1e-9))
    half = (flat.widths[chosen].astype(np.float32) / 2 * steep)[number]
    discs = flat.round[chosen][number]
    half[discs] *= _circle(part[discs])
    middle = ends[:, 0, 1].astype(np.float32)[number] + part * spans[:, 1][number]
    near, far = (1 / away).astype(np.float32).T
    distance = 1 / (near[number] + part * (far - near)[number])
    first = np.maximum(np.ceil(middle - half), 0).astype(np.int32)
    last = np.minimum(np.floor(middle + half), down_size - 1).astype(np.int32)
    counts = np.maximum(last - first + 1, 0)
    step = np.repeat(np.arange(len(counts), dtype=np.int32), counts)  # a row for every sample it covers
    row = np.arange(len(step), dtype=np.int32) + (first - np.cumsum(counts, dtype=np.int32) + counts)[step]
    across = (row.astype(np.float32) - middle[step]) / half[step]
    radius = flat.radii[chosen].astype(np.float32)[number]
    bulge = radius[step] * np.sqrt(np.maximum(np.float32(1) - across * across, np.float32(0)))
    key = (distance[step] - bulge).view(np.uint32).astype(np.uint64) << np.uint64(32)
    key |= (chosen.astype(np.uint64) << np.uint64(ACROSS_BITS))[number][step]
    key |= ((across + np.float32(1)) * np.float32(127.5) + np.float32(0.5)).astype(np.uint8)
    at = along[step] * size[0] + row if turned else row * size[0] + along[step]
    np.minimum.at(buffer, at, key)


def _circle(part: Singles) -> Singles:
    """How high a disc is [-], in its radii, at parts of the way across it."""
    return np.asarray(np.sqrt(np.maximum(1 - (2 * part - 1) ** 2, 1e-3)))


def _steps(ends: Floats, size: int) -> tuple[Ints, NDArray[np.int32], Singles]:
    """Every whole step along every stroke: the stroke, the step, and the part of the stroke done by then."""
    starts = np.maximum(np.ceil(ends[:, 0, 0]), 0).astype(np.int64)
    stops = np.minimum(np.floor(ends[:, 1, 0]), size - 1).astype(np.int64)
    counts = np.maximum(stops - starts + 1, 0)
    number = np.repeat(np.arange(len(ends)), counts)
    along = np.arange(len(number)) - np.repeat(np.cumsum(counts) - counts, counts) + starts[number]
    spans = np.maximum(ends[:, 1, 0] - ends[:, 0, 0], 1e-9)
    part = (along - ends[:, 0, 0][number]) / spans[number]
    return number, along.astype(np.int32), part.astype(np.float32)
