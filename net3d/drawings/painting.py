"""A net as it hangs, in perspective: near twine over far twine, round rods and ropes, soft shade."""

from __future__ import annotations

from math import sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

from net3d.design import Design
from net3d.drawings.camera import Camera, camera_for
from net3d.drawings.raster import Flat, Seen, flatten, nearest
from net3d.drawings.strokes import KINDS, Strokes, far_half, strokes_of
from net3d.netting.netting import Floats

SAMPLES = 3  # a pixel is so many samples wide and high
MOST_SAMPLES = 16_000_000  # of a picture: a larger one has fewer to a pixel
LEAST_WIDTHS = {
    "throat": 1.5,
    "strings": 1.9,
    "bridle": 2.2,
    "anchor": 2.2,
    "hoop": 2.5,
}  # of a stroke [pixels]
LEAST_WIDTH = 1.25  # of other strokes
LIGHT = np.array([-0.45, -0.65, -0.62])  # toward the light, over the left shoulder: right, down, away
HAZE = 0.45  # of white over what is farthest away
DIM, LIT = 0.55, 0.6  # light on what faces away, and more on what faces the light
SHINE = {"hoop": 0.55, "bridle": 0.12, "anchor": 0.12}
DARKEST = 0.72  # of the light is left in the deepest shade of other things
SHADE_REACH = 0.012  # how far a thing in front shades what is behind it, of the picture's width
SHADE_DEPTH = 0.08  # of the net's size: what lies so much deeper than what is around it is in full shade
SKY = 1.3  # of the light comes from straight above, when it casts the shadow on the floor
FLOOR_SHADE = 0.13  # of the light is gone in the deepest shadow on the floor
FLOOR_BLUR = 0.012  # of the picture's width

# Kinds that differ in lightness as well as in hue, for the colour-blind and for grey print.
INKS = {
    "section": (0.10, 0.40, 0.47),
    "tail": (0.07, 0.32, 0.42),
    "throat": (0.93, 0.42, 0.02),
    "strings": (0.52, 0.04, 0.10),
    "bridle": (0.62, 0.49, 0.28),
    "anchor": (0.62, 0.49, 0.28),
    "hoop": (0.26, 0.29, 0.33),
}


def painted_view(
    design: Design, view: str = "quarter", size: tuple[int, int] = (1600, 1000)
) -> NDArray[np.uint8]:
    """The picture of a net: red, green and blue, (height, width, 3).

    Parameters: ``view`` of ``camera.VIEWS``; ``cutaway`` leaves out the near side of the body. ``size`` width
    and height [pixels]. Raises KeyError for another view.
    """
    strokes = strokes_of(design)
    fine = max(1, min(SAMPLES, int(sqrt(MOST_SAMPLES / (size[0] * size[1])))))
    samples = (fine * size[0], fine * size[1])
    camera = camera_for(strokes.ends.reshape(-1, 3), view, samples)
    paper = _floor(strokes, camera, size, fine).reshape(-1, 1)
    if view == "cutaway":
        strokes = far_half(strokes, camera)
    least = fine * np.array([LEAST_WIDTHS.get(kind, LEAST_WIDTH) for kind in KINDS])
    flat = flatten(strokes, camera, least[strokes.kinds])
    seen = nearest(flat, samples)
    light = _lights(strokes, camera, flat, seen)
    light *= _shade(seen, samples, fine)[:, None]
    return _developed(light, seen, paper, size, fine)


def _developed(
    light: Floats, seen: Seen, paper: Floats, size: tuple[int, int], fine: int
) -> NDArray[np.uint8]:
    """Samples averaged over their pixels, paper where there are none, as shades of the screen."""
    down, across = np.divmod(seen.samples, fine * size[0])
    pixels = down // fine * size[0] + across // fine
    many = size[0] * size[1]
    part = 1 / fine**2
    covered = np.bincount(pixels, minlength=many)[:, None] * part
    drawn = np.stack([np.bincount(pixels, light[:, band], many) for band in range(3)], axis=1) * part
    mixed = np.clip(paper * (1 - covered) + drawn, 0.0, 1.0)
    picture: NDArray[np.uint8] = np.rint(255 * mixed).astype(np.uint8).reshape(size[1], size[0], 3)
    return picture


