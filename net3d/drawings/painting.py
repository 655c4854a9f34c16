"""A net as it hangs, in perspective: near twine over far twine, round rods and ropes, soft shade."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import sqrt

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from net3d.chain import Design
from net3d.drawings.camera import Camera, camera_for
from net3d.drawings.raster import Flat, Seen, flatten, nearest
from net3d.drawings.strokes import Strokes, far_half, strokes_of
from net3d.netting.netting import Floats, Ints
from net3d.parts import KINDS
from net3d.solids.solids import Singles

SAMPLES = 2  # a pixel is so many samples wide and high
BAND = 96  # pixels high: a strip of the picture, painted by itself
MOST_SAMPLES = 16_000_000  # of a picture: a larger one has fewer to a pixel
LIGHT = np.array([-0.45, -0.65, -0.62])  # toward the light, over the left shoulder: right, down, away
STRIPE_BITS = (3, 6)  # a stroke is painted in 8 stripes or more, and 64 at most
HAZE = 0.45  # of white over what is farthest away
DIM, LIT = 0.55, 0.6  # light on what faces away, and more on what faces the light
GLOSS = 40  # the higher, the narrower the shine
DARKEST = 0.72  # of the light is left in the deepest shade of other things
SHADE_REACH = 0.012  # how far a thing in front shades what is behind it, of the picture's width
SHADE_DEPTH = 0.08  # of the net's size: what lies so much deeper than what is around it is in full shade
SHADE_CELL = 4  # pixels wide and high, in which shade is reckoned
EVERY, FEWER = slice(None), slice(None, None, 4)  # so few of the samples tell how far away things are around
SKY = 1.3  # of the light comes from straight above, when it casts the shadow on the floor
FLOOR_SHADE = 0.13  # of the light is gone in the deepest shadow on the floor
FLOOR_CELL = 4  # pixels wide and high, in which the shadow on the floor is reckoned
FLOOR_BLUR = 0.012  # of the picture's width


def painted_view(
    design: Design, view: str = "quarter", size: tuple[int, int] = (1600, 1000)
) -> NDArray[np.uint8]:
    """The picture of a net: red, green and blue, (height, width, 3).

    Views are those of ``camera.VIEWS``, sizes width and height [pixels]; ``cutaway`` leaves out the near side
    of the body. Raises KeyError for another view.
    """
    strokes = strokes_of(design)
    fine = max(1, min(SAMPLES, int(sqrt(MOST_SAMPLES / (size[0] * size[1])))))
    samples = (fine * size[0], fine * size[1])
    camera = camera_for(strokes.ends.reshape(-1, 3), view, samples)
    paper = _floor(strokes, camera, size, fine)
    if view == "cutaway":
        strokes = far_half(strokes, camera)
    least = fine * np.array([kind.ink.width for kind in KINDS.values()])
    flat = flatten(strokes, camera, least[strokes.kinds])
    bands = [
        _band(flat, samples, (top, min(top + fine * BAND, samples[1])))
        for top in range(0, samples[1], fine * BAND)
    ]
    look, around = _look(strokes, camera, flat), _around(bands, samples, fine)
    pictures = [_developed(look, band, paper[band.top // fine :], (around, fine)) for band in bands]
    return np.concatenate(pictures)


@dataclass(frozen=True, eq=False)
class Band:
    """What is seen in a strip of the picture: worked out one by one, strips leave memory in the cache."""

    seen: Seen  # samples numbered from the strip's first
    top: int  # sample
    size: tuple[int, int]  # samples

    def cells(self, cell: int, seen: slice = EVERY) -> NDArray[np.int32]:
        """Which cell of the picture, ``cell`` samples wide and high, every sample lies in (s,) [-]."""
        samples, width = self.seen.samples[seen], self.size[0]
        down = samples // width
        return (down + self.top) // cell * -(-width // cell) + (samples - down * width) // cell


def _band(flat: Flat, samples: tuple[int, int], rows: tuple[int, int]) -> Band:
    """The strokes seen in some rows of samples; numbers stay those of all strokes."""
    first, last = flat.ends[..., 1].T
    reach = flat.widths
    chosen = np.flatnonzero(
        (np.maximum(first, last) + reach >= rows[0]) & (np.minimum(first, last) - reach <= rows[1])
    )
    moved = flat.ends[chosen] - np.array([0.0, rows[0]])
    part = Flat(moved, flat.widths[chosen], flat.away[chosen], flat.radii[chosen], flat.round[chosen])
    size = (samples[0], rows[1] - rows[0])
    seen = nearest(part, size)
    return Band(replace(seen, strokes=chosen.astype(np.int32)[seen.strokes]), rows[0], size)


@dataclass(frozen=True, eq=False)
class Look:
    """How strokes look: each in stripes from one edge to the other, as many as it is samples wide or more."""

    firsts: Ints  # (k,) number of the first stripe of a stroke
    shifts: NDArray[np.uint8]  # (k,) bits by which a place across it is too fine to be one of its stripes
    lights: Singles  # (stripes, 3) red, green and blue, haze and shine in them

    def lights_of(self, seen: Seen) -> Singles:
        """The light of every sample (s, 3) [-]."""
        stripes = self.firsts[seen.strokes] + (seen.across >> self.shifts[seen.strokes])
        return self.lights.take(stripes, axis=0)


def _look(strokes: Strokes, camera: Camera, flat: Flat) -> Look:
    bits = np.clip(np.ceil(np.log2(np.maximum(flat.widths, 1.0))), *STRIPE_BITS).astype(np.uint8)
    counts = 1 << bits.astype(np.int64)
    firsts = np.cumsum(counts) - counts
    stroke = np.repeat(np.arange(len(counts)), counts)
    across = ((np.arange(len(stroke)) - firsts[stroke] + 0.5) * (2.0 / counts)[stroke] - 1).astype(np.float32)
    bulge = np.sqrt(1 - across**2)
    edge, front = _frames(strokes, camera, flat)
    toward = LIGHT / np.linalg.norm(LIGHT)
    halfway = toward + np.array([0.0, 0.0, -1.0])
    halfway /= np.linalg.norm(halfway)

    def facing(way: Floats, chosen: Ints | slice) -> Singles:
        left, ahead = ((part @ way).astype(np.float32)[stroke[chosen]] for part in (edge, front))
        return np.asarray(np.maximum(across[chosen] * left + bulge[chosen] * ahead, 0))

    inks = np.array([kind.ink.colour for kind in KINDS.values()], np.float32)[strokes.kinds]
    shine = np.array([kind.ink.shine for kind in KINDS.values()], np.float32)[strokes.kinds]
    away = flat.away.mean(axis=1)
    haze = (HAZE * (away - away.min()) / max(float(np.ptp(away)), 1e-9)).astype(np.float32)
    lights = (inks * (1 - haze)[:, None])[stroke] * (DIM + LIT * facing(toward, slice(None)))[:, None]
    lights += haze[stroke][:, None]
    shiny = np.flatnonzero(shine[stroke])
    lights[shiny] += ((shine * (1 - haze))[stroke[shiny]] * facing(halfway, shiny) ** GLOSS)[:, None]
    return Look(firsts, 8 - bits, lights)


def _developed(look: Look, band: Band, paper: Singles, shading: tuple[Around, int]) -> NDArray[np.uint8]:
    """Samples averaged over their pixels, paper where there are none, as shades of the screen."""
    around, fine = shading
    width, height = band.size[0] // fine, band.size[1] // fine
    paper = paper[:height].ravel()
    picture = np.repeat(_shades(paper)[:, None], 3, axis=1)
    pixels = band.cells(fine) - band.top // fine * width
    covered = np.bincount(pixels, minlength=width * height)
    inked = np.flatnonzero(covered)
    bare = paper[inked] * (1 - covered[inked] / fine**2)
    lights = look.lights_of(band.seen)
    lights *= around.shade(band)[:, None]
    for number in range(3):
        drawn = np.bincount(pixels, lights[:, number], width * height)[inked] / fine**2
        picture[inked, number] = _shades(bare + drawn)
    return picture.reshape(height, width, 3)


def _shades(light: Floats | Singles) -> NDArray[np.uint8]:
    return (255 * light.clip(0, 1) + 0.5).astype(np.uint8)


def _frames(strokes: Strokes, camera: Camera, flat: Flat) -> tuple[Floats, Floats]:
    """For every stroke the unit vectors to its edge and to its front (k, 3), right, down and away.

    The edge is the one that ``raster`` counts as +1: below a stroke that runs more across, right of one that
    runs more down.
    """
    along = (strokes.ends[:, 1] - strokes.ends[:, 0]) @ camera.axes.T
    along /= np.maximum(np.linalg.norm(along, axis=1, keepdims=True), 1e-12)
    spans = flat.ends[:, 1] - flat.ends[:, 0]
    edge = np.stack([-spans[:, 1], spans[:, 0], np.zeros(len(spans))], axis=1)
    upright = np.abs(spans[:, 1]) > np.abs(spans[:, 0])
    edge *= np.where(np.where(upright, edge[:, 0], edge[:, 1]) < 0, -1.0, 1.0)[:, None]
    edge /= np.maximum(np.linalg.norm(edge, axis=1, keepdims=True), 1e-12)
    front = np.cross(along, edge)
    front *= np.where(front[:, 2] > 0, -1.0, 1.0)[:, None]
    return edge, front


@dataclass(frozen=True, eq=False)
class Around:
    """How far away things are around every cell of the picture, on the average.

    How much deeper a sample lies than what is around it says how much of the sky is hidden from it (after
    Luft, Colditz and Deussen, Image Enhancement by Unsharp Masking the Depth Buffer, ACM Transactions on
    Graphics 25(3) 2006, from memory).
    """

    away: Singles  # (cells,) row by row [m]
    full: float  # so much deeper is in full shade [m]
    cell: int  # samples wide and high

    def shade(self, band: Band) -> Singles:
        """What part of the light [-] reaches each sample past the things before it, as on an overcast day."""
        deeper = band.seen.away - self.away[band.cells(self.cell)]
        return np.asarray(1 - (1 - DARKEST) * np.clip(deeper / np.float32(self.full), 0, 1))


def _around(bands: list[Band], samples: tuple[int, int], fine: int) -> Around:
    cell = SHADE_CELL * fine
    width, height = -(-samples[0] // cell), -(-samples[1] // cell)
    counts, depths = np.zeros(width * height), np.zeros(width * height)
    nearest_away, farthest = np.inf, -np.inf
    for band in bands:
        cells, away = band.cells(cell, FEWER), band.seen.away
        counts += np.bincount(cells, minlength=width * height)
        depths += np.bincount(cells, away[FEWER], width * height)
        nearest_away = min(nearest_away, float(away.min(initial=np.inf)))
        farthest = max(farthest, float(away.max(initial=-np.inf)))
    blur = SHADE_REACH * width
    covered, deep = (_blurred(grid.reshape(height, width), blur) for grid in (counts, depths))
    full = SHADE_DEPTH * max(farthest - nearest_away, 1e-9)
    return Around(np.ravel(deep / np.maximum(covered, 1e-9)).astype(np.float32), full, cell)


def _floor(strokes: Strokes, camera: Camera, size: tuple[int, int], fine: int) -> Singles:
    """The paper with the net's soft shadow on a floor below it: light from 0 to 1 (height, width)."""
    ends = strokes.ends.copy()
    floor = float(ends[..., 2].min())
    toward = LIGHT @ camera.axes + np.array([0.0, 0.0, SKY])
    ends[..., :2] -= (ends[..., 2:] - floor) * (toward[:2] / toward[2])
    ends[..., 2] = floor
    ones = np.ones(len(ends))
    flat = flatten(Strokes(ends, strokes.diameters, strokes.kinds), camera, ones)
    width, height = -(-size[0] // FLOOR_CELL), -(-size[1] // FLOOR_CELL)
    cells = Flat(flat.ends / (fine * FLOOR_CELL), ones, flat.away, 0 * ones, flat.round & False)
    dark = np.zeros(width * height)
    dark[nearest(cells, (width, height)).samples] = 1.0
    soft = _blurred(dark.reshape(height, width), FLOOR_BLUR * width)
    soft *= np.outer(_fading(height), _fading(width)).astype(np.float32)
    whole = (FLOOR_CELL * width, FLOOR_CELL * height)
    spread = Image.fromarray(soft).resize(whole, Image.Resampling.BILINEAR)
    return np.asarray(1 - FLOOR_SHADE * np.asarray(spread)[: size[1], : size[0]])


def _blurred(grid: Floats, reach: float) -> Singles:
    """A grid with every cell the mean of those around it, weighted by a normal curve ``reach`` cells wide."""
    down, across = (_weights(count, reach) for count in grid.shape)
    return np.asarray(down @ grid.astype(np.float32) @ across.T)


def _weights(count: int, reach: float) -> Singles:
    """The weight of every cell of a row at every other (count, count); each row adds up to 1."""
    apart = np.arange(count, dtype=np.float32) - np.arange(count, dtype=np.float32)[:, None]
    curve = np.exp(-((apart / max(reach, 1e-9)) ** 2) / 2)
    return np.asarray(curve / curve.sum(axis=1, keepdims=True))


def _fading(count: int) -> Floats:
    """1 in the middle of so many cells and 0 at either end, so that a shadow is not cut off."""
    return np.asarray(
        np.clip(np.minimum(np.arange(count), np.arange(count)[::-1]) / (0.08 * count), 0.0, 1.0)
    )
