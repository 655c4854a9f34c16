"""The net with wings and leader from above: read back from the SVG, against places worked out by hand."""

import re
from math import cos, radians, sin
from xml.etree import ElementTree

import numpy as np
import pytest

from net3d.chain import sketch
from net3d.drawings.from_above import from_above
from net3d.spec import parse_spec
from tests.nets import spec_text

SVG = "{http://www.w3.org/2000/svg}"
WING = (
    "[[wing]]\nlong = 40\ndeep = 4\nangle = 60\nbends = [{ after = 20, angle = 0 }]\n"
    'anchor = { type = "fluke", weight = "4 kg", line = 2 }\n'
)
PAIR = "[leader]\nlong = 60\ndeep = 3\npair = true\n"


def drawn(extra):
    design = sketch(parse_spec(spec_text(diameters=(0.6, 0.6), around=30, tail=5, extra=extra)))
    tree = ElementTree.fromstring(from_above(design))
    words = [word.text for word in tree.iter(f"{SVG}text")]
    lines = [
        np.array([place.split(",") for place in line.get("points").split()], float)
        for line in tree.iter(f"{SVG}polyline")
        if not line.get("stroke-dasharray")
    ]
    scale = int(next(re.search(r"1:(\d+)", word)[1] for word in words if "1:" in word))
    return design, words, [line * scale / 1000 for line in lines]


@pytest.mark.closed_form
def test_a_wing_is_drawn_to_scale_where_a_compass_would_have_it():
    """The second leg 20 x 0.1 x 0.5 x 0.98 m straight ahead; the anchor by Pythagoras."""
    _, words, lines = drawn(WING)
    legs = (np.diff(line, axis=0) for line in lines if len(line) == 3)
    first, second = next(leg for leg in legs if (leg[:, 0] < 0).all())
    assert np.degrees(np.arctan2(-first[1], -first[0])) == pytest.approx(60, abs=0.5)
    assert second == pytest.approx([-0.98, 0], abs=0.005)
    told = " ".join(words).split("B, wing 1")[1]
    ahead, aside, out, *_ = map(float, re.findall(r"([0-9.]+) m", told))
    assert -(first + second)[0] == pytest.approx(ahead, abs=0.01)
    assert ahead == pytest.approx(np.linalg.norm(first) * cos(radians(60)) + 0.98, abs=0.01)
    assert aside > np.linalg.norm(first) * sin(radians(60))
    high = 4 * 0.1 * 0.75**0.5
    assert out == pytest.approx((4 - high**2 / 4) ** 0.5, abs=0.002)
    assert "either side" in told
    assert sorted(word for word in words if len(word) == 1) == ["A", "A", "B", "B"]


@pytest.mark.closed_form
def test_two_nets_are_drawn_mouth_to_mouth():
    _, words, lines = drawn(PAIR)
    assert any("The mouth of the second net stands 2.940 m before" in word for word in words)
    assert not [word for word in words if len(word) == 1]
    leader = next(
        line for line in lines if len(line) == 2 and np.ptp(line[:, 1]) < 1e-6 and np.ptp(line[:, 0]) > 1
    )
    assert np.ptp(leader[:, 0]) == pytest.approx(60 * 0.1 * 0.5 * 0.98, abs=0.005)
    places = np.concatenate(lines)
    middle = leader[:, 0].mean()
    assert places[:, 0].max() - middle == pytest.approx(middle - places[:, 0].min(), abs=0.005)
