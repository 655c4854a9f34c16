"""The nested hoops on the bench sheets, read back as XML: every mark at its angle, every hoop at its size."""

import re
from math import atan2, hypot, pi
from xml.etree import ElementTree

import pytest

from net3d.chain import design
from net3d.paper.nested_hoops import nested_hoops
from net3d.shop.hoop_marks import markings
from net3d.spec import parse_spec
from tests.tables.nets import text, throat

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def made():
    return design(parse_spec(text("hand-tied", throat(around=30, tip=10), legs=3, leg=0.8)))


def segments(path):
    numbers = [float(number) for number in re.findall(r"-?[0-9.]+", path)]
    return [tuple(numbers[place : place + 4]) for place in range(0, len(numbers), 4)]


def test_every_mark_is_drawn_where_the_tape_finds_it(made):
    """A reading s stands at the angle 2 pi s / C, clockwise from the top.

    Readings are rounded to a millimetre, so within half of one on the smallest hoop.
    """
    drawing = ElementTree.fromstring(nested_hoops(made))
    ticks = [
        segment
        for path in drawing.iter(f"{SVG}path")
        if path.get("stroke-width") == "0.9"
        for segment in segments(path.get("d"))
    ]
    drawn = sorted((round(hypot(x, y) + 1.1), atan2(x, -y) % (2 * pi)) for x, y, _, _ in ticks)
    largest = made.plan.hoops[0].outside_diameter
    wanted = sorted(
        (round(100 * marking.hoop.outside_diameter / largest), 2 * pi * reading / marking.hoop.circumference)
        for marking in markings(made.spec, made.plan)
        for reading in marking.readings
    )
    assert len(drawn) == len(wanted) == 3 * 40 + 30
    rounded = 0.0005 / (made.plan.hoops[-1].outside_diameter / 2) + 1e-4  # and the drawing's own hundredths
    for (radius, angle), (wanted_radius, wanted_angle) in zip(drawn, wanted, strict=True):
        assert radius == wanted_radius
        assert angle == pytest.approx(wanted_angle, abs=rounded)


def test_every_hoop_is_a_circle_of_its_size(made):
    drawing = ElementTree.fromstring(nested_hoops(made))
    radii = [float(circle.get("r")) for circle in drawing.iter(f"{SVG}circle") if circle.get("cx") is None]
    sizes = [hoop.outside_diameter for hoop in made.plan.hoops]
    assert radii == pytest.approx([100 * size / sizes[0] for size in sizes], abs=0.01)
