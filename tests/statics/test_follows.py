"""How lengths follow meshes, single bars and hoops: virtual forces against nets tied so and solved."""

from dataclasses import replace
from functools import cache
from itertools import chain
from math import pi

import numpy as np
import pytest

from net3d.handbook.tolerances import tolerance
from net3d.netting import tie
from net3d.parts import Part
from net3d.plan import lay_out
from net3d.spec import vary
from net3d.statics import settle
from net3d.statics.solver import SolverLimits
from tests.nets import make

pytestmark = pytest.mark.second_route

KEYS = {
    "around": 12, "diameters": (0.36, 0.35, 0.34, 0.33), "deep": (4.5, 5, 5), "tail": 6, "legs": 3,
    "weight": True, "pull": 24.0,  # 1 N a bar: twine that stretches little follows its own pull
    "throats": [
        {"hoop": 1, "deep": 5, "tip": 6, "strings": {"to_hoop": 4, "points": 3}},
        {"hoop": 3, "deep": 4, "tip": 6, "strings": {"to_tail": True}},
    ],
}  # fmt: skip
STEP = 1e-3
EXACT = SolverLimits(give=1e-8)  # so that a difference of two nets is not that of their rounds


@cache
def net():
    return make(**KEYS)


@cache
def hung():
    return settle(net().netting, net().plan, EXACT)


def tied_with(lengths):
    made = net()
    return settle(replace(made.netting, bar_lengths=lengths), made.plan, EXACT)


def lengths_of(shape):
    """Sections, the whole, the tail, all with it, and of both throats strings, length and tip."""
    sections = [section.length for section in shape.sections]
    throats = [(throat.string_length, throat.length, throat.tip_position) for throat in shape.throats]
    ends = shape.tail_end - shape.hoop_positions[-1], shape.tail_end
    return np.array([*sections, sum(sections), *ends, *np.ravel(throats)])


def follows_of(shape):
    whole = [shape.length_follows, shape.tail_follows, shape.end_follows]
    throats = [(throat.string_follows, throat.follows, throat.tip_follows) for throat in shape.throats]
    return [*(section.follows for section in shape.sections), *whole, *chain.from_iterable(throats)]


def difference(more, less, step):
    return (lengths_of(more) - lengths_of(less)) / (2 * step)


def test_lengths_follow_the_mesh_of_the_whole_net_as_they_do_when_it_is_tied_larger_and_smaller():
    netting = net().netting
    meshes = np.where(netting.bars_that(lambda kind: kind.netting), netting.bar_lengths, 0.0)
    solved = difference(*(tied_with(netting.bar_lengths + s * meshes) for s in (STEP, -STEP)), STEP)
    told = np.array([follows.meshes for follows in follows_of(hung())])
    assert told == pytest.approx(solved, rel=0.01)


def test_a_length_follows_each_bar_by_itself():
    """One bar a row made longer and shorter by itself; without weight all bars of a row are alike."""
    made = make(around=12, diameters=(0.36, 0.35), deep=(4.5,), pull=24.0)
    netting, bar, step = made.netting, made.plan.bar, STEP * made.plan.bar
    squares = 0.0
    for row in range(9):
        (chosen, *_), found = np.flatnonzero(netting.bar_rows == row), []
        for sign in (1, -1):
            lengths = netting.bar_lengths.copy()
            lengths[chosen] += sign * step
            found.append(settle(replace(netting, bar_lengths=lengths), made.plan, EXACT).length)
        squares += 24 * ((found[0] - found[1]) / (2 * step) * bar) ** 2
    assert settle(netting, made.plan, EXACT).length_follows.each == pytest.approx(np.sqrt(squares), rel=0.01)


def test_the_stretch_is_what_stiff_twine_lacks():
    made = net()
    first, rise = made.netting.bar_stiffnesses / 1.02, made.netting.bar_stiffening / 1.02
    softer = replace(made.netting, bar_stiffnesses=first, bar_stiffening=rise)  # stretches 1.02 times as far
    more = (lengths_of(settle(softer, made.plan, EXACT)) - lengths_of(hung())) / 0.02
    told = np.array([follows.stretch for follows in follows_of(hung())])
    throats = np.isin(np.arange(len(told)), [7, 8, 10, 11])  # pulled so little that weight bends them too
    assert told[~throats] == pytest.approx(more[~throats], rel=0.02, abs=2e-5)
    assert told[throats] == pytest.approx(more[throats], abs=5e-4)


