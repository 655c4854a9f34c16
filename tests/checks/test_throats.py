"""Every finding of a throat: one net that gives cause for it, one that does not; numbers recomputed here."""

import re
from functools import cache

import numpy as np
import pytest

from net3d.checks.checks import Level
from net3d.checks.every_check import check
from net3d.parts import Part
from tests.nets import make

OK, CAUTION, FAIL = Level.OK, Level.CAUTION, Level.FAIL
BODY = {
    "around": 12,
    "diameters": (0.3, 0.28, 0.26, 0.25),
    "deep": (4.5, 5, 5),
    "tail": 6,
    "weight": True,
}
WIDE = {"around": 20, "diameters": (0.5, 0.49, 0.48, 0.47), "deep": (6, 5, 5), "tail": 8}


def throat(to_hoop=3, length=None, **keys):
    strings = {"to_hoop": to_hoop} if to_hoop else {"to_tail": True}
    strings |= {"length": length} if length else {}
    return {"hoop": 1, "deep": 4, "tip": 6, "strings": strings, **keys}


def net(*throats, fish=(0.2, 0.4), **keys):
    return {**BODY, "throats": throats, "extra": f"[fish]\ngirth = {list(fish)}\n", **keys}


NETS = {
    "plain": net(throat()),
    "a little short": net(throat(length=0.43)),
    "short": net(throat(length=0.39)),
    "long": net(throat(length=0.56)),
    "tip at its ties": net(throat(deep=8)),
    "tip beyond its ties": net(throat(deep=6, to_hoop=2)),
    "tip past the next throat": net(throat(deep=7), throat(hoop=2, to_hoop=None)),
    "wide tip": net(throat(tip=10)),
    "room all around": net(throat(deep=5, tip=5, to_hoop=None), **WIDE),
    "strings near a waist": net(throat(deep=5), **WIDE),
    "in the tail": net(throat(hoop=3, deep=9, to_hoop=None)),
    "down to the end of the tail": net(throat(hoop=3, deep=12, to_hoop=None)),
    "large fish": net(throat(), fish=(0.2, 0.58)),
    "larger fish": net(throat(), fish=(0.2, 0.62)),
    "small fish": net(throat(), fish=(0.07, 0.4)),
    "minnows": net(throat(), fish=(0.03, 0.4)),
    "short, lightly pulled": net(throat(length=0.39), pull=20.0),
    "long, lightly pulled": net(throat(length=0.56), pull=20.0),
    "hard pull": net(throat(length=0.42), pull=1400.0),
    "harder pull": net(throat(length=0.42), pull=2500.0),
}


@cache
def judged(name):
    made = make(**NETS[name])
    shape = made.settled()
    return made, shape, check(made.spec, made.plan, made.netting, shape)


def found(code, name, where=""):
    findings = [f for f in judged(name)[2] if f.code == code and where in f.where]
    return max(findings, key=lambda finding: list(Level).index(finding.level))


