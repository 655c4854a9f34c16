"""The drawings: read by Python's own XML reader, measured with a font's own metrics, looked at as pictures.

What the words cover is measured by Pillow with the widest font that the drawings name, DejaVu Sans, as
matplotlib brings it. What else is drawn is looked at pixel by pixel, set in type without its words.
"""

import io
import re
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import cos, pi, sin
from pathlib import Path
from xml.etree import ElementTree

import matplotlib
import numpy as np
import pytest
import typst
from PIL import Image, ImageFont

from net3d import design, read_spec
from net3d.drawings.drawing import text_width
from net3d.drawings.hoop import hoop_view
from net3d.drawings.side import Room, side_view
from net3d.drawings.throat import throat_pattern
from net3d.paper.documents import SIDE
from net3d.spec import parse_spec, vary
from tests.align.bowed import bowed_spec, saddle
from tests.nets import sample, spec_text

pytestmark = pytest.mark.second_route

SPECS = sorted((Path(__file__).parents[2] / "specs").glob("*.toml"))
FONT = ImageFont.truetype(Path(matplotlib.get_data_path(), "fonts", "ttf", "DejaVuSans.ttf"), 1000)
PAPERS = {"lying": (279.4, 210.0), "standing": (210.0, 279.4)}  # [mm] both Letter and A4 hold so much
MARGIN = 12.0  # [mm]
DOTS = 8  # pixels to a millimetre
METRES = {"ft": Fraction(3048, 10000), "in": Fraction(254, 10000), "mm": Fraction(1, 1000), "m": Fraction(1)}


def net_of(name):
    return sample(name.removesuffix(".toml"))


def every_drawing(net):
    yield "side", side_view(net)
    yield from ((f"hoop {hoop.number}", hoop_view(net, hoop.number)) for hoop in net.plan.hoops)
    yield from ((throat.part.name, throat_pattern(net, throat.number)) for throat in net.plan.throats)


def root_of(svg):
    return ElementTree.fromstring(svg)


def words_of(svg):
    return [element for element in root_of(svg).iter() if element.tag.endswith("}text")]


def texts(svg):
    return [words.text for words in words_of(svg)]


def box_of(words):
    """What a line of type covers: left, top, right, bottom [mm]."""
    size, x, y = (float(words.get(key)) for key in ("font-size", "x", "y"))
    anchor = "ls" if words.get("text-anchor") == "start" else "ms"
    left, top, right, bottom = (size / 1000 * edge for edge in FONT.getbbox(words.text, anchor=anchor))
    if "rotate(-90" in words.get("transform", ""):
        return x + top, y - right, x + bottom, y - left
    return x + left, y + top, x + right, y + bottom


def apart(one, other):
    return one[2] < other[0] or other[2] < one[0] or one[3] < other[1] or other[3] < one[1]


def without_words(svg):
    """The drawing without its words, as a picture: 0 is ink, 255 paper."""
    bare = re.sub(r"<text.*?</text>", "", svg)
    page = "#set page(width: auto, height: auto, margin: 0pt)\n#image(bytes(sys.inputs.svg))"
    png = typst.compile(page.encode(), format="png", ppi=25.4 * DOTS, sys_inputs={"svg": bare})
    return np.asarray(Image.open(io.BytesIO(png)).convert("L"))


def size_of(svg):
    root = root_of(svg)
    return tuple(float(root.get(key).removesuffix("mm")) for key in ("width", "height"))


