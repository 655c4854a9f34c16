"""Knots of bowed, oval hoops lie on the inside of the hoop that is drawn."""

import numpy as np
import pytest
from trimesh.triangles import closest_point

import net3d
from net3d.solids import solids_of
from tests.align.bowed import bowed_spec, saddle
from tests.nets import ROD, each_hoop

AROUND, OUTSIDE = 12, 0.26


@pytest.fixture(scope="module")
def design():
    gaps = [saddle(0.006), saddle(0.004, 0.7, 3)]
    spec = bowed_spec(gaps, (0, 2), around=AROUND, diameters=(OUTSIDE,) * 2, deep=(3,))
    across = tuple(OUTSIDE + 0.01 * np.cos(2 * np.pi * np.arange(6) / 6))
    return net3d.design(each_hoop(spec, across=across))


@pytest.mark.parametrize("hoop", [1, 2])
def test_knots_touch_the_drawn_rod(design, hoop):
    solid = next(solid for solid in solids_of(design, 6) if solid.part == f"hoop-{hoop}")
    (ring,) = solid.vertices(0, 1)
    triangles = ring[solid.faces].astype(float)
    knots = design.shape.knot_positions[design.netting.knot_carriers == hoop - 1]
    assert len(knots) == AROUND
    nearest = [closest_point(triangles, np.tile(knot, (len(triangles), 1))) for knot in knots]
    apart = [np.linalg.norm(points - knot, axis=1).min() for points, knot in zip(nearest, knots, strict=True)]
    # Knots ride on the inner face of a round rod. The drawn one has 16 sides around the rod and 96 around the
    # hoop: a sagitta of either. The netting has turned the first hoop; the anchor holds the second.
    assert abs(design.shape.poses[0].turn) > 0.005
    sagittas = ROD / 2 * (1 - np.cos(np.pi / 16)) + OUTSIDE / 2 * (1 - np.cos(np.pi / 96))
    assert max(apart) < sagittas
    assert design.plan.hoops[hoop - 1].outline.bow.height > 0.007
