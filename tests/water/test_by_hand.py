"""Water by hand: small numbers put into what the chain calls, and what must come out of it, reckoned here."""

from dataclasses import replace
from math import asin, cos, log10, pi, tan

import numpy as np
import pytest
from scipy.integrate import quad

from net3d.handbook.drag import cylinder_drag
from net3d.handbook.water import water_constant
from net3d.parts import ANCHOR_LINE, BRIDLE
from net3d.water.bands import netting_bands
from net3d.water.by_model import bar_screens
from net3d.water.cylinders import bar_widths, twine_area
from net3d.water.drag import hoop_forces
from net3d.water.hoops import held_by, hoop_loads, rod_of
from net3d.water.loads import loads_in
from net3d.water.models import caught_solidity
from net3d.water.water import Stream
from tests.nets import make
from tests.water.test_standing import screens

pytestmark = pytest.mark.closed_form

KEYS = {"diameters": (0.32, 0.32, 0.30), "deep": (4, 4), "tail": 5, "legs": 3, "leg": 0.5, "pull": 20.0}
DENSITY, VISCOSITY = 999.1, 1.139e-6


@pytest.fixture(name="net", scope="module")
def _net():
    return make(**KEYS)


@pytest.fixture(name="shape", scope="module")
def _shape(net):
    return net.settled()


def loads(net, shape, speed=0.5):
    (row,) = loads_in(net.spec, net.plan, (net.netting, shape), (speed,))
    return row


def test_the_line_climbs_to_the_middle_of_the_last_hoop(net, shape):
    # A hoop of 0.30 m stands on the bottom, its middle 0.15 m over it; 3 m of line: scope 20.
    line = loads(net, shape).line
    assert line.height == pytest.approx(0.15)
    assert line.scope == pytest.approx(20.0)
    assert line.tension == pytest.approx(line.pull / cos(asin(0.05)))


def test_debris_covers_what_it_lies_on_and_blocks_a_part_of_the_rest():
    # Twine covers 0.2 of a screen. Leaves over 0.1 of it: 0.3. Half of what is open blocked: 0.3 + 0.7 / 2.
    for caught, blocked, expected in ((0.1, 0.0, 0.3), (0.0, 0.5, 0.6), (0.1, 0.5, 0.65), (0.9, 0.5, 1.0)):
        stream = Stream(1.0, 1.0, caught=caught, blocked=blocked)
        assert caught_solidity(screens([0.0]), stream) == pytest.approx(expected)


def test_the_area_of_a_section_s_twine_and_knots(net, shape):
    # 16 meshes around and 4 deep: 256 bars and, at two bars a knot, 128 knots. A ball of three diameters
    # covers 9 pi / 4 d^2, of which two bars that cross in it cover 3 + 3 - 1 = 5 d^2.
    part = next(part for part in net.netting.parts if part.name == "section-1-2")
    ends = shape.knot_positions[net.netting.bars[net.netting.bars_of(part)]]
    lengths = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    area = twine_area(net.netting, netting_bands(net.netting, shape.knot_positions))[part]
    assert len(lengths) == 256
    assert area == pytest.approx(lengths.sum() * 0.00139 + 128 * (9 * pi / 4 - 5) * 0.00139**2, rel=1e-6)


def test_netting_faces_the_flow_that_meets_it_within_60_degrees_of_its_normal(net, shape):
    # Further off screens of netting give almost nothing: common practice, no source.
    row = loads(net, shape)
    rows = bar_screens(net.netting, row.standing)
    facing = rows.areas[np.degrees(np.arccos(rows.cosines)) <= 60.0].sum() / rows.areas.sum()
    assert f"{facing:.0%} of the netting faces the flow" in "".join(model.remark for model in row.models)


def test_netting_is_as_much_wider_as_knots_and_debris_make_it_and_lines_are_not(net, shape):
    # Knots: a tenth more drag (Bull. Jpn. Soc. Sci. Fish. 45(10) 1979, abstract). A quarter of the open part
    # blocked makes s into s + (1 - s) / 4. Where the tail is gathered twine covers all there is, and no more.
    netting = net.netting
    bands = netting_bands(netting, shape.knot_positions)
    netted = bands.bar_bands >= 0
    twine = (bands.twine_areas / bands.areas)[bands.bar_bands[netted]]
    covered = np.minimum(twine, 1.0)
    assert np.median(twine) < 0.1
    clean = bar_widths(netting, bands, Stream(0.5, -1.0))
    assert clean[netted] == pytest.approx(1.10 * covered / twine)
    assert clean[~netted] == pytest.approx(1.0)
    blocked = bar_widths(netting, bands, Stream(0.5, -1.0, blocked=0.25))
    assert blocked[netted] == pytest.approx(1.10 * (covered + (1 - covered) / 4) / twine)
    assert blocked[~netted] == pytest.approx(1.0)