def words_stand_free(name, svg):
    words = words_of(svg)
    boxes = [box_of(one) for one in words]
    width, height = size_of(svg)
    ink = without_words(svg)
    assert ink.shape == pytest.approx((height * DOTS, width * DOTS), abs=2)
    assert (ink < 250).mean() > 0.003, name  # the lines did come out
    for number, (one, box) in enumerate(zip(words, boxes, strict=True)):
        assert all(apart(box, other) for other in boxes[:number]), (name, one.text)
        left, top, right, bottom = (round(edge * DOTS) for edge in box)
        assert 0 <= left < right <= ink.shape[1], (name, one.text)
        assert 0 <= top < bottom <= ink.shape[0], (name, one.text)
        assert ink[top:bottom, left:right].min() > 250, (name, one.text)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_no_words_stand_on_words_or_lines(path):
    for name, svg in every_drawing(net_of(path.name)):
        words_stand_free(name, svg)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_drawings_fit_on_paper_and_can_be_read(path):
    net = net_of(path.name)
    for name, svg in every_drawing(net):
        paper = PAPERS["standing" if name.startswith("hoop") else "lying"]
        assert all(side <= most - 2 * MARGIN for side, most in zip(size_of(svg), paper, strict=True)), name
        # capitals 2.5 mm high, the least height of lettering: common practice on A4, and the issue's
        _, top, _, _ = FONT.getbbox("E", anchor="ls")
        assert min(float(words.get("font-size")) for words in words_of(svg)) * -top / 1000 > 2.5
        assert len(svg.encode()) < 400_000, name


def length_in(text):
    """The length that ends a text, in metres: feet first, mixed fractions; how sure it is may follow."""
    told = re.search(r"((?:[0-9]+ ft ?)?(?:[0-9. /]+ (?:in|mm|m))?)(?: ± [0-9. /]+)?$", text)[1]
    return sum(
        float(sum(Fraction(part) for part in number.split()) * METRES[unit])
        for number, unit in re.findall(r"([0-9. /]+) (ft|in|mm|m)\b", told)
    )


def lengths(svg, start):
    """Every length in texts that start so."""
    return [length_in(text) for text in texts(svg) if text.startswith(start)]


def named_lengths(svg, name):
    """The lengths that stand in the line of type after one that starts so."""
    found = texts(svg)
    return [length_in(after) for text, after in pairwise(found) if text.startswith(name)]


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_side_view_says_what_the_shape_is(path):
    net = net_of(path.name)
    svg, shape, plan = side_view(net), net.shape, net.plan
    tape = net.spec.marking.round
    near = {"abs": tape / 2 * 1.001}  # rounded to the tape, and to a float

    sizes = [hoop.frame.height if hoop.frame else hoop.outside_diameter for hoop in plan.hoops]
    assert named_lengths(svg, "hoop") == pytest.approx(sizes, **near)
    hung = [plan.hoops[n].is_frame or plan.hoops[n + 1].is_frame for n in range(len(shape.sections))]
    waists = [one.waist_diameter for one, framed in zip(shape.sections, hung, strict=True) if not framed]
    assert named_lengths(svg, "waist") == pytest.approx(waists, **near)
    strings = [throat.string_length for throat in shape.throats]
    assert named_lengths(svg, "strings") == pytest.approx(strings, **near)
    size = r"([0-9]+ ft ?)?([0-9. /]+ (in|mm|m))?( ± .*)?"
    spacings = [length_in(text) for text in texts(svg) if re.fullmatch(size, text)]
    for wanted in np.diff(shape.hoop_positions):
        assert min(abs(wanted - found) for found in spacings) <= near["abs"]
    assert lengths(svg, "first hoop to last:") == pytest.approx([shape.length], **near)
    for throat in shape.throats:
        assert lengths(svg, f"throat {throat.number}:") == pytest.approx([throat.length], **near)
        tip = [throat.tip_position - shape.hoop_positions[0]]
        assert lengths(svg, f"tip {throat.number} from") == pytest.approx(tip, **near)
    if plan.tail:
        assert lengths(svg, "tail:") == pytest.approx([shape.tail_end - shape.hoop_positions[-1]], **near)
        assert lengths(svg, "over all") == pytest.approx([shape.tail_end - shape.hoop_positions[0]], **near)


def hoops_of(svg):
    """The corners of every hoop of a side view (k, 2), in metres by the scale that it names."""
    scale = float(re.search(r"Scale 1:([0-9.]+)", svg)[1]) / 1000
    hoops = re.findall(r'<polygon points="([^"]+)" fill="none"', svg)
    return [np.array([pair.split(",") for pair in one.split()], float) * scale for one in hoops]


