"""A net as it hangs, in perspective: near twine over far twine, hoops with thickness, soft shading.

Strokes are sorted into layers by distance, and those of one layer that look alike make one path, so that
thousands of bars take a few hundred paths. Every stroke has a rim, which parts it from what lies behind.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.design import Design
from net3d.drawings.camera import Camera, Floats, camera_for

LAYERS = 90
SHADES = 3
HOOP_SIDES = 240
PAPER = np.array([1.0, 1.0, 1.0])
HAZE = 0.62  # of the paper's colour over what is farthest away
LIGHT = np.array([-0.35, -0.55, 0.76])  # toward the light: over the left shoulder
LEAST_WIDTH = 1.15  # pixels
LINE_SHOWN = 0.35  # of the net's length: so much of a long anchor line is drawn

# Kinds that differ in lightness as well as in hue, for the colour-blind and for grey print.
INKS = {
    "section": (0.15, 0.36, 0.42),
    "tail": (0.10, 0.28, 0.38),
    "throat": (0.82, 0.36, 0.02),
    "strings": (0.55, 0.10, 0.14),
    "bridle": (0.40, 0.33, 0.22),
    "anchor": (0.40, 0.33, 0.22),
    "hoop": (0.17, 0.19, 0.22),
}


@dataclass(frozen=True, eq=False)
class Strokes:
    """Straight strokes in space of one kind: ends (k, 2, 3) and diameters (k,) [m]."""

    kind: str
    ends: Floats
    diameters: Floats


def perspective_view(design: Design, view: str = "quarter", size: tuple[int, int] = (1600, 1000)) -> str:
    """The picture of a net as SVG text.

    Parameters: ``view`` of ``camera.VIEWS``; the side nearest to the camera is left out of ``cutaway``.
    ``size`` [pixels].
    """
    parts = list(_strokes(design))
    camera = camera_for(np.concatenate([part.ends.reshape(-1, 3) for part in parts]), view, size)
    if view == "cutaway":
        parts = [_far_half(part, camera) for part in parts]
    width, height = size
    box = f'width="{width}" height="{height}" viewBox="0 0 {width} {height}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {box}>'
    paths = "\n".join(_paths(parts, camera))
    return f'{head}\n<g fill="none" stroke-linecap="round">\n{paths}\n</g>\n</svg>\n'


def _strokes(design: Design) -> Iterator[Strokes]:
    netting, places = design.netting, design.shape.knot_positions
    for number, part in enumerate(netting.parts):
        bars = np.flatnonzero(netting.bar_parts == number)
        ends = places[netting.bars[bars]]
        if part == "anchor-line":
            reach = LINE_SHOWN * design.shape.length / np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
            ends[:, 1] = ends[:, 0] + np.minimum(reach, 1.0)[:, None] * (ends[:, 1] - ends[:, 0])
        yield Strokes(part.split("-")[0], ends, netting.bar_diameters[bars])
    for hoop, place in zip(design.plan.hoops, design.shape.hoop_positions, strict=True):
        yield _hoop_strokes(hoop.outside_diameter, hoop.rod_diameter, float(place))


def _hoop_strokes(diameter: float, rod: float, place: float) -> Strokes:
    angles = np.linspace(0.0, 2 * np.pi, HOOP_SIDES + 1)
    radius = (diameter - rod) / 2
    ring = np.stack([np.full_like(angles, place), -radius * np.sin(angles), radius * np.cos(angles)], axis=1)
    return Strokes("hoop", np.stack([ring[:-1], ring[1:]], axis=1), np.full(HOOP_SIDES, rod))


def _far_half(part: Strokes, camera: Camera) -> Strokes:
    """Body and tail without what lies between the camera and the net's axis."""
    if part.kind not in ("section", "tail"):
        return part
    kept = part.ends.mean(axis=1)[:, 1:] @ camera.axes[2, 1:] > 0.0
    return Strokes(part.kind, part.ends[kept], part.diameters[kept])


def _paths(parts: list[Strokes], camera: Camera) -> Iterator[str]:
    """One path for all strokes of a layer, kind and shade, far layers first: rim, then body, then light."""
    kinds = np.repeat(np.arange(len(parts)), [len(part.ends) for part in parts])
    ends = np.concatenate([part.ends for part in parts])
    diameters = np.concatenate([part.diameters for part in parts])
    flat, away = camera.see(ends.reshape(-1, 3))
    flat, away = flat.reshape(-1, 2, 2), away.reshape(-1, 2).mean(axis=1)
    share = (away - away.min()) / max(float(np.ptp(away)), 1e-9)
    layers = np.minimum((LAYERS * (1 - share)).astype(int), LAYERS - 1)
    shades = _shades(ends)
    widths = np.maximum(camera.pixels(diameters, away), LEAST_WIDTH)
    for layer in range(LAYERS):
        for number in np.unique(kinds[layers == layer]):
            for shade in range(SHADES):
                chosen = (layers == layer) & (kinds == number) & (shades == shade)
                if chosen.any():
                    look = (shade, HAZE * (1 - layer / LAYERS))
                    yield from _stroke(parts[number].kind, flat[chosen], float(widths[chosen].mean()), look)


def _shades(ends: Floats) -> NDArray[np.int64]:
    """How lit each stroke is, 0 to ``SHADES`` - 1: most where it runs across the light."""
    spans = ends[:, 1] - ends[:, 0]
    along = np.abs(spans @ LIGHT) / np.maximum(np.linalg.norm(spans, axis=1), 1e-12)
    lit = np.sqrt(np.maximum(1.0 - along**2, 0.0))
    return np.asarray(np.minimum((SHADES * lit).astype(int), SHADES - 1))


def _stroke(kind: str, flat: Floats, width: float, look: tuple[int, float]) -> Iterator[str]:
    shade, haze = look
    body = np.array(INKS[kind]) * (0.8 + 0.15 * shade)
    path = "".join(f"M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}" for (x0, y0), (x1, y1) in flat)
    thick = kind == "hoop" or width > 2.5
    rim = 1.2 if thick else 0.5
    yield _path(path, body * 0.35 if thick else PAPER, width + rim, haze if thick else 0.0)
    yield _path(path, body, width, haze)
    if thick:
        yield _path(path, body + (1 - body) * 0.55, width * 0.3, haze, shift=-0.22 * width)


def _path(path: str, colour: Floats, width: float, haze: float, shift: float = 0.0) -> str:
    mixed = np.clip(colour + (PAPER - colour) * haze, 0.0, 1.0)
    tone = "#" + "".join(f"{round(255 * part):02x}" for part in mixed)
    moved = f' transform="translate({shift:.2f} {shift:.2f})"' if shift else ""
    return f'<path d="{path}" stroke="{tone}" stroke-width="{width:.2f}"{moved}/>'