def _lights(strokes: Strokes, camera: Camera, flat: Flat, seen: Seen) -> Floats:
    """Light from every sample (s, 3): the stroke's ink, lit as a round thing, and haze with the distance."""
    kinds = strokes.kinds[seen.strokes]
    inks = np.array([INKS[kind] for kind in KINDS])
    shine = np.array([SHINE.get(kind, 0.0) for kind in KINDS])[kinds]
    across, front = _frames(strokes, camera, flat)
    bulge = np.sqrt(np.maximum(1 - seen.across**2, 0.0))
    toward = LIGHT / np.linalg.norm(LIGHT)
    facing = seen.across * (across @ toward)[seen.strokes] + bulge * (front @ toward)[seen.strokes]
    halfway = toward + np.array([0.0, 0.0, -1.0])
    halfway /= np.linalg.norm(halfway)
    glance = seen.across * (across @ halfway)[seen.strokes] + bulge * (front @ halfway)[seen.strokes]
    lit = DIM + LIT * np.maximum(facing, 0.0)
    light = inks[kinds] * lit[:, None] + (shine * np.maximum(glance, 0.0) ** 40)[:, None]
    share = (seen.away - flat.away.min()) / max(float(np.ptp(flat.away)), 1e-9)
    haze = (HAZE * share)[:, None]
    return np.asarray(np.minimum(light, 1.0) * (1 - haze) + haze)


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


def _shade(seen: Seen, samples: tuple[int, int], fine: int) -> Floats:
    """What part of the light reaches each sample past the things before it, as on an overcast day.

    How much deeper a sample lies than what is around it on the picture, on the average, says how much of the
    sky is hidden (after Luft, Colditz and Deussen, Image Enhancement by Unsharp Masking the Depth Buffer, ACM
    Transactions on Graphics 25(3) 2006, from memory).
    """
    coarse = 2 * fine
    width, height = -(-samples[0] // coarse), -(-samples[1] // coarse)
    down, across = np.divmod(seen.samples, samples[0])
    cells = down // coarse * width + across // coarse
    count = np.bincount(cells, minlength=width * height).reshape(height, width)
    depth = np.bincount(cells, seen.away, width * height).reshape(height, width)
    blur = SHADE_REACH * width
    around = gaussian_filter(depth, blur) / np.maximum(gaussian_filter(count.astype(float), blur), 1e-9)
    deeper = seen.away - around.ravel()[cells]
    full = SHADE_DEPTH * max(float(np.ptp(seen.away)), 1e-9)
    return np.asarray(1 - (1 - DARKEST) * np.clip(deeper / full, 0.0, 1.0))


def _floor(strokes: Strokes, camera: Camera, size: tuple[int, int], fine: int) -> Floats:
    """The paper with the net's soft shadow on a floor below it: light from 0 to 1 (height, width)."""
    ends = strokes.ends.copy()
    floor = float(ends[..., 2].min())
    toward = LIGHT @ camera.axes + np.array([0.0, 0.0, SKY])
    ends[..., :2] -= (ends[..., 2:] - floor) * (toward[:2] / toward[2])
    ends[..., 2] = floor
    flat = flatten(Strokes(ends, strokes.diameters, strokes.kinds), camera, np.ones(len(ends)))
    small = 4 * fine
    shrunk = Flat(flat.ends / small, np.ones(len(ends)), flat.away, flat.radii * 0)
    width, height = -(-size[0] // 4), -(-size[1] // 4)
    dark = np.zeros(width * height)
    dark[nearest(shrunk, (width, height)).samples] = 1.0
    soft = gaussian_filter(dark.reshape(height, width), FLOOR_BLUR * width)
    spread = np.kron(soft, np.ones((4, 4)))[: size[1], : size[0]]
    return 1 - FLOOR_SHADE * np.asarray(gaussian_filter(spread, 3.0))
