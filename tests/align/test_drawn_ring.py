"""Knots of bowed, oval hoops lie on the inside of the hoop that is drawn."""

import numpy as np
import pytest

import net3d
from net3d.solids import solids_of
from tests.align.bowed import bowed_spec, saddle
from tests.nets import ROD

AROUND, OUTSIDE = 12, 0.26


@pytest.fixture(scope="module")
def design():
    gaps = [saddle(0.006), saddle(0.004, 0.7, 3)]
    spec = bowed_spec(gaps, (0, 2), around=AROUND, diameters=(OUTSIDE,) * 2, deep=(3,))
    across = tuple(OUTSIDE + 0.01 * np.cos(2 * np.pi * np.arange(6) / 6))
    hoops = tuple(hoop.model_copy(update={"across": across}) for hoop in spec.hoops)
    spec = spec.model_copy(update={"hoops": hoops})
    return net3d.design(spec)


@pytest.mark.parametrize("hoop", [1, 2])
def test_knots_touch_the_drawn_rod(design, hoop):
    solid = next(solid for solid in solids_of(design, 6) if solid.part == f"hoop-{hoop}")
    vertices = np.concatenate(list(solid.chunks(1))).reshape(-1, 3)
    knots = design.shape.knot_positions[design.netting.knot_carriers == hoop - 1]
    assert len(knots) == AROUND
    # Knots ride on the inner face of the rod, every 30 degrees or half of that off, and so do columns of the
    # drawn ring's vertices, every 3.75. Around the rod a vertex is half a facet of 16 away, at most.
    nearest = np.linalg.norm(knots[:, None] - vertices[None], axis=2).min(axis=1)
    assert nearest.max() < np.pi * ROD / 16 / 2 * 1.05  # the polygon of the rod's area reaches a little out
    assert design.plan.hoops[hoop - 1].bow.height > 0.007