@pytest.mark.parametrize("name", ["backwater-36.toml", "survey-1.07.toml"])
def test_the_side_view_is_to_scale(name):
    net = net_of(name)
    corners = hoops_of(side_view(net))
    middles = [one[:, 0].mean() for one in corners]
    assert np.diff(middles) == pytest.approx(np.diff(net.shape.hoop_positions), abs=0.0005)
    for one, hoop in zip(corners, net.plan.hoops, strict=True):
        middle_of_rod = hoop.outside_diameter - hoop.rod_diameter
        assert np.ptp(one[:, 1]) == pytest.approx(middle_of_rod, abs=0.001)
        # Seen edge on: a line, but for what the legs of a bridle bend the hoop's knots along the net.
        bent = np.ptp(net.shape.knot_positions[net.netting.knot_carriers == hoop.number - 1, 0])
        assert np.ptp(one[:, 0]) == pytest.approx(bent, abs=0.0005)


SWING, TURN = 0.012, 2


@cache
def bowed_net():
    """Hoops of 16 meshes, of which one is bowed in two waves, and another bowed, oval, turned and flipped."""
    spec = bowed_spec(
        [saddle(SWING), saddle(SWING), ()],
        (0, TURN, 0),
        diameters=(0.32,) * 3,
        deep=(4, 4),
        legs=2,
        rod=0.016,  # so stiff that the netting draws it flat by a tenth and no more
    )
    across = [0.33, 0.32, 0.31, 0.32]  # widest from the reference mark to the place opposite
    return design(vary(spec, {"hoop.2.across": across, "hoop.2.flip": True}))


def test_a_bowed_hoop_is_a_loop_as_large_as_its_bow():
    """A wave a cos 2t against z = R cos t is an arc run twice; turned by an eighth, a sin 2t is an eight."""
    net = bowed_net()
    first, second, third = hoops_of(side_view(net))
    leans = 0.0005  # the net is alike half a turn on, so none leans; paper shows no less
    for hoop, drawn in enumerate((first, second, third)):
        riding = net.shape.knot_positions[net.netting.knot_carriers == hoop, 0]
        assert np.ptp(drawn[:, 0]) == pytest.approx(np.ptp(riding), abs=leans)
    assert min(np.ptp(first[:, 0]), np.ptp(second[:, 0])) > 1.8 * SWING > 10 * np.ptp(third[:, 0])
    half = len(first) // 2
    opened = [np.abs(one[1:half] - one[:half:-1]).max(axis=0)[0] for one in (first, second)]
    turns = 4 * SWING * 0.05  # how far a loop opens when the netting turns it by a twentieth of a radian
    assert opened[0] < turns
    assert opened[1] > 2 * SWING - turns  # near and far side of the eight at one height


def test_bow_oval_and_turn_are_said_at_the_hoop():
    found = texts(side_view(bowed_net()))
    places = [found.index(f"hoop {number}") for number in (1, 2, 3)]
    # two waves of 12 mm swing 24 mm from lowest to highest; widest less narrowest 330 - 310 = 20 mm
    assert found[places[0] + 2] == "bow 0.024 m"
    said = ["bow 0.024 m", "oval by 0.020 m", "turned over", "turned 2 meshes"]
    assert found[places[1] + 2 : places[1] + 6] == said
    assert not any(text.startswith(("bow", "turned")) for text in found[places[2] :][:4])
    assert "Turned clockwise as seen from the mouth, reference mark from the top." in found
    assert not any("urned" in text for text in texts(side_view(net_of("backwater-36.toml"))))


def test_words_stand_free_by_bowed_hoops():
    for name, svg in every_drawing(bowed_net()):
        words_stand_free(name, svg)


def test_a_turned_hoop_is_drawn_by_its_own_reference_mark():
    spec = bowed_spec([saddle(SWING), ()], (3, 0), legs=4)  # 3 of 16 meshes
    svg = hoop_view(design(spec), 1)
    assert "the row starts at mark 14" in texts(
        svg
    )  # marks 1 to 3 lie past the top, 13 before it: arithmetic
    circle = root_of(svg).find(".//{*}circle")
    x, y = (float(circle.get(key)) for key in ("cx", "cy"))
    _, *legs, _ = root_of(svg).findall(".//{*}rect")  # paper and the key's own apart
    middles = [(float(leg.get("x")) + 1.2 - x, y - float(leg.get("y")) - 1.2) for leg in legs]
    angles = sorted(np.arctan2(*middle) % (2 * pi) for middle in middles)
    # A leg at the top of the net is 3 meshes counter-clockwise of the mark, the others a quarter apart.
    assert angles == pytest.approx([(1 + 4 * place) * pi / 8 for place in range(4)], abs=0.002)
    top = next(words for words in words_of(svg) if words.text == "top")
    assert float(top.get("x")) < x