@pytest.mark.published(
    source="Fox, McDonald and Pritchard 2008, turbulent skin friction, as a course prints it"
)
def test_a_rod_along_the_flow_is_dragged_by_its_skin_at_least_and_three_times_that_at_most():
    # Turbulent skin friction, 0.455 / (log10 Re_l)^2.58 on the wetted pi d l (Fox, McDonald and Pritchard
    # 2008, as a course prints it), over a drag coefficient of about 1 on d l: 0.3 to 1 m at 0.5 m/s.
    for length in (0.3, 1.0):
        skin = pi * 0.455 / log10(0.5 * length / VISCOSITY) ** 2.58
        assert skin < water_constant("tangential_share_rod") < 3.2 * skin


def test_a_hoop_along_the_flow_by_quadrature(net):
    # Flow along y, square to the net: a piece at t has |cos t| of the speed across it and |sin t| along. No
    # netting stands before it.
    hoop, speed = net.plan.hoops[0], 0.5
    place = replace(screens([50.0]), middles=np.zeros((1, 2)))
    force = hoop_forces(net.plan, net.settled().poses, place, Stream(speed, 1.0, angle=pi / 2))[0]
    rod, radius = hoop.rod_diameter, 0.31 / 2

    def pull(angle):
        across, along = speed * abs(np.cos(angle)), speed * np.sin(angle)
        drag = [cylinder_drag(np.array([u * rod / VISCOSITY]))[0] for u in (across, speed)]
        share = water_constant("tangential_share_rod")
        return drag[0] * across**2 * abs(np.cos(angle)) + share * drag[1] * abs(along) ** 2 * abs(
            np.sin(angle)
        )

    expected = DENSITY / 2 * rod * radius * 4 * quad(pull, 0.0, pi / 2, epsrel=1e-6)[0]
    assert force[1] == pytest.approx(expected, rel=5e-3)


def test_a_bag_by_its_formula(net, shape):
    # 9.80665 x 4.5 (Sn / Sm)^1.2 S v^1.8: walls S, mouth Sm, twine across the flow Sn as the net stands;
    # what is no netting, and the hoops, as cylinders. Its constants are from memory; this is the sum only.
    row = loads(net, shape)
    standing, netting = row.standing, net.netting
    netted = np.isin(netting.bar_parts, [n for n, part in enumerate(netting.parts) if part.kind.netting])
    spans = np.diff(standing.positions[netting.bars], axis=1)[:, 0]
    bands = standing.bands
    crowded = np.minimum(bands.solidity * bands.areas / bands.twine_areas, np.inf)[bands.bar_bands[netted]]
    seen = (0.00139 * crowded * np.hypot(*spans[netted, 1:].T)).sum()
    bag = 9.80665 * 4.5 * (seen / (pi / 4 * 0.30**2)) ** 1.2 * bands.areas.sum() * 0.5**1.8
    others = -standing.drag.bar_forces[~netted, 0].sum() - standing.drag.hoop_forces[:, 0].sum()
    told = next(model.drag for model in row.models if model.name == "bag nets")
    assert told == pytest.approx(bag + others, rel=1e-6)


def test_the_legs_squeeze_the_mouth_hoop_as_their_tensions_do(net, shape):
    # What a leg pulls inward, off the solved shape; and by hand: 20 / 3 N along the net, from a ring of
    # 0.155 m with legs of 0.5 m.
    netting = net.netting
    ring, feet = netting.bars[netting.bars_of(BRIDLE)].T
    spans = shape.knot_positions[ring] - shape.knot_positions[feet]
    units = spans / np.linalg.norm(spans, axis=1)[:, None]
    pulls = shape.bar_tensions[netting.bars_of(BRIDLE)]
    inward = pulls * np.linalg.norm(units[:, 1:], axis=1)
    assert inward == pytest.approx(20 / 3 * tan(asin(0.155 / 0.5)), rel=0.01)
    # The hoop by itself, as in test_rings, at the legs: M = P R / 2 pi (1 - a / tan a), a = pi / 3.
    a, radius, rod = pi / 3, 0.155, 0.01
    moments = (
        20 * radius / (2 * pi) * (1 - a / tan(a)),
        inward[0] * radius / 2 * (1 / a - 1 / tan(a)),
    )
    by_itself = held_by(rod_of(net.plan.hoops[0]), 20.0, 3, 0.5)
    assert by_itself.stress == pytest.approx(np.hypot(*moments) * 32 / (pi * rod**3), rel=0.01)
    # As the netting is sewn to it and goes with it, it bears that or less.
    held = hoop_loads(netting, net.plan, shape.knot_positions, shape.bar_tensions, (3, 0.5))[0].legs
    assert 0.9 * by_itself.stress < held.stress <= by_itself.stress


def test_what_the_anchor_holds_is_the_pull_and_the_drag(net, shape):
    row = loads(net, shape)
    assert row.anchor_pull == pytest.approx(20.0 + row.drag, rel=1e-6)
    assert row.anchor_pull_high == pytest.approx(20.0 + row.drag_high, rel=1e-6)
    assert row.line.pull == row.anchor_pull_high
    # The rope's own drag grows with the highest model's, as all of the drag does.
    ropes = [bar for part in (BRIDLE, ANCHOR_LINE) for bar in net.netting.bars_of(part)]
    forces = np.linalg.norm(row.standing.drag.bar_forces[ropes], axis=1).sum()
    assert row.line.rope_drag == pytest.approx(forces * row.drag_high / row.drag, rel=1e-9)
