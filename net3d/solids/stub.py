"""Lines that reach far off, cut short: drawn whole, a long anchor line would make the net small in a view."""

from __future__ import annotations

import numpy as np

from net3d.netting.netting import Floats, Netting
from net3d.statics.shape import Shape

LINE_SHOWN = 0.35  # of the net's length: so much of a long line is drawn


def stubbed(netting: Netting, shape: Shape) -> Floats:
    """Places of all knots (n, 3) [m], the far ends of long lines brought nearer along them."""
    places = shape.knot_positions.copy()
    for near, far in netting.bars[netting.bars_that(lambda kind: kind.far_off)]:
        span = places[far] - places[near]
        places[far] = places[near] + span * min(1.0, LINE_SHOWN * shape.length / np.linalg.norm(span))
    return places


def far_lengths(netting: Netting, shape: Shape) -> dict[str, float]:
    """How long the lines are without a pull that ``stubbed`` cuts short, by the names of their parts [m]."""
    far = {
        part.name: float(shape.bar_rest_lengths[netting.bars_of(part)].sum())
        for part in netting.parts
        if part.kind.far_off
    }
    return {name: length for name, length in far.items() if length > LINE_SHOWN * shape.length}
