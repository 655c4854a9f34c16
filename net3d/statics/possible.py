"""Whether a shape can be, whatever the solver says of it: by what statics allows of any net."""

from __future__ import annotations

import numpy as np

from net3d.netting.netting import Netting
from net3d.statics.shape import Shape

ROUNDING = 0.02  # of the pull: shares are means over rows, and rows differ by their weight
MOST_PULLS = 10.0  # times all that pulls: a bar across the net pulls more than what it bears along it


def is_possible(netting: Netting, shape: Shape) -> bool:
    """Whether pulls, shares and the order of the hoops are within what holds for every net at rest.

    Across any cut the twine, which can only pull, bears what pulls along the net and what hoops that
    touch push each other apart with. So no bar of the body pulls many times that, and the body's share
    of the pull is at least nothing and at most all. A throat that lies on the body is held off it by walls
    that do not feel it: they push with less than what pulls on the net, or the body would give way. Strings
    may strain each other across the net without end, and spreader rods the netting: of these nothing is said.
    """
    if any(carrier.follows is not None for carrier in netting.carriers):
        return True
    pulled = float(np.abs(netting.knot_loads[:, 0]).sum())
    weight = float(np.abs(netting.bar_weights).sum())
    along = pulled + float(shape.hoop_pushes.sum())
    body = netting.bars_that(lambda kind: kind.body)
    shares = np.array([section.body_share for section in shape.sections])
    most = along / netting.pull
    on_walls = float(np.linalg.norm(shape.knot_pushes, axis=1).sum())
    return (
        on_walls <= pulled + weight
        and float(shape.bar_tensions[body].max()) <= MOST_PULLS * (along + weight)
        and bool(np.all((shares >= -ROUNDING) & (shares <= most + ROUNDING)))
        and bool(np.all(np.diff(shape.hoop_positions) > 0.0))
    )
