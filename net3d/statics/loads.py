"""What pulls on the knots of a net in still water."""

from __future__ import annotations

import numpy as np

from net3d.netting.netting import Floats, Netting


def total_loads(netting: Netting) -> Floats:
    """Every load on the knots (n, 3) [N]: pulls, and half of each bar's weight in water at either end."""
    loads = netting.knot_loads.copy()
    for end in (0, 1):
        loads[:, 2] -= np.bincount(netting.bars[:, end], netting.bar_weights / 2, len(loads))
    return loads