@pytest.mark.parametrize("hoop", [1, 2, 4])
def test_lengths_follow_the_tape_around_a_hoop(hoop):
    key = f"hoop.{hoop}.diameter"
    spec = net().spec
    shapes = []
    for sign in (1, -1):
        other = vary(spec, {key: spec.hoops[hoop - 1].diameter * (1 + sign * STEP)})
        plan = lay_out(other)
        shapes.append(settle(tie(other, plan), plan, EXACT))
    solved = difference(*shapes, STEP * pi * spec.hoops[hoop - 1].diameter)
    told = np.array([follows.hoops[hoop - 1] for follows in follows_of(hung())])
    assert told == pytest.approx(solved, rel=0.02, abs=0.01)


def test_what_is_off_by_itself_adds_up_by_squares():
    """Gauge, wet and dip 1 % each, bars 3 %, stretch 50 %, pull half, tapes 3 mm (tolerances.csv)."""
    follows = hung().length_follows
    alike = follows.meshes * np.sqrt(tolerance("gauge") ** 2 + tolerance("wet") ** 2 + tolerance("dip") ** 2)
    single = follows.each * tolerance("knot_to_knot")
    twine = follows.stretch * np.sqrt(tolerance("stretch_by_law") ** 2 + tolerance("pull") ** 2)
    tapes = np.array(follows.hoops) * tolerance("tape_metric")
    told = follows.either_way(net().spec.tolerances)
    assert told == pytest.approx(np.sqrt(alike**2 + single**2 + twine**2 + np.sum(tapes**2)))


def test_a_net_that_is_not_dipped_is_surer():
    undipped = make(**KEYS, extra="[stock]\ndipped = false\n").spec.tolerances
    assert undipped.common == pytest.approx(np.sqrt(tolerance("gauge") ** 2 + tolerance("wet") ** 2))


def test_how_sure_the_stretch_is_covers_what_was_measured():
    """Twisted and braided nylon under dead loads [lbf], and by how much they were longer (an amateur).

    Held to the same stretch at half of the strength, 0.15, the braided one begins to stretch less; the secant
    up to there stretches less still at small loads, of which nothing is known of other fibres.
    """
    loads = 4.448222 * np.array([4.17, 8.33, 12.5, 16.7, 20.8, 25.0, 29.2])
    twisted = np.array([0.029, 0.048, 0.068, 0.082, 0.096, 0.107, 0.118])
    braided = np.array([0.033, 0.063, 0.087, 0.108, 0.122, 0.138])
    rise, first = np.polyfit(loads, loads / twisted, 1)
    other, _ = np.polyfit(loads[:6], loads[:6] / braided, 1)
    rows = np.abs(loads / (first + rise * loads) / twisted - 1).max()
    lay = 1 - (1 / 0.15 - rise) / (1 / 0.15 - other)
    half = (1 / 0.15 - rise) / (1 / 0.17 - rise) - 1  # 0.15 is from memory; 0.17 is two hundredths more
    assert (rows, lay, half) == pytest.approx((0.05, 0.31, 0.40), abs=0.02)
    assert np.sqrt(rows**2 + lay**2 + half**2) == pytest.approx(tolerance("stretch_by_law"), abs=0.02)
    secant = 1 / 0.15 / (1 / 0.15 - rise) - 1
    assert secant == pytest.approx(tolerance("stretch_by_secant"), abs=0.03)


def test_a_fibre_of_which_nothing_was_measured_is_less_sure():
    """Polyethylene has no rows at small loads; a stiffness that is the maker's own is no guess."""
    own = '[twine.own]\ndiameter = 0.0014\ntex = 1500\nstrength = "600 N"\nfibre = "PE"\n'
    known = make(twine="own", extra=own + 'stiffness = "2000 N"\n')
    for made, key in ((make(twine="own", extra=own), "secant"), (known, "law"), (make(), "law")):
        assert made.spec.tolerances.stretch == tolerance(f"stretch_by_{key}")


def test_a_length_follows_each_rib_line_by_itself():
    """One of four lines made longer and shorter: its bars end where the next one of it begins."""
    line = "[[line]]\nfrom_hoop = 1\nto_hoop = 2\ncount = 4\n"
    made = make(around=12, diameters=(0.36, 0.36), deep=(5,), tail=6, extra=line)
    netting, found, step = made.netting, [], 1e-5
    ribs = netting.bars_of(Part.rib(1, 2))
    own = [ribs[0]]
    while (onward := ribs[netting.bars[ribs, 0] == netting.bars[own[-1], 1]]).size:
        own.append(onward[0])
    for sign in (1, -1):
        lengths = netting.bar_lengths.copy()
        lengths[own] += sign * step / len(own)
        found.append(settle(replace(netting, bar_lengths=lengths), made.plan, EXACT).length)
    by_one = (found[0] - found[1]) / (2 * step)
    assert made.settled().length_follows.lines == pytest.approx(np.sqrt(4) * by_one, rel=0.01)
