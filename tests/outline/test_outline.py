"""An outline as it is sewn in: turned, turned over, bowed, mirrored."""

import numpy as np
import pytest

from net3d.outline.curves import Circle, Oval
from net3d.outline.outline import Outline
from net3d.outline.polygon import Polygon, rectangle
from net3d.outline.waves import FLAT, Waves

pytestmark = pytest.mark.closed_form

ARCS = 2 * np.pi * np.arange(36) / 36 + 0.05
BOW = Waves((2, 3), (0.01, 0.004), (-0.003, 0.002))
CURVES = [Circle(0.9), Oval(0.9, Waves((2,), (0.01,), (0.004,))), rectangle(0.9, 0.6, 0.1)]


def clockwise(angle):
    """A turn about the net's axis, clockwise as seen from the mouth: the top comes to the right."""
    cosine, sine = np.cos(angle), np.sin(angle)
    return np.array([[1, 0, 0], [0, cosine, -sine], [0, sine, cosine]])


@pytest.mark.parametrize("curve", CURVES)
def test_turned_it_is_the_same_curve_turned(curve):
    """Its mark then stands there; the arc from the top to any of its places is larger by as much."""
    plain, turned = Outline(curve, BOW), Outline(curve, BOW, turn=0.7)
    for inside in (0.0, 0.02):
        wanted = plain.points(ARCS, inside) @ clockwise(0.7).T
        assert turned.points(ARCS + 0.7, inside) == pytest.approx(wanted, abs=1e-12)
    assert turned.normals(ARCS + 0.7) == pytest.approx(plain.normals(ARCS) @ clockwise(0.7).T, abs=1e-12)
    assert turned.points(np.array([0.7]))[0, 1] < 0  # at the right, as seen from the mouth


@pytest.mark.parametrize("curve", CURVES)
def test_bowed_by_its_waves_at_the_angles(curve):
    points = Outline(curve, BOW).points(ARCS, 0.02)
    angles = curve.angles(ARCS)
    heights = 0.01 * np.cos(2 * angles) - 0.003 * np.sin(2 * angles)
    heights += 0.004 * np.cos(3 * angles) + 0.002 * np.sin(3 * angles)
    assert points[:, 0] == pytest.approx(heights, abs=1e-12)
    assert points[:, 1:] == pytest.approx(curve.places(ARCS, 0.02), abs=1e-12)


@pytest.mark.parametrize("curve", CURVES)
def test_turned_over_about_its_upright_it_is_the_same_rod(curve):
    """Turned by half about the upright through its mark: x and y change sign, and left is right."""
    outline = Outline(curve, BOW)
    assert outline.turned_over().points(ARCS) == pytest.approx(outline.points(-ARCS) * (-1, -1, 1), abs=1e-7)


@pytest.mark.parametrize("curve", CURVES)
def test_whether_left_mirrors_right(curve):
    even = Outline(curve)
    assert even.mirrored == (curve is not CURVES[1])  # whose sine leans to one side
    assert Outline(curve, turn=0.3).mirrored == isinstance(curve, Circle)
    assert not Outline(curve, BOW).mirrored
    assert Outline(Circle(0.9), Waves((2,), (0.01,), (0.0,))).mirrored


def test_corners_count_from_the_top():
    square = Outline(rectangle(0.9, 0.9, 0.1), turn=0.2)
    assert square.corners == pytest.approx(np.pi / 4 * np.array([1, 3, 5, 7]) + 0.2)
    assert len(Outline(Circle(0.9)).corners) == 0


def test_places_divide_the_tape_evenly():
    """Forty places around 2.8 m of tape stand 0.07 m apart, whatever the shape."""
    frame = rectangle(0.8, 0.6, 0.0)
    for outline in (Outline(frame), Outline(Circle(2.8 / np.pi)), Outline(Oval(2.8 / np.pi, CURVES[1].oval))):
        assert outline.girth == pytest.approx(2.8)
        assert outline.pitch(40) == pytest.approx(0.07)
        assert outline.length(3 * 2 * np.pi / 40) == pytest.approx(0.21)
        assert outline.diameter == pytest.approx(2.8 / np.pi)


def test_made_true_it_is_as_long_around():
    outline = Outline(CURVES[1], BOW, 0.3)
    true = outline.trued()
    assert true.is_true
    assert not outline.is_true
    assert (true.girth, true.turn, true.bow) == (outline.girth, 0.3, FLAT)
    assert np.linalg.norm(true.points(ARCS), axis=1) == pytest.approx(0.45)
    assert outline.wave_numbers == {2, 3}


def test_departures_are_from_the_true_hoop():
    """To first order in its waves, which is what they are."""
    outline = Outline(CURVES[1], BOW, 0.3)
    angles = np.arctan2(*(outline.points(ARCS)[:, [1, 2]] * (-1, 1)).T)
    along, out = outline.departures(angles).T
    points = outline.points(ARCS)
    assert points[:, 0] == pytest.approx(along, abs=1e-9)
    radii = np.hypot(points[:, 1], points[:, 2])
    assert radii == pytest.approx(CURVES[1].mean_radius + out, abs=1e-9)
    assert np.abs(Outline(Polygon(CURVES[2].points, CURVES[2].radii)).departures(angles)).max() == 0


@pytest.mark.parametrize(("curve", "reach"), [(CURVES[0], (-0.45, 0.45)), (CURVES[2], (-0.3, 0.3))])
def test_how_far_down_and_up_it_reaches(curve, reach):
    assert Outline(curve).reach == pytest.approx(reach, abs=1e-6)
    oval = Outline(Oval(0.9, Waves((2,), (0.01,), (0.0,))))
    assert oval.reach == pytest.approx((-oval.curve.mean_radius - 0.01, oval.curve.mean_radius + 0.01))
    # A quarter of a turn on, a frame of 0.9 by 0.6 m stands on its narrow side.
    assert Outline(CURVES[2], turn=np.pi / 2).reach == pytest.approx((-0.45, 0.45), abs=1e-6)


@pytest.mark.parametrize("turn", [0.0, 0.5])
def test_a_frame_is_drawn_by_its_own_corners_however_it_is_turned(turn):
    """Four sharp corners are all that a rectangle needs."""
    outline = Outline(rectangle(0.9, 0.6, 0.0), turn=turn)
    drawn = outline.points(outline.stations(96)) @ clockwise(turn)
    assert len(drawn) == 4
    assert np.abs(drawn) == pytest.approx(np.tile([0, 0.45, 0.3], (4, 1)), abs=1e-9)
