"""The picture, read back by Pillow."""

import io
import itertools
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from net3d import design, read_spec, vary
from net3d.drawings.camera import VIEWS, camera_for
from net3d.drawings.caption import caption_of
from net3d.drawings.picture import picture_png, picture_svg
from net3d.drawings.raster import Flat, flatten, nearest
from net3d.drawings.strokes import Strokes
from net3d.parts import KINDS
from tests.nets import sample

pytestmark = pytest.mark.second_route

SPEC = Path(__file__).parents[2] / "specs" / "backwater-36.toml"
SIZE = (640, 400)


@pytest.fixture(scope="module")
def net():
    return sample("backwater-36")


@pytest.fixture(scope="module")
def bare():
    """The same net without its throats."""
    spec = read_spec(SPEC)
    return design(vary(spec, {"throat": None}))


def pixels(net, view="quarter", size=SIZE):
    image = Image.open(io.BytesIO(picture_png(net, view, size)))
    assert (image.size, image.mode, image.format) == (size, "RGB", "PNG")
    return np.asarray(image).astype(int)


def warm(image):
    """How many pixels are clearly more red than blue: throats, strings and ropes, and nothing of the body."""
    return int(np.sum(image[..., 0] - image[..., 2] > 60))


def inked(image):
    """Where anything of the net is drawn: its soft shadow on the floor is grey, and lighter than this."""
    return image.min(axis=2) < 200


@pytest.mark.parametrize("view", sorted(VIEWS))
def test_a_picture_is_neither_blank_nor_cut_off(net, view):
    shown = inked(pixels(net, view))
    assert 0.02 < shown.mean() < 0.7
    edges = (shown[0], shown[-1], shown[:, 0], shown[:, -1])
    assert not any(edge.any() for edge in edges)
    # the net fills one way of the picture but for the margin
    rows, columns = np.flatnonzero(shown.any(axis=1)), np.flatnonzero(shown.any(axis=0))
    assert max(np.ptp(rows) / SIZE[1], np.ptp(columns) / SIZE[0]) > 0.85


def test_throats_can_be_told_from_the_body(net, bare):
    # The bridle's brown shows in both.
    assert warm(pixels(net)) > 4 * warm(pixels(bare)) + 1000


def test_the_cutaway_shows_more_of_the_throats(net):
    assert warm(pixels(net, "cutaway")) > 1.2 * warm(pixels(net, "side"))


def test_a_caption_says_which_water_and_how_sure_the_length_is(net):
    """At the foot of the picture, where the net leaves room; none where it would run out of it."""
    still, works = caption_of(net), caption_of(net.at_work)
    assert still.startswith("In still water: ")
    assert works.startswith("As it works, in a slow current of ")
    assert all(text.endswith("in either way") for text in (still, works))
    foot = slice(SIZE[1] - 20, None)
    assert inked(pixels(net, "side"))[foot, : SIZE[0] // 2].any()
    assert not inked(pixels(net, "side", (200, 400)))[-20:].any()


def test_the_same_net_gives_the_same_picture(net):
    assert picture_png(net, "side", SIZE) == picture_png(net, "side", SIZE)


def test_a_net_without_rigging_can_be_drawn(net):
    spec = vary(net.spec, {"rigging.bridle": None, "tail": None, "throat": None})
    assert warm(pixels(design(spec))) == 0


def test_a_large_picture_has_its_size(net):
    assert pixels(net, "quarter", (2400, 1800)).shape == (1800, 2400, 3)


def test_the_svg_holds_the_picture(net):
    root = ElementTree.fromstring(picture_svg(net, "side", SIZE))
    (image,) = root.findall("{*}image")
    assert (image.get("width"), image.get("height")) == ("640", "400")
    assert image.get("href", "").startswith("data:image/png;base64,")


def test_inks_differ_in_lightness():
    """CIE 1976 lightness (CIE 015; sRGB to luminance by IEC 61966-2-1): just seen from about 1 on.

    Ten or more apart, two thin lines are told apart without their hue.
    """

    def lightness(ink):
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in ink]
        luminance = np.dot(linear, [0.2126, 0.7152, 0.0722])
        return 116 * np.cbrt(luminance) - 16

    seen = {word: lightness(kind.ink.colour) for word, kind in KINDS.items()}
    assert seen["throat"] - seen["section"] > 10
    assert seen["section"] - seen["strings"] > 10
    assert seen["throat"] - seen["strings"] > 20