GRADED = [
    ("strings-carry-pull", "plain", OK, [" m long"]),
    ("strings-carry-pull", "a little short", CAUTION, ["too short", "between hoop 1 and hoop 3"]),
    ("strings-carry-pull", "short", FAIL, [" m too short", "100% of the pull"]),
    ("strings-loose", "plain", OK, []),
    ("strings-loose", "long", FAIL, [" m too long", "hangs loose"]),
    ("strings-loose", "tip beyond its ties", FAIL, ["stand across the net", "less deep"]),
    ("no-string-fits", "plain", OK, []),
    ("no-string-fits", "tip at its ties", CAUTION, ["less deep", "hoop further back"]),
    ("no-string-fits", "down to the end of the tail", FAIL, ["less deep"]),
    ("throat-touches", "room all around", OK, ["to spare"]),
    ("throat-touches", "plain", CAUTION, ["the waist between hoops 1 and 2", "a bar is 50 mm"]),
    ("strings-touch", "room all around", OK, ["inside hoop 2"]),
    ("strings-touch", "strings near a waist", CAUTION, ["only", "inside the waist between hoops 2 and 3"]),
    ("strings-touch", "plain", FAIL, ["outside the waist between hoops 2 and 3", "nearest one behind"]),
    ("throat-near-body", "room all around", OK, ["clear of the body"]),
    ("throat-near-body", "plain", CAUTION, ["more than two meshes behind hoop 1"]),
    ("throat-lies-on-body", "room all around", OK, ["hangs free"]),
    ("throat-lies-on-body", "wide tip", CAUTION, ["of its knots lie on the body"]),
    ("throat-lies-on-body", "long", FAIL, ["Tie its strings "]),
    ("throat-tip-past", "plain", OK, ["behind hoop 1"]),
    ("throat-tip-past", "tip past the next throat", FAIL, ["past throat 2's hoop", "less deep"]),
    ("room-behind-throat", "plain", OK, []),
    ("room-behind-throat", "in the tail", CAUTION, ["There is only", "0.250 m across"]),
    ("room-behind-throat", "down to the end of the tail", FAIL, ["tail"]),
    ("opening-tight", "plain", OK, ["0.600 m around"]),
    ("opening-tight", "large fish", CAUTION, ["Give its tip 7 meshes"]),
    ("opening-tight", "larger fish", FAIL, ["Give its tip 7 meshes"]),
    ("opening-wide", "plain", OK, []),
    ("opening-wide", "small fish", CAUTION, ["0.070 m girth", "fewer meshes than 6", "square"]),
    ("opening-wide", "minnows", FAIL, ["0.030 m girth"]),
    ("section-slack", "plain", OK, []),
    (
        "section-slack",
        "short",
        CAUTION,
        ["shorter than the netting there would", "Throat 1 carries the pull past it", " m long"],
    ),
]


@pytest.mark.parametrize(("code", "name", "level", "words"), GRADED)
def test_level_and_what_to_do(code, name, level, words):
    finding = found(code, name)
    assert finding.level is level
    assert finding.message.endswith(".")
    assert finding.source
    for word in words:
        assert word in finding.message


@pytest.mark.parametrize(
    ("part", "name", "level"),
    [
        (Part.throat(1), "plain", OK),
        (Part.throat(1), "hard pull", CAUTION),
        (Part.strings(1), "hard pull", CAUTION),
        (Part.strings(1), "harder pull", FAIL),
    ],
)
def test_twine_of_a_throat_and_its_strings(part, name, level):
    finding = found("twine-overload", name, part.place)
    made, shape, _ = judged(name)
    bars = made.netting.bars_of(part)
    # #15 breaks at 141 lbf; wet and knotted at less (handbook/twine.csv), which the net's own twine says.
    strongest = shape.bar_tensions[bars].max()
    assert finding.value == pytest.approx(strongest / made.plan.twine.wet_knotted_strength)
    assert finding.level is level


def test_nothing_is_said_of_throats_or_fish_that_are_not_there():
    codes = {code for code, *_ in GRADED} - {"section-slack"}
    made = make(**BODY)
    bare = check(made.spec, made.plan, made.netting, made.settled())
    assert not codes & {finding.code for finding in bare}
    made = make(**BODY, throats=[throat()])
    without_fish = check(made.spec, made.plan, made.netting, made.settled())
    assert not {"opening-tight", "opening-wide"} & {finding.code for finding in without_fish}


@pytest.mark.parametrize("name", ["a little short", "short", "long"])
def test_the_string_length_it_advises_cures_it(name):
    codes = ("strings-carry-pull", "strings-loose")
    bad = next(found(code, name) for code in codes if found(code, name).level is not OK)
    advised = float(re.search(r"Tie its strings ([\d.]+) m long", bad.message)[1])
    made = make(**net(throat(length=advised)))
    cured = check(made.spec, made.plan, made.netting, made.settled())
    # A tape's millimetre either way is the difference between all and nothing here: held, or nearly so.
    assert all(f.level is not FAIL for f in cured if f.code in {"strings-carry-pull", "section-slack"})
    share = next(f.value for f in cured if f.code == "strings-carry-pull")
    assert share < 0.2


