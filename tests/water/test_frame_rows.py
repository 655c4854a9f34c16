"""What netting on frames shelters: slopes of a square's sides, and rays cut with triangles."""

from dataclasses import replace

import numpy as np
import pytest

from net3d.parts import Part
from net3d.water.bands import bar_normals, netting_bands
from net3d.water.outlines import rim_outline
from tests.nets import framed, make
from tests.water.test_standing import BEHIND, screens, shares

LOSS = 1 - BEHIND
THROAT = {"hoop": 1, "deep": 3.5, "tip": 16, "strings": {"to_tail": True}}
CORNERS = np.array([[1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0], [1.0, -1.0]])


def row(first, last, length=1.0):
    """A row of netting from a rectangle of half sides (y, z) to another, so far on along the net."""
    rims = np.array([CORNERS * half for half in (first, last)], dtype=float)
    own = replace(
        screens([0.0]),
        places=np.array([[0.0, length]]),
        shaped=np.array([0]),
        outlines=np.array([[rim_outline(rim) for rim in rims]]),
    )
    return own, np.concatenate(
        [np.column_stack([np.full(4, place), rim]) for place, rim in zip((0.0, length), rims, strict=True)]
    )


@pytest.mark.closed_form
def test_a_square_that_widens_along_the_flow_takes_the_slope_of_its_sides():
    """By 0.4 m over 1 m on every side: all that stands between the two squares, out to their corners."""
    band, _ = row((0.4, 0.4), (0.8, 0.8))
    behind = [[2.0, y, z] for y, z in ((0.5, 0.0), (0.0, -0.7), (0.75, 0.7), (-0.7, 0.72), (0.45, -0.5))]
    beside = [[2.0, y, z] for y, z in ((0.3, 0.3), (-0.35, 0.38), (0.85, 0.0), (0.82, 0.82))]
    assert np.hypot(0.75, 0.7) > 0.8  # outside a circle that is as wide as the square
    assert 1 - np.array(shares(band, behind)) == pytest.approx(LOSS * 0.4 / np.hypot(1, 0.4), abs=1e-4)
    assert shares(band, beside) == [1.0] * 4


@pytest.mark.closed_form
@pytest.mark.parametrize("angle", [0.3, 1.0, np.pi / 2])
def test_in_a_square_tube_the_wall_up_the_stream_takes_its_sine(angle):
    """Inside it one wall, behind it two, which stand at the angle of the flow to the net."""
    band, _ = row((0.5, 0.5), (0.5, 0.5), 20.0)
    inside, behind, above = shares(band, [[10.0, 0.1, 0.45], [10.0, 0.9, -0.45], [10.0, 0.9, 0.6]], angle)
    assert inside == pytest.approx(1 - LOSS * np.sin(angle), abs=1e-3)
    assert behind == pytest.approx((1 - LOSS * np.sin(angle)) ** 2, abs=1e-3)
    assert above == 1.0


def met(place, upstream, corners):
    """Speed behind four flat sides, each cut into two triangles, by rays to each (Cramer's rule)."""
    share = 1.0
    for side in range(4):
        on = (side + 1) % 4
        for triangle in ((side, on, 4 + side), (on, 4 + on, 4 + side)):
            one, *others = corners[list(triangle)]
            edges = np.array([other - one for other in others])
            matrix = np.column_stack([*edges, -upstream])
            if abs(np.linalg.det(matrix)) > 1e-12:
                first, second, far = np.linalg.solve(matrix, place - one)
                if min(first, second, 1 - first - second) >= 0 and far > 0.01:
                    normal = np.cross(*edges)
                    share *= 1 - LOSS * abs(normal @ upstream) / np.linalg.norm(normal)
    return share


@pytest.mark.second_route
@pytest.mark.parametrize("angle", [0.0, 0.5, 1.2])
def test_a_rectangle_that_narrows_as_rays_and_triangles_have_it(angle):
    """At places drawn at random within it and behind it; a hair off an edge either way may tell otherwise."""
    band, corners = row((0.9, 0.5), (0.63, 0.35), 1.5)
    draw = np.random.default_rng(1)
    places = draw.uniform((-0.2, -1.0, -0.6), (2.5, 1.0, 0.6), (250, 3))
    upstream = -np.array([np.cos(angle), np.sin(angle), 0.0])
    told = np.array([met(place, upstream, corners) for place in places])
    found = np.array(shares(band, places, angle))
    assert 0.2 < (told < 1).mean() < 0.9
    assert (np.abs(found - told) < 2e-3).mean() > 0.97


@pytest.fixture(scope="module", name="square")
def _square():
    frame = {"shape": "square", "width": 0.4, "corner": 0.02}
    net = framed(
        frame,
        frame,
        around=32,
        stretched=0.07,
        diameters=(0.5, 0.5, 0.5),
        deep=(2, 4),
        tail=5,
        throats=[THROAT],
    )
    places = net.netting.knot_seats.copy()  # rows of knots evenly along the net, each as the square is
    angles, rows = net.netting.knot_angles, net.netting.knot_rows
    places[:] = net.plan.hoops[0].outline.points(angles, net.plan.hoops[0].rod_diameter)
    places[:, 0] = 0.05 * rows
    return net, places, netting_bands(net.netting, places)


@pytest.mark.law
def test_rows_are_as_their_frames_and_fade_to_round(square):
    net, places, bands = square
    first = rim_outline(places[net.netting.knot_rows == 0, 1:])
    assert bands.outlines[0, 0] == pytest.approx(first, rel=1e-9)
    assert bands.outlines[3, 1] == pytest.approx(first, rel=0.03)  # 4 rows of bars to the second frame
    assert bands.outlines[11, 1] == pytest.approx(
        bands.radii[11, 1], rel=5e-3
    )  # and 8 to the hoop, of chords
    assert set(range(4)) < set(bands.shaped.tolist())
    assert 11 not in bands.shaped
    rows = np.flatnonzero(bands.parts == net.netting.number_of(Part.throat(1)))
    first, last = (
        bands.outlines[rows[0], 0],
        bands.outlines[rows[-1], 1],
    )  # from the frame to round at its tip
    assert first / first[0] == pytest.approx(bands.outlines[0, 0] / bands.outlines[0, 0, 0], rel=1e-9)
    second = bands.outlines[rows[0], 1] / bands.radii[rows[0], 1] - 1
    whole = bands.outlines[0, 0] / bands.radii[0, 0] - 1
    assert second == pytest.approx((1 - 1 / len(rows)) * whole, abs=1e-6)
    assert last == pytest.approx(bands.radii[rows[-1], 1], rel=1e-6)
    assert not len(netting_bands(make().netting, make().settled().knot_positions).shaped)


@pytest.mark.law
def test_netting_along_a_side_faces_as_the_side_does(square):
    """Between two equal squares it faces up, down, left or right, but at the corners."""
    net, places, bands = square
    bars = np.flatnonzero(bands.bar_bands == 1)
    middles = places[net.netting.bars[bars]].mean(axis=1)
    normals = bar_normals(net.netting, places, bands)[bars]
    flat = np.abs(middles[:, 1:]).min(axis=1) < 0.12
    assert flat.sum() > 20
    assert np.abs(normals[flat, 1:]).max(axis=1) == pytest.approx(1.0, abs=2e-3)
