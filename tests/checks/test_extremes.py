"""Nets that nobody would build: each comes to rest in balance, or is refused with what would work.

The balance is that of statics, summed over a list of bars, not the package's own.
"""

import re
from math import pi

import numpy as np
import pytest

from net3d import design
from net3d.checks.checks import Level
from net3d.errors import SpecError
from net3d.spec import parse_spec
from net3d.statics.shape import EndState
from tests.nets import spec_text

AROUND, MESH = 16, 0.08


def hoops(*ratios, around=AROUND):
    """Outside diameters of hoops with a rod of 1 mm on which the meshes hang at these ratios."""
    return tuple(ratio * around * MESH / pi + 0.002 for ratio in ratios)


def text(ratios=(0.5, 0.5), **keys):
    around = keys.get("around", AROUND)
    standing = {"stretched": MESH, "rod": 0.001, "weight": True, "tail": 8, "deep": (3,) * (len(ratios) - 1)}
    return spec_text(diameters=hoops(*ratios, around=around), **standing | keys)


def twine(diameter):
    """A nylon twine of a thickness [mm], its weight and strength by its section."""
    section = diameter**2
    return (
        f'[twine.own]\ndiameter = "{diameter} mm"\ntex = {600 * section}\nstrength = "{400 * section} N"\n'
        'fibre = "PA"'
    )


THROAT = {"hoop": 2, "deep": 6, "tip": 8}
SETTLE = {
    **{f"{around} meshes around": {"around": around} for around in (3, 4, 5, 7, 60)},
    **{f"E1 of {ratio}": {"ratios": (ratio,) * 3} for ratio in (0.05, 0.1, 0.3, 0.7, 0.9, 0.95, 0.98, 0.99)},
    "a tenth as wide": {"ratios": (0.9, 0.09), "deep": (8,)},
    "fiftyfold as wide": {"ratios": (0.02, 0.98), "deep": (8,)},
    "pinched": {"ratios": (0.9, 0.04, 0.9), "deep": (8, 8)},
    "one wide hoop": {"ratios": (0.04, 0.9, 0.04), "deep": (8, 8)},
    "half meshes": {"ratios": (0.5,) * 5, "deep": (0.5,) * 4},
    "one row and many": {"ratios": (0.5,) * 3, "deep": (0.5, 40)},
    **{f"a pull of {pull} N": {"pull": pull} for pull in (0.1, 1, 9806.65, 1e5)},
    **{f"twine of {size} mm": {"twine": "own", "extra": twine(size)} for size in (0.2, 0.5, 3, 6)},
    "nothing but two hoops": {"tail": None},
    "held at the mouth": {"tail": None, "anchor": "mouth"},
    "a throat that loses none": {"ratios": (0.5,) * 3, "throats": [THROAT | {"tip": AROUND}]},
    "a throat through every hoop": {"ratios": (0.5,) * 3, "throats": [THROAT | {"deep": 25}]},
    "a square throat of three": {"ratios": (0.5,) * 3, "throats": [THROAT | {"tip": 3, "style": "square"}]},
    "strings of a mile": {
        "ratios": (0.5,) * 3,
        "throats": [THROAT | {"strings": {"to_tail": True, "length": 900}}],
    },
    "a throat that pulls hard": {
        "ratios": (0.5,) * 3,
        "throats": [THROAT | {"strings": {"to_hoop": 3, "share": 0.2}}],
    },
}


def left_over(net):
    """Largest force left over on a knot that rides on nothing, as a share of the pull."""
    netting, shape = net.netting, net.shape
    forces = netting.knot_loads + shape.knot_pushes
    upper, lower = netting.bars.T
    spans = shape.knot_positions[lower] - shape.knot_positions[upper]
    lengths = np.maximum(np.linalg.norm(spans, axis=1), 1e-12)
    pulls = spans * (shape.bar_tensions / lengths)[:, None]
    for knots, sign in ((upper, 1), (lower, -1)):
        np.add.at(forces, knots, sign * pulls)
        np.add.at(forces[:, 2], knots, -netting.bar_weights / 2)
    free = netting.knot_carriers < 0
    return np.abs(forces[free]).max() / netting.pull


@pytest.mark.parametrize("keys", SETTLE.values(), ids=SETTLE)
def test_extreme_nets_come_to_rest_in_balance(keys):
    net = design(parse_spec(text(**keys)))
    assert net.shape.state in {EndState.SETTLED, EndState.SETTLED_LOOSELY}
    assert left_over(net) < (1e-6 if net.shape.state is EndState.SETTLED else 1e-3)
    assert np.isfinite(net.shape.knot_positions).all()
    assert (net.shape.bar_tensions >= 0).all()
    reaches = np.linalg.norm(np.subtract(*net.shape.knot_positions[net.netting.bars.T]), axis=1)
    stretched = net.shape.bar_rest_lengths * (1 + net.shape.bar_tensions / net.netting.bar_stiffnesses)
    # Hooke: no bar is longer than its pull makes it. Running lines stretch as a whole; fitted strings are as
    # stiff as strings of about their length.
    cut = (net.netting.bar_runs < 0) & (net.netting.bar_fits < 0)
    assert (reaches <= stretched * (1 + 1e-5) + 1e-9)[cut].all()