@pytest.mark.parametrize(
    ("code", "name", "given", "wrong"),
    [
        ("strings-carry-pull", "short, lightly pulled", 0.39, "too short"),
        ("strings-loose", "long, lightly pulled", 0.56, "too long"),
    ],
)
def test_what_is_too_much_is_the_given_length_less_the_advised(code, name, given, wrong):
    message = found(code, name).message
    amount, advised = (
        float(re.search(pattern, message)[1])
        for pattern in (rf"([\d.]+) m {wrong}", r"Tie its strings ([\d.]+) m long")
    )
    assert amount == pytest.approx(abs(given - advised), abs=0.0005 + 1e-9)
    # The same length by another way: strings that are fitted to a share of the pull, here a twentieth.
    fitted = make(**net(throat(), pull=20.0)).settled().throats[0]
    assert advised == pytest.approx(fitted.string_length, abs=0.0005 + 1e-9)


def test_the_window_is_that_of_strings_that_take_a_fifth_and_a_hundredth():
    made, shape, _ = judged("plain")
    strings = shape.throats[0].strings
    assert strings.tight < strings.to_tie < strings.loose
    for share, length in ((0.2, strings.tight), (0.05, strings.to_tie), (0.01, strings.loose)):
        spec = throat()
        spec["strings"] = {"to_hoop": 3, "share": share}
        fitted = make(**net(spec)).settled().throats[0]
        assert fitted.string_tension == pytest.approx(share * made.plan.pull, rel=1e-6)
        assert fitted.string_length == pytest.approx(length, abs=2e-5)


def tip_of(name, number=1):
    made, shape, _ = judged(name)
    netting, planned = made.netting, made.plan.throats[number - 1]
    part = netting.knot_parts == netting.parts.index(planned.part)
    last = netting.knot_rows[part].max()
    return shape.knot_positions[part & (netting.knot_rows == last)], shape.throats[number - 1]


@pytest.mark.parametrize("name", ["plain", "wide tip", "long"])
def test_the_opening_is_the_way_around_the_tip_and_the_widest_round_hole_in_it(name):
    tip, told = tip_of(name)
    around = sum(
        np.linalg.norm(after - before) for before, after in zip(tip, [*tip[1:], tip[0]], strict=True)
    )
    assert told.opening_girth == pytest.approx(around)
    # Nearest side to the middle, seen along the net: by many points on every side.
    steps = np.linspace(0, 1, 2001)[:, None]
    sides = [
        before + steps * (after - before)
        for before, after in zip(tip[:, 1:], np.roll(tip[:, 1:], -1, axis=0), strict=True)
    ]
    nearest = np.linalg.norm(np.concatenate(sides) - tip[:, 1:].mean(axis=0), axis=1).min()
    assert told.opening_clear == pytest.approx(2 * nearest, abs=1e-4)
    assert told.tip_position == pytest.approx(tip[:, 0].mean())


@pytest.mark.parametrize("name", ["plain", "short", "room all around"])
def test_the_share_of_the_pull_is_what_the_throat_s_bars_pull_along_the_net(name):
    made, shape, _ = judged(name)
    netting = made.netting
    shares = []
    for row in range(len(made.plan.throats[0].piece.changes)):
        pulled = 0.0
        for bar in netting.bars_of(Part.throat(1)):
            if netting.bar_rows[bar] == row:
                upper, lower = shape.knot_positions[netting.bars[bar]]
                pulled += shape.bar_tensions[bar] * (lower - upper)[0] / np.linalg.norm(lower - upper)
        shares.append(pulled / made.plan.pull)
    assert shape.throats[0].pull_share == pytest.approx(np.mean(shares), abs=1e-9)