def test_words_are_never_wider_than_they_are_taken_for():
    for code in range(32, 0x17F):
        if chr(code).isprintable() and chr(code) not in "Œœ":
            assert FONT.getlength(chr(code)) / 1000 <= text_width(chr(code), 1.0) + 1e-9, chr(code)


def test_a_hostile_title_stays_text():
    title = "<script>alert('x')</script> & \"net\" ]]>"
    spec = vary(read_spec(Path(SPECS[0].parent, "brook-50.toml")), {"title": title})
    svg = side_view(design(spec))
    assert "<script" not in svg
    assert title in " ".join(texts(svg))


def test_a_long_title_is_broken_into_lines():
    spec = replace(read_spec(Path(SPECS[0].parent, "brook-50.toml")), title="river " * 60 + "n" * 300)
    svg = side_view(design(spec))
    boxes = [box_of(words) for words in words_of(svg)]
    assert min(box[0] for box in boxes) >= 0
    assert max(box[2] for box in boxes) <= size_of(svg)[0]


def ticks(svg):
    """Angles of the marks, clockwise from the top [rad], from the lines that cross the rod."""
    (circle,) = [
        element for element in root_of(svg).iter() if element.get("fill") == "none" and element.get("r")
    ]
    x, y, radius = (float(circle.get(key)) for key in ("cx", "cy", "r"))
    found = []
    for path in root_of(svg).iter("{http://www.w3.org/2000/svg}path"):
        ends = np.array(re.findall(r"[ML]([-0-9.]+) ([-0-9.]+)", path.get("d")), float)
        across = np.hypot(ends[:, 0] - x, ends[:, 1] - y) if len(ends) == 2 else np.zeros(2)
        if path.get("stroke-width") == "0.35" and across.min() < radius < across.max():
            middle = ends.mean(axis=0)
            found.append(np.arctan2(middle[0] - x, y - middle[1]) % (2 * pi))
    return np.array(sorted(found))


@pytest.mark.parametrize("number", [1, 2])
def test_a_hoop_shows_every_mark_where_the_tape_puts_it(number):
    net = net_of("backwater-36.toml")
    hoop = net.plan.hoops[number - 1]
    angles = 2 * pi * np.sort(hoop.marks) / hoop.circumference
    wanted, found = (  # the one at the top may read 0 or 2 pi
        np.sort(np.where(angle < 1e-3, angle + 2 * pi, angle))
        for angle in (angles, ticks(hoop_view(net, number)))
    )
    assert found == pytest.approx(wanted, abs=0.001 + net.spec.marking.round / hoop.outside_diameter)


def test_a_hoop_is_numbered_clockwise_and_shows_its_ties():
    net = net_of("backwater-36.toml")
    svg = hoop_view(net, 5)
    places = {words.text: (float(words.get("x")), float(words.get("y"))) for words in words_of(svg)}
    (tenth, middle) = places["10"], float(root_of(svg).find(".//{*}circle").get("cx"))
    assert tenth[0] > middle  # a quarter of a turn clockwise, as seen from the mouth
    assert "4 ties: strings of throat 1" in texts(svg)
    legs = hoop_view(net, 1)
    assert "3 ties: bridle legs" in texts(legs)
    assert len(root_of(legs).findall(".//{*}rect")) == 1 + 3 + 1  # paper, legs, and the key's own
    with pytest.raises(IndexError, match="no hoop 6"):
        hoop_view(net, 6)


