"""The picture, read back by Pillow, and its SVG by Python's own XML reader."""

import io
import itertools
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from net3d import design, read_spec
from net3d.drawings.camera import VIEWS, camera_for
from net3d.drawings.perspective import perspective_view
from net3d.writers.picture import picture_png

SPEC = Path(__file__).parents[2] / "specs" / "backwater-36.toml"
SIZE = (640, 400)


@pytest.fixture(scope="module")
def net():
    return design(read_spec(SPEC))


@pytest.fixture(scope="module")
def bare():
    """The same net without its throats."""
    spec = read_spec(SPEC)
    return design(spec.model_copy(update={"throats": ()}))


def pixels(net, view="quarter"):
    image = Image.open(io.BytesIO(picture_png(net, view, SIZE))).convert("RGB")
    assert image.size == SIZE
    return np.asarray(image).astype(int)


def orange(image):
    """How many pixels are clearly more red than blue: throats and strings, and nothing of the body."""
    return int(np.sum(image[..., 0] - image[..., 2] > 60))


@pytest.mark.parametrize("view", sorted(VIEWS))
def test_a_picture_is_neither_blank_nor_cut_off(net, view):
    image = pixels(net, view)
    inked = (image < 250).any(axis=2)
    assert 0.02 < inked.mean() < 0.7
    assert not inked[0].any()
    assert not inked[-1].any()
    assert not inked[:, 0].any()
    assert not inked[:, -1].any()
    # the net fills one way of the picture but for the margin
    rows, columns = np.flatnonzero(inked.any(axis=1)), np.flatnonzero(inked.any(axis=0))
    assert max(np.ptp(rows) / SIZE[1], np.ptp(columns) / SIZE[0]) > 0.85


def test_throats_can_be_told_from_the_body(net, bare):
    # The bridle's brown shows in both.
    assert orange(pixels(net)) > 4 * orange(pixels(bare)) + 1000


def test_the_cutaway_shows_more_of_the_throats(net):
    whole, cut = (perspective_view(net, view, SIZE) for view in ("side", "cutaway"))
    assert orange(pixels(net, "cutaway")) > orange(pixels(net, "side"))
    assert whole.count("M") > cut.count("M") > 0


def test_the_same_net_gives_the_same_picture(net):
    assert picture_png(net, "side", SIZE) == picture_png(net, "side", SIZE)


def test_the_svg_is_well_formed_and_of_the_size_asked(net):
    root = ElementTree.fromstring(perspective_view(net, "quarter", SIZE))
    assert root.tag.endswith("svg")
    assert (root.get("width"), root.get("height")) == ("640", "400")
    assert len(root.findall(".//{*}path")) > 100


def test_near_twine_is_drawn_after_far_twine(net):
    # Derived: seen from the side, y points away; the first hoop's farthest point is drawn before its nearest.
    text = perspective_view(net, "side", (1600, 1000))
    camera = camera_for(np.array([[0.0, -1, -1], [1.0, 1, 1]]), "side", (1600, 1000))
    assert camera.axes[2] @ np.array([0.0, 1.0, 0.0]) > 0.99
    widths = [float(part.split('"')[0]) for part in text.split('stroke-width="')[1:]]
    assert np.mean(widths[-30:]) > np.mean(widths[:30])  # the same rod is wider where it is near


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


def test_a_net_without_rigging_can_be_drawn(net):
    rigging = net.spec.rigging.model_copy(update={"bridle": None})
    spec = net.spec.model_copy(update={"rigging": rigging, "tail": None, "throats": ()})
    assert orange(pixels(design(spec))) == 0
