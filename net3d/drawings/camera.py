"""A camera: where a point of the net lands in a picture."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

# From the middle of what is seen toward the camera; x runs along the net to the tail, z up.
VIEWS = {
    "quarter": (-0.80, -0.85, 0.42),
    "side": (0.0, -1.0, 0.10),
    "mouth": (-1.0, -0.05, 0.04),
    "cutaway": (-0.35, -0.95, 0.30),
}
DISTANCE = (
    2.2  # of the camera from the middle, in spans of what it sees: as one stands before a net on the floor
)
MARGIN = 0.04  # of the picture, left free on every side


@dataclass(frozen=True, eq=False)
class Camera:
    """A place to look from, with a scale and a middle in pixels for a picture of ``size``."""

    place: Floats  # (3,) [m]
    axes: Floats  # (3, 3) rows: right, down, away
    scale: float  # pixels
    middle: Floats  # (2,) pixels
    size: tuple[int, int]

    def see(self, points: Floats) -> tuple[Floats, Floats]:
        """Where points (n, 3) land (n, 2) [pixels], and how far away they are (n,) [m]."""
        seen = (points - self.place) @ self.axes.T
        return seen[:, :2] / seen[:, 2:] * self.scale + self.middle, seen[:, 2]

    def pixels(self, metres: Floats, away: Floats) -> Floats:
        """How wide a length across the view is at some distance [pixels].

        Parameters
        ----------
        metres : across the view [m]
        away : from the eye [m]
        """
        return np.asarray(metres / away * self.scale)


def camera_for(points: Floats, view: str, size: tuple[int, int]) -> Camera:
    """The camera of a named view that sees all of some points (n, 3) [m], filling a picture of a size.

    Raises KeyError for a view that ``VIEWS`` does not have.
    """
    toward = np.array(VIEWS[view]) / np.linalg.norm(VIEWS[view])
    middle = (points.min(axis=0) + points.max(axis=0)) / 2
    span = float(np.linalg.norm(points.max(axis=0) - points.min(axis=0)))
    right = np.cross(-toward, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    axes = np.stack([right, np.cross(-toward, right), -toward])
    camera = Camera(middle + DISTANCE * span * toward, axes, 1.0, np.zeros(2), size)
    flat, _ = camera.see(points)
    low, high = flat.min(axis=0), flat.max(axis=0)
    room = np.array(size) * (1 - 2 * MARGIN)
    scale = float((room / np.maximum(high - low, 1e-9)).min())
    return Camera(camera.place, axes, scale, np.array(size) / 2 - scale * (low + high) / 2, size)
