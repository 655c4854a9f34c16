"""The outline of netting on frames, against the meshes themselves and against a tape around the frame."""

import numpy as np
import pytest

from net3d.netting import tie
from net3d.plan import lay_out
from net3d.spec import parse_spec
from net3d.statics import settle_quickly
from net3d.water.bands import netting_bands

FRAME = 'shape = "{}"\nwidth = {}\n{}corner = 0.02\nrod = "0.01 m"\nmaterial = "steel"\n'
NET = """title = "Two frames"
units = "m"
[netting]
around = 32
stretched = 0.1
twine = "#15"
[[hoop]]
{0}
[[hoop]]
{0}
[sections]
deep = [6]
[rigging]
pull = 60
"""


@pytest.fixture(scope="module", params=[("square", 0.5, ""), ("rectangle", 0.7, "height = 0.35\n")])
def made(request):
    spec = parse_spec(NET.format(FRAME.format(*request.param)))
    plan = lay_out(spec)
    netting = tie(spec, plan)
    return plan, netting, settle_quickly(netting, plan).knot_positions


def meshes(netting, positions):
    """Area of every triangle of a knot and two neighbours in the row before or after it [m^2].

    In a plain tube two bars that meet below are neighbours around above, and the other way round.
    """
    area = 0.0
    for end in (0, 1):
        for row in range(int(netting.bar_rows.max()) + 1):
            bars = netting.bars[netting.bar_rows == row]
            for knot in np.unique(bars[:, end]):
                one, other = positions[bars[bars[:, end] == knot, 1 - end]]
                area += np.linalg.norm(np.cross(one - positions[knot], other - positions[knot])) / 2
    return area


@pytest.mark.second_route
def test_netting_on_frames_is_as_large_as_its_meshes(made):
    _, netting, positions = made
    assert netting_bands(netting, positions).areas.sum() == pytest.approx(
        meshes(netting, positions), rel=0.02
    )


@pytest.mark.closed_form
def test_at_a_frame_the_rim_is_as_long_as_the_frame_within_its_rod(made):
    # Chords cut the corners: 4 of them, each by a few mm.
    plan, netting, positions = made
    bands = netting_bands(netting, positions)
    slant = np.hypot(np.diff(bands.places)[0, 0], np.diff(bands.radii)[0, 0])
    rims = bands.areas[0] / slant  # the mean of the frame's rim and the row after it
    assert rims == pytest.approx(plan.hoops[0].knot_girth, rel=0.04)
    assert np.pi * bands.radii[0].sum() < 0.94 * rims  # which round rows of the same mean radius are not
