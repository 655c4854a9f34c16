"""Frames in a spec: sizes told either way, and what is refused with words."""

import pytest

from net3d.errors import SpecError
from net3d.spec import parse_spec, vary
from tests.nets import spec_text, with_frames

PLAIN = parse_spec(spec_text(diameters=(0.32, 0.32, 0.3), deep=(1, 4), tail=5))


def frame(**keys):
    return {"corner": 0.03, **keys}


def test_sizes_are_told_either_way():
    # Around 2 x (0.3 + 0.2), less four corners that take 2 - pi / 2 radii each.
    girth = 1.0 - 4 * 0.03 * (2 - 3.14159265358979 / 2)
    told = [{"width": 0.3, "height": 0.2}, {"width": 0.3, "circumference": girth}]
    told.append({"height": 0.2, "circumference": girth})
    for sizes in told:
        own = with_frames(PLAIN, frame(shape="rectangle", **sizes)).hoops[0].frame
        assert (own.width, own.height) == pytest.approx((0.3, 0.2))


def test_corners_are_twice_the_rod_unless_given():
    assert with_frames(PLAIN, {"shape": "square", "width": 0.3}).hoops[0].frame.corner == pytest.approx(0.02)


def test_a_measured_girth_makes_the_frame_larger():
    spec = with_frames(PLAIN, frame(shape="square", width=0.25))
    girth = spec.hoops[0].frame.girth
    spec = vary(spec, {"built.hoops": [1.01 * girth, 1.0, 0.94]})
    assert spec.hoops[0].frame.girth == pytest.approx(1.01 * girth)
    assert spec.hoops[0].frame.corner == pytest.approx(0.03)


@pytest.mark.parametrize(
    ("keys", "key", "words"),
    [
        ({"shape": "square", "width": 0.3, "height": 0.3}, "hoop[1].height", ["no height"]),
        ({"shape": "square", "width": 0.3, "circumference": 1.2}, "hoop[1].circumference", ["one of"]),
        ({"shape": "rectangle", "width": 0.3}, "hoop[1]", ["two of", "height"]),
        ({"shape": "square"}, "hoop[1]", ["none is given"]),
        ({"shape": "square", "width": 0.3, "diameter": 0.3}, "hoop[1].diameter", ["no diameter"]),
        ({"shape": "square", "width": 0.3, "corner": 0.16}, "hoop[1].corner", ["0.010 m", "0.150 m"]),
        ({"shape": "square", "width": 0.3, "corner": 0.004}, "hoop[1].corner", ["its rod"]),
        ({"shape": "square", "width": 0.015}, "hoop[1]", ["two rods"]),
        ({"shape": "square", "width": 0.3, "rod": 2.0}, "hoop[1]", ["no room inside a rod"]),
        ({"shape": "d", "width": 0.3, "height": 0.15}, "hoop[1]", ["0.160 m high or more"]),
        (
            {"shape": "d", "width": 1.0, "circumference": 0.9},
            "hoop[1].circumference",
            ["a D with a width of 1.000 m is longer around than 0.900 m: write more, or less width"],
        ),
        ({"shape": "square", "width": 0.3, "gaps": [0, 0.01, 0, 0.01]}, "hoop[1].gaps", ["round hoops"]),
        ({"shape": "square", "width": 0.3, "turn": 2}, "hoop[1].turn", ["round hoops"]),
        ({"diameter": 0.32, "width": 0.3}, "hoop[1].width", ["shape"]),
        ({"shape": "round", "width": 0.3}, "hoop[1]", ["diameter or circumference"]),
        ({"shape": "heart", "width": 0.3}, "hoop[1].shape", ["heart", "rectangle"]),
        ({"shape": "rectangle", "width": 0.6, "height": 0.1}, "sections.deep[1]", ["do not reach"]),
    ],
)
def test_what_is_no_frame_is_refused_with_words(keys, key, words):
    with pytest.raises(SpecError) as caught:
        with_frames(PLAIN, keys)
    told = {problem.key: str(problem) for problem in caught.value.problems}
    assert key in told
    assert all(word in told[key] for word in words), told[key]


@pytest.mark.parametrize(
    ("lines", "key", "words"),
    [
        ([{"from_hoop": 2, "to_hoop": 2}], "line[1].to_hoop", ["from 3 to 3"]),
        ([{"from_hoop": 1, "to_hoop": 4}], "line[1].to_hoop", ["from 2 to 3"]),
        ([{"from_hoop": 2, "to_hoop": 3}], "line[1].count", ["round", "count"]),
        ([{"from_hoop": 1, "to_hoop": 3}] * 2, "line[2].from_hoop", ["line[1]"]),
        ([{"from_hoop": 1, "to_hoop": 2, "hanging": 1.2}], "line[1].hanging", ["0.1", "1"]),
    ],
)
def test_lines_that_cannot_run_are_refused_with_words(lines, key, words):
    with pytest.raises(SpecError) as caught:
        vary(with_frames(PLAIN, frame(shape="square", width=0.25)), {"line": lines})
    told = {problem.key: str(problem) for problem in caught.value.problems}
    assert all(word in told[key] for word in words), told