def test_a_throat_loses_its_meshes_at_the_full_dots():
    """A knot that takes two loops loses a mesh, so there are as many as meshes are lost: arithmetic."""
    net = net_of("backwater-36.toml")
    for throat in net.spec.throats:
        number = net.spec.throats.index(throat) + 1
        svg = throat_pattern(net, number)
        dots = [dot for dot in root_of(svg).iter() if dot.get("r") == "0.85"]
        assert len(dots) == throat.around - throat.tip
        rows = [re.fullmatch(r"([0-9]+): ([0-9]+)( \((-[0-9]+)\))?", text) for text in texts(svg)]
        counts = [int(row[2]) for row in rows if row]
        assert (counts[0], counts[-1], len(counts)) == (throat.around, throat.tip, 2 * throat.deep + 1)
        assert sum(int(row[4] or 0) for row in rows if row) == throat.tip - throat.around
    with pytest.raises(IndexError, match="no throat 3"):
        throat_pattern(net, 3)


def test_a_throat_has_a_bar_either_way_from_every_loop():
    """Two bars a loop, each drawn once, or in two halves where the cut parts it."""
    net = net_of("backwater-36.toml")
    piece = net.plan.throats[0].piece
    (path,) = [one for one in root_of(throat_pattern(net, 1)).iter() if one.get("stroke-width") == "0.3"]
    ends = np.array(re.findall(r"M([-0-9.]+) ([-0-9.]+)L([-0-9.]+) ([-0-9.]+)", path.get("d")), float)
    rows = np.unique(np.concatenate([ends[:, 1], ends[:, 3]]))
    step = np.ptp(rows) / len(piece.changes)
    whole = np.isclose(ends[:, 3] - ends[:, 1], step, rtol=0.01)
    assert whole.sum() + (~whole).sum() / 2 == piece.bars


def test_many_hoops_close_together_still_have_room_for_their_words():
    # More callouts than fit side by side, spacings narrower than their words.
    text = spec_text(diameters=[0.32] * 14, deep=[1] * 13, tail=3, legs=3)
    svg = side_view(design(parse_spec(text)))
    boxes = [box_of(words) for words in words_of(svg)]
    for number, box in enumerate(boxes):
        assert all(apart(box, other) for other in boxes[:number]), texts(svg)[number]
    ink = without_words(svg)
    for box in boxes:
        left, top, right, bottom = (round(edge * DOTS) for edge in box)
        assert ink[top:bottom, left:right].min() > 250


@pytest.mark.parametrize("name", ["double-eel-fyke-0.5", "heart-trap-4x6ft", "tapering-0.75"])
def test_no_word_of_a_cover_runs_off_its_drawing(name):
    """Where a short line starts at the mouth, its words are longer than the room to its left."""
    svg = side_view(sample(name), SIDE)
    for words in words_of(svg):
        left, _, right, _ = box_of(words)
        assert left >= 0.0, words.text
        assert right <= SIDE.width, words.text


def test_a_net_of_more_words_than_fit_can_still_be_made_out():
    net, room = net_of("backwater-36.toml"), Room(174.0, 120.0)  # its words alone are higher
    svg = side_view(net, room)
    scale = float(re.search(r"Scale 1:([0-9.]+)", svg)[1])
    assert room.height / 8 < 1000 * net.plan.hoops[0].outside_diameter / scale < room.height / 2
    assert size_of(svg)[1] > room.height


def test_a_hoop_of_many_marks_numbers_fewer():
    text = spec_text(around=240, diameters=(1.2, 1.2), stretched=0.03)
    svg = hoop_view(design(parse_spec(text)), 1)
    boxes = [box_of(words) for words in words_of(svg)]
    assert all(apart(box, other) for number, box in enumerate(boxes) for other in boxes[:number])
    assert len(ticks(svg)) == 240
    turn = 2 * pi * 59 / 240  # mark 60, the first being at the top
    at = next(words for words in words_of(svg) if words.text == "60")
    circle = root_of(svg).find(".//{*}circle")
    x, y = (float(at.get(key)) - float(circle.get("c" + key)) for key in ("x", "y"))
    assert np.arctan2(x, -(y - 1.26)) == pytest.approx(np.arctan2(sin(turn), cos(turn)), abs=0.01)
