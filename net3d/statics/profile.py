"""The body's radius along the net: what a throat inside it must keep clear of, or lie on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from net3d.netting.netting import Floats, Ints, Netting


@dataclass(frozen=True, eq=False)
class Profile:
    """Rows of the body's knots in order along the net: where they stand and their mean radius [m]."""

    places: Floats  # (rows,)
    radii: Floats  # (rows,)

    def radius(self, places: Floats) -> Floats:
        """Radius of the body at places along the net [m], straight from row to row."""
        return np.interp(places, self.places, self.radii)

    def slope(self, places: Floats) -> Floats:
        """How fast the radius grows along the net at places [m]; 0 beyond the first and the last row."""
        segments = np.searchsorted(self.places, places, side="right") - 1
        inside = (segments >= 0) & (segments < len(self.places) - 1)
        segments = np.clip(segments, 0, len(self.places) - 2)
        rise = np.diff(self.radii)[segments] / np.maximum(np.diff(self.places)[segments], 1e-9)
        return np.asarray(np.where(inside, rise, 0.0))


def body_profile(netting: Netting, positions: Floats) -> Profile:
    """The profile of the body and its tail with knots at some positions (n, 3) [m]."""
    knots = body_knots(netting)
    rings = np.unique(netting.knot_rings[knots], return_inverse=True)[1]
    counts = np.bincount(rings)
    places = np.bincount(rings, positions[knots, 0]) / counts
    radii = np.bincount(rings, np.linalg.norm(positions[knots, 1:], axis=1)) / counts
    order = np.argsort(places)
    return Profile(places[order], radii[order])


def body_knots(netting: Netting) -> Ints:
    """Numbers of the knots of the body's sections and its tail."""
    return np.flatnonzero(netting.knots_that(lambda kind: kind.body))
