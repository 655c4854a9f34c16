"""The netting's lattice: which knot is tied to which, and what every bar says of itself (derived)."""

from collections import Counter
from math import pi

import numpy as np
import pytest

from net3d.netting.netting import FREE
from net3d.parts import BRIDLE, TAIL, Part
from tests.nets import make

pytestmark = pytest.mark.closed_form

NETS = {
    "whole meshes": {"diameters": (0.32, 0.3), "deep": (4,)},
    "half meshes": {"around": 11, "diameters": (0.22, 0.22, 0.2), "deep": (2.5, 3.5)},
    "all of it": {"diameters": (0.32, 0.3, 0.28), "deep": (2.5, 3), "tail": 3.5, "legs": 3},
    "mouth anchored": {"diameters": (0.32, 0.3), "deep": (3,), "tail": 3, "legs": 2, "anchor": "mouth"},
}


@pytest.fixture(params=NETS.values(), ids=list(NETS), name="net")
def _net(request):
    return make(**request.param)


def is_netting(netting):
    names = np.array([part.name for part in netting.parts])[netting.bar_parts]
    return np.char.startswith(names, "section") | (names == "tail")


def test_every_inner_knot_has_four_bars(net):
    netting = net.netting
    bars = netting.bars[is_netting(netting)]
    ends = Counter(bars.ravel().tolist())
    first_row = set(bars[:, 0][netting.knot_rows[bars[:, 0]] == 0].tolist())
    last = max(netting.knot_rows[bars[:, 1]])
    last_row = set(bars[:, 1][netting.knot_rows[bars[:, 1]] == last].tolist())
    assert len(first_row) == len(last_row) == net.plan.meshes_around
    for knot, count in ends.items():
        assert count == (2 if knot in first_row | last_row else 4)


def test_counts(net):
    plan, netting = net.plan, net.netting
    rows = sum(section.bar_rows for section in plan.sections) + plan.tail_rows
    assert is_netting(netting).sum() == 2 * plan.meshes_around * rows
    knots = np.unique(netting.bars[is_netting(netting)])
    assert len(knots) == plan.meshes_around * (rows + 1)
    for section in plan.sections:
        assert len(netting.bars_of(section.part)) == 2 * plan.meshes_around * section.bar_rows


def test_rows_are_turned_half_a_pitch(net):
    netting, pitch = net.netting, 2 * pi / net.plan.meshes_around
    upper, lower = netting.bars[is_netting(netting)].T
    assert np.all(netting.knot_rows[lower] == netting.knot_rows[upper] + 1)
    turns = (netting.knot_angles[lower] - netting.knot_angles[upper]) / pitch
    turns -= np.round(turns / net.plan.meshes_around) * net.plan.meshes_around
    assert np.abs(turns) == pytest.approx(0.5)
    # Of the two bars that hang from a knot one goes either way.
    assert Counter(upper[turns > 0].tolist()) == Counter(upper[turns < 0].tolist())


def test_the_reference_mark_is_at_the_top_and_angles_run_clockwise_from_the_mouth(net):
    # Seen from the mouth, looking toward the tail (+x), z up, clockwise goes to -y.
    netting = net.netting
    mouth = np.flatnonzero((netting.knot_carriers == 0) & (netting.knot_rows == 0))
    mouth = mouth[: net.plan.meshes_around]
    radius = net.plan.hoops[0].knot_circle_diameter / 2
    assert netting.knot_seats[mouth[0]] == pytest.approx([0, 0, radius])
    assert netting.knot_seats[mouth[1], 1] < 0
    assert np.linalg.norm(netting.knot_seats[mouth], axis=1) == pytest.approx(radius)


def test_knots_of_a_hoop_sit_where_its_marks_are(net):
    for number, hoop in enumerate(net.plan.hoops):
        riding = (net.netting.knot_carriers == number) & (net.netting.knot_rows == hoop.knot_row)
        seats = net.netting.knot_seats[np.flatnonzero(riding)[: hoop.meshes_around]]
        angles = np.arctan2(-seats[:, 1], seats[:, 2]) % (2 * pi)
        carried = np.sort(angles) * hoop.outside_diameter / 2
        assert np.abs(carried - hoop.marks).max() <= 0.0005 + 1e-9


def test_provenance_of_every_bar(net):
    netting = net.netting
    first_rows = {
        section.part: net.plan.hoops[section.from_hoop - 1].knot_row for section in net.plan.sections
    }
    first_rows[TAIL] = net.plan.hoops[-1].knot_row
    for part, first_row in first_rows.items():
        bars = netting.bars_of(part) if part in netting.parts else []
        upper = netting.bars[bars, 0]
        assert np.array_equal(netting.bar_rows[bars], netting.knot_rows[upper] - first_row)
        assert np.all(netting.bar_lengths[bars] == net.plan.bar)
        assert len(np.unique(netting.bars[bars], axis=0)) == len(bars)
    assert [netting.bars_of(part).size > 0 for part in netting.parts] == [True] * len(netting.parts)


def test_bars_run_around_from_the_reference_mark(net):
    netting, around = net.netting, net.plan.meshes_around
    for row in range(net.plan.sections[0].bar_rows):
        bars = netting.bars_of(Part.section(1, 2))
        bars = bars[netting.bar_rows[bars] == row]
        lower = netting.knot_angles[netting.bars[bars, 1]] * around / (2 * pi)
        assert np.floor(lower + 1e-9).astype(int).tolist() == [bar // 2 for bar in range(2 * around)]


def test_the_tail_is_gathered_to_a_point():
    netting = make(**NETS["all of it"]).netting
    names = [carrier.name for carrier in netting.carriers]
    gathered = netting.knot_carriers == names.index("gathered tail")
    assert gathered.sum() == 16 + 1  # the last row and the end of the anchor line
    assert np.all(netting.knot_seats[gathered] == 0)


def test_only_hoops_tail_and_anchor_carry_knots(net):
    netting = net.netting
    for part in net.plan.sections:
        inner = netting.knot_parts == netting.parts.index(part.part)
        rows = netting.knot_rows[inner]
        hoop_rows = {hoop.knot_row for hoop in net.plan.hoops}
        free = netting.knot_carriers[inner] == FREE
        assert np.array_equal(free, ~np.isin(rows, list(hoop_rows)))


def test_the_netting_weighs_what_its_twine_weighs_in_water():
    # Derived: mass from the twine's length and tex, less the water it displaces. Nylon is so near to water
    # that 1 kg/m^3 of water is 0.7 % of the difference. Ropes of bridle and line count for nothing.
    net = make(**NETS["all of it"], weight=True)
    expected = net.plan.twine_mass * 9.80665 * (1 - 1000 / net.plan.twine.density)
    assert net.netting.bar_weights.sum() == pytest.approx(expected, rel=0.01)
    assert np.all(net.netting.bar_weights[~is_netting(net.netting)] == 0)
    assert np.all(make(**NETS["all of it"]).netting.bar_weights == 0)


def test_bridle_legs_start_at_the_middle_of_the_rod_evenly_from_the_reference_mark():
    net = make(**NETS["all of it"])
    netting = net.netting
    ring, feet = netting.bars[netting.bars_of(BRIDLE)].T
    assert len(set(ring.tolist())) == 1
    radius = (net.plan.hoops[0].outside_diameter - net.plan.hoops[0].rod_diameter) / 2
    turns = 2 * pi / 3 * np.arange(3)
    expected = radius * np.stack([0 * turns, -np.sin(turns), np.cos(turns)], axis=1)
    assert netting.knot_seats[feet] == pytest.approx(expected)
    assert np.all(netting.knot_carriers[feet] == 0)