@pytest.mark.parametrize(
    ("size", "pull", "breaks"),
    # A row of 2 N = 32 bars takes at least pull / 32 a bar: 306 N of a tonne, where 0.2 mm breaks dry at 16 N
    # and 6 mm at 14,400; 0.03 N of 1 N.
    [(0.2, 9806.65, True), (0.2, 1.0, False), (6, 9806.65, False), (6, 1.0, False)],
)
def test_twine_breaks_where_its_share_of_the_pull_says(size, pull, breaks):
    net = design(parse_spec(text(pull=pull, twine="own", extra=twine(size))))
    loads = [finding for finding in net.findings if finding.code == "twine-overload"]
    levels = {finding.level for finding in loads if finding.part.word == "section"}  # not of the rope
    assert levels == {Level.FAIL} if breaks else levels == {Level.OK}


REFUSED = {
    "no pull": ({"pull": 0}, "rigging.pull", "more than zero"),
    "meshes that do not reach around": ({"ratios": (1.01, 1.01)}, "netting.around", "meshes around or more"),
    "two meshes around": ({"around": 2}, "netting.around", "3"),
    "one hoop": ({"ratios": (0.5,), "deep": ()}, "hoop", "at least two hoops"),
    "a section that does not reach": ({"ratios": (0.9, 0.04), "deep": (1,)}, "sections.deep[1]", "or more"),
    "a quarter of a mesh": ({"deep": (0.25,)}, "sections.deep[1]", "halves"),
    "a throat at the last hoop": ({"throats": [THROAT]}, "throat[1].hoop", "write a hoop"),
    "a tip wider than its throat": (
        {"ratios": (0.5,) * 3, "throats": [THROAT | {"tip": 17}]},
        "throat[1].tip",
        "16 or fewer",
    ),
    "a throat half a mesh deep": (
        {"ratios": (0.6,) * 3, "throats": [THROAT | {"deep": 0.5, "tip": 15}]},
        "throat[1].tip",
        "make it",
    ),
    "a throat that loses all at once": (
        {"ratios": (0.5,) * 3, "throats": [THROAT | {"deep": 1, "tip": 3}]},
        "throat[1].tip",
        "meshes deep",
    ),
    "tail that does not close": ({"tail": 1, "around": 60}, "tail.deep", "or more"),
}


@pytest.mark.parametrize(("keys", "where", "remedy"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_is_refused_with_its_line_and_what_would_work(keys, where, remedy):
    typed = text(**keys)
    with pytest.raises(SpecError) as told:
        design(parse_spec(typed))
    (said,) = (line for line in str(told.value).splitlines() if where in line)
    line = re.search(r"line (\d+): ", said)
    assert line, said
    key = re.sub(r"\[\d+\]$", "", where).rpartition(".")[2]
    assert key in typed.splitlines()[int(line[1]) - 1]
    assert remedy in said


def test_a_throat_that_would_burst_the_body_is_not_told_as_a_shape():
    """Strings of a hair press it on the body with thirty times the pull, and the body would give way."""
    strings = {"to_hoop": 3, "length": 0.001}
    net = design(parse_spec(text(ratios=(0.5,) * 3, throats=[THROAT | {"strings": strings}])))
    assert net.shape.state is EndState.LIMIT_REACHED
    assert [one.code for one in net.findings if one.level is Level.FAIL] == ["settled"]


def test_a_rod_that_fills_its_hoop_is_one_mistake():
    """Its meshes reach no knots inside it, and no depth helps: of that nothing is said."""
    with pytest.raises(SpecError) as told:
        parse_spec(text(rod=40))
    assert "leaves no room" in str(told.value)
    assert "do not reach" not in str(told.value)


@pytest.mark.parametrize(("around", "told"), [([16, 14], "loses 2 meshes"), ([16, 18], "gains 2")])
def test_a_section_that_changes_its_meshes_is_told_so(around, told):
    net = design(
        parse_spec(text(ratios=(0.5,) * 3, deep=(3, 3)).replace("deep = ", f"around = {around}\ndeep = ", 1))
    )
    (found,) = (one for one in net.findings if one.code == "section-uneven" and one.where == "hoops 2 to 3")
    assert found.level is not Level.OK
    assert told in found.message