def test_a_camera_sees_straight_on_what_stands_before_it():
    # Derived: a box that is the same left and right stands in the middle; its near half is larger, and lower.
    box = np.array(list(itertools.product((-1.0, 1.0), repeat=3)))
    camera = camera_for(box, "side", (1000, 800))
    flat, away = camera.see(np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 0.5], [0.5, 0.0, 0.0]]))
    assert flat[0, 0] == pytest.approx(500)
    assert 300 < flat[0, 1] < 400
    assert flat[1, 1] < flat[0, 1]  # up is up
    assert flat[2, 0] > flat[0, 0]  # the tail is on the right
    assert (away > 0).all()


def crossing(ends, away, widths=(4.0, 4.0)):
    return nearest(
        Flat(np.array(ends, float), np.array(widths), np.array(away, float), np.zeros(2), np.zeros(2, bool)),
        (40, 30),
    )


def strokes_at(seen, place):
    x, y = place
    return seen.strokes[seen.samples == 40 * y + x].tolist()


@pytest.mark.parametrize("near", [0, 1])
def test_the_nearer_of_two_crossing_strokes_is_seen(near):
    ends = [[[5, 15], [35, 15]], [[20, 5], [20, 25]]]
    away = [[1.0, 1.0], [2.0, 2.0]] if near == 0 else [[2.0, 2.0], [1.0, 1.0]]
    seen = crossing(ends, away)
    assert strokes_at(seen, (20, 15)) == [near]
    assert strokes_at(seen, (10, 15)) == [0]
    assert strokes_at(seen, (20, 8)) == [1]
    assert strokes_at(seen, (2, 2)) == []


def test_a_stroke_covers_its_length_times_its_width():
    # Arithmetic: 30 by 4 samples; the same area, within its rim, when it runs aslant.
    level = crossing([[[5, 15], [35, 15]], [[99, 99], [99, 99]]], [[1, 1], [1, 1]])
    assert len(level.samples) == pytest.approx(31 * 5)  # both edges and both ends are sampled
    aslant = crossing([[[5, 5], [29, 23]], [[99, 99], [99, 99]]], [[1, 1], [1, 1]])
    assert len(aslant.samples) == pytest.approx(30 * 4, rel=0.15)


def test_strokes_that_pass_through_each_other_part_in_the_middle():
    # Derived: their distances are equal halfway, 1/z being straight along a stroke seen in perspective.
    ends = [[[5, 15], [35, 15]], [[5, 15], [35, 15]]]
    seen = crossing(ends, [[1.0, 2.0], [2.0, 1.0]])
    assert strokes_at(seen, (12, 15)) == [0]
    assert strokes_at(seen, (28, 15)) == [1]


def test_a_hoop_seen_edge_on_ends_round_and_without_teeth():
    """A hoop nearly edge on is a bar with half a disc at its end, wider row by row: geometry."""
    angles = np.linspace(0, 2 * np.pi, 385)
    ring = np.column_stack([0.03 * np.cos(angles), np.cos(angles), np.sin(angles)])
    ends = np.stack([ring[:-1], ring[1:]], axis=1)
    strokes = Strokes(ends, np.full(384, 0.03), np.zeros(384, int))
    camera = camera_for(np.array([[-1.2, 0, -1.2], [1.2, 0, 1.2]]), "side", (1500, 1500))
    seen = nearest(flatten(strokes, camera, np.ones(384)), (1500, 1500))
    rows = seen.samples // 1500
    widths = np.bincount(rows)[rows.min() : rows.min() + 16]
    assert np.all(np.diff(widths) >= 0), widths