@pytest.mark.second_route
@pytest.mark.parametrize("name", ["plain", "a little short", "short"])
def test_the_body_bags_by_what_it_is_shorter_than_the_same_body_without_a_throat(name):
    made, shape, _ = judged(name)
    bare = make(**BODY).settled()
    lost = [free.length - hung.length for free, hung in zip(bare.sections, shape.sections, strict=True)]
    # Tied from hoop 1 to hoop 3; the bare body carries a hundredth more of the pull and stretches by it.
    assert [section.bag for section in shape.sections[:2]] == pytest.approx(lost[:2], abs=3e-4)
    assert found("strings-carry-pull", name).value == pytest.approx(sum(lost[:2]) / made.plan.bar, abs=0.01)


@pytest.mark.parametrize("name", ["plain", "wide tip", "room all around"])
def test_the_clearance_is_the_least_distance_from_throat_to_body_two_meshes_on(name):
    made, shape, _ = judged(name)
    netting, positions = made.netting, shape.knot_positions
    names = [part.name for part in netting.parts]
    body = [n for n, name in enumerate(names) if name == "tail" or name.startswith("section")]
    rows = {}
    for knot in np.flatnonzero(np.isin(netting.knot_parts, body)):
        rows.setdefault(netting.knot_rings[knot], []).append(positions[knot])
    means = sorted(
        (np.mean(row, axis=0)[0], np.mean([np.hypot(y, z) for _, y, z in row])) for row in rows.values()
    )
    places, radii = np.array(means).T
    distances = [
        np.interp(positions[knot, 0], places, radii) - np.hypot(*positions[knot, 1:])
        for knot in np.flatnonzero(netting.knot_parts == netting.parts.index(Part.throat(1)))
        if netting.knot_rows[knot] > 4
    ]
    finding = found("throat-near-body", name)
    assert finding.value == pytest.approx(min(distances) / made.plan.throats[0].bar)
    assert shape.throats[0].clearance == pytest.approx(min(distances))


def test_the_room_at_a_waist_is_what_is_left_between_it_and_the_bar_that_passes_furthest_out():
    made, shape, _ = judged("plain")
    netting = made.netting
    section = np.flatnonzero(netting.knot_parts == netting.parts.index(Part.section(1, 2)))
    waist, place = min(
        (np.linalg.norm(ring[:, 1:], axis=1).mean(), ring[:, 0].mean())
        for row in np.unique(netting.knot_rows[section])
        for ring in [shape.knot_positions[section[netting.knot_rows[section] == row]]]
    )
    furthest = 0.0
    for upper, lower in shape.knot_positions[netting.bars[netting.bars_of(Part.throat(1))]]:
        part = (place - upper[0]) / (lower[0] - upper[0])
        if 0 < part < 1:
            furthest = max(furthest, np.hypot(*(upper + part * (lower - upper))[1:]))
    finding = found("throat-touches", "plain", "waist 1-2")
    assert finding.value == pytest.approx((waist - furthest) / made.plan.bar, rel=1e-6)


def test_messages_speak_the_units_of_the_spec():
    inch = 0.0254
    text = net(
        throat(length=16.5),
        units="in",
        stretched=4.0,
        rod=0.5 * inch,
        diameters=(12, 11, 10.5, 10),
        fish=(8, 16),
    )
    made = make(**text)
    findings = check(made.spec, made.plan, made.netting, made.settled())
    bad = next(f for f in findings if f.code == "strings-carry-pull")
    assert re.search(r"Tie its strings \d+( \d+/\d+)? in long", bad.message)


def test_a_square_tip_that_is_too_tight_is_given_its_line():
    # girth 0.4 m over 0.9, rounded up to the millimetre: 445 mm (arithmetic); 12 meshes of 100 mm reach
    made = make(**net(throat(tip=8, style="square", line=0.35)))
    (finding,) = [
        one
        for one in check(made.spec, made.plan, made.netting, made.settled())
        if one.code == "opening-tight"
    ]
    assert finding.message.endswith("Make the line through its tip 0.445 m long.")
