"""What throats and their strings do in any net (derived, or common practice where that is said)."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from net3d.netting import tie
from net3d.parts import Part
from net3d.statics import settle
from net3d.statics.equilibrium import find_equilibrium
from net3d.statics.shape import EndState
from net3d.statics.solver import SolverLimits
from tests.nets import hoop_diameter, make, sample, stiff
from tests.statics.test_section_closed_form import closed_form

pytestmark = pytest.mark.law

MESH = 0.08
GOOD = {EndState.SETTLED, EndState.SETTLED_LOOSELY}
SPECS = Path(__file__).parent.parent.parent / "specs"


@pytest.mark.parametrize(("around", "ratio", "deep"), [(36, 0.6, 5.5), (48, 0.5, 8), (64, 0.4, 6)])
def test_a_funnel_that_narrows_nowhere_between_two_rings_is_the_closed_form_of_the_body(around, ratio, deep):
    # Its tip rides on the next hoop, as if sewn to it; the body there is deeper and hangs slack, as do the
    # strings. The closed form is that of tests/closed_form, good to about 1/N^2.
    diameter = hoop_diameter(around, MESH, ratio)
    strings = {"to_hoop": 2, "length": 1.0}
    funnel = {"hoop": 1, "deep": deep, "tip": around, "strings": strings}
    body = {"around": around, "stretched": MESH, "diameters": (diameter,) * 2, "deep": (deep + 3,)}
    net = stiff(make(**body, throats=[funnel]))
    netting = net.netting
    part = netting.parts.index(Part.throat(1))
    tip = np.flatnonzero((netting.knot_parts == part) & (netting.knot_rows == round(2 * deep)))
    carriers, seats = netting.knot_carriers.copy(), netting.knot_seats.copy()
    radius, angles = net.plan.hoops[1].knot_circle_diameter / 2, netting.knot_angles[tip]
    carriers[tip] = 1
    seats[tip] = radius * np.stack([0 * angles, -np.sin(angles), np.cos(angles)], axis=1)
    sewn = replace(netting, knot_carriers=carriers, knot_seats=seats)
    found = find_equilibrium(sewn, sewn.knot_loads, SolverLimits())
    assert found.state in GOOD
    length, waist = closed_form(radius, around, net.plan.bar, deep)
    hoops = found.hoop_positions
    rows = [
        np.flatnonzero((netting.knot_parts == part) & (netting.knot_rows == row)) for row in (1, round(deep))
    ]
    waists = [np.linalg.norm(found.positions[row, 1:], axis=1).mean() for row in rows]
    assert hoops[1] - hoops[0] == pytest.approx(length, rel=2.0 / around**2 + 1e-4)
    assert min(waists) == pytest.approx(waist, rel=10.0 / around**2 + 1e-3)
    pulls = found.tensions[netting.bars_of(Part.throat(1))]
    assert found.tensions[netting.bars_of(Part.section(1, 2))].max() < 1e-4 * pulls.mean()


NETS = st.fixed_dictionaries(
    {
        "around": st.integers(10, 14),
        "ratio": st.floats(0.4, 0.6),
        "rows": st.integers(8, 11),
        "deep": st.integers(7, 9),
        "tip": st.integers(5, 7),
        "points": st.integers(3, 5),
    }
)


def drawn_net(*, around, ratio, rows, deep, tip, points, **strings):
    diameter = hoop_diameter(around, MESH, ratio)
    throat = {
        "hoop": 1,
        "deep": deep / 2,
        "tip": tip,
        "strings": {"to_hoop": 3, "points": points, **strings},
    }
    return make(
        around=around,
        stretched=MESH,
        diameters=[diameter * shrink for shrink in (1.0, 0.98, 0.96)],
        deep=(rows / 2,) * 2,
        throats=[throat],
    )


def settled(net):
    shape = net.settled()
    assert shape.state in GOOD
    return shape


def laws(test):
    # Every net takes a moment to settle: a failing one is shown as it is drawn, not made small first.
    tried = settings(deadline=None, max_examples=5, derandomize=True, phases=[Phase.generate])
    return tried(given(drawn=NETS)(test))


@laws
def test_the_shorter_the_strings_the_more_the_throat_takes_from_the_body(drawn):
    # From half a mesh too short, by which the throat carries all of the pull, to half a mesh too long.
    fitted = settled(drawn_net(**drawn)).throats[0].strings
    shares, bodies = [], []
    for longer in (-MESH / 2, -0.003, -0.001, 0.0, MESH / 2):
        shape = settled(drawn_net(**drawn, length=fitted.to_tie + longer))
        shares.append(shape.throats[0].pull_share)
        bodies.append(shape.sections[0].body_share)
    assert np.all(np.diff(shares) < 1e-6)
    assert shares[0] > 0.99
    assert 0.05 < shares[2] < shares[1] < 0.95
    assert shares[-1] < 1e-4
    # Between the throat's hoop and its tip nothing else passes on the pull, and none of it is lost.
    assert np.add(shares, bodies) == pytest.approx(1.0, abs=1e-4)


def with_stiff_strings(net):
    """The same net with strings that do not stretch; its netting does."""
    stiffnesses = net.netting.bar_stiffnesses.copy()
    stiffnesses[net.netting.bars_of(Part.strings(1))] = 1e5 * net.netting.pull
    return replace(net, netting=replace(net.netting, bar_stiffnesses=stiffnesses))


@laws
def test_the_length_that_was_fitted_gives_the_share_that_it_was_fitted_at(drawn):
    # Of strings that do not stretch. What share a length gives is a matter of how far the netting stretches,
    # since netting that did not would be as long whatever it carries (closed form); so a tenth of a
    # millimetre tells.
    for share in (0.2, 0.05):
        fitted = settled(with_stiff_strings(drawn_net(**drawn, share=share))).throats[0]
        cut = settled(with_stiff_strings(drawn_net(**drawn, length=fitted.string_length))).throats[0]
        assert fitted.string_tension == pytest.approx(share * 60.0, rel=1e-5)
        assert cut.string_tension == pytest.approx(fitted.string_tension, rel=0.01)
        assert cut.pull_share == pytest.approx(fitted.pull_share, rel=0.01)


@laws
def test_the_length_to_tie_gives_about_the_share_that_was_asked(drawn):
    # How far a string stretches is known from about its length before it is fitted, to a fifth or so; as much
    # may the share be off.
    fitted = settled(drawn_net(**drawn, share=0.1)).throats[0]
    tied = settled(drawn_net(**drawn, length=fitted.strings.to_tie)).throats[0]
    assert tied.pull_share == pytest.approx(fitted.pull_share, rel=0.2)


@laws
def test_turning_the_ties_by_their_spacing_changes_nothing(drawn):
    net = drawn_net(**drawn)
    (throat,) = net.plan.throats
    spacing = 2 * np.pi / throat.strings.points
    # A knot half-way between two ties may go to either, and the first tie decides which.
    assume(np.abs(throat.piece.rows[-1].angles() / spacing % 1 - 0.5).min() > 1e-3)
    turned = replace(throat, strings=replace(throat.strings, turn=spacing))
    plan = replace(net.plan, throats=(turned,))
    one, other = settled(net), settle(tie(net.spec, plan), plan)
    assert other.hoop_positions == pytest.approx(one.hoop_positions, abs=1e-4 * MESH)
    assert other.throats[0].string_length == pytest.approx(one.throats[0].string_length, abs=1e-4 * MESH)
    assert other.throats[0].pull_share == pytest.approx(one.throats[0].pull_share, rel=1e-3)


@laws
def test_scaling_all_lengths_scales_the_strings_and_keeps_the_shares(drawn):
    # Forces and EA kept: strains and tensions stay, places scale.
    net = drawn_net(**drawn)
    netting, one = net.netting, settled(net)
    for scale in (0.2, 10.0):
        larger = replace(
            netting,
            bar_lengths=netting.bar_lengths * scale,
            knot_seats=netting.knot_seats * scale,
            fit_least=netting.fit_least * scale,
        )
        found = find_equilibrium(larger, larger.knot_loads, SolverLimits())
        strings = netting.bars_of(Part.strings(1))
        length = found.rest_lengths[strings].max() / scale
        assert length == pytest.approx(one.throats[0].string_length, abs=1e-4 * MESH)
        assert found.tensions[strings].sum() == pytest.approx(one.throats[0].string_tension, rel=1e-6)
        places = found.hoop_positions
        assert (places - places[0]) / scale == pytest.approx(one.hoop_positions, abs=1e-5 * MESH)


def test_more_depth_behind_the_second_throat_gives_its_strings_more_room():
    # Common practice, no source: the rear of a net gets more meshes between its hoops than the front when a
    # longer throat is to hang in it. The two samples differ in the last section's depth alone.
    plain, deep = (sample(name) for name in ("backwater-36", "backwater-36-deep-rear"))
    assert plain.spec.sections.deep[:-1] == deep.spec.sections.deep[:-1]
    gained = deep.spec.sections.deep[-1] - plain.spec.sections.deep[-1]
    one, other = plain.shape.throats[1], deep.shape.throats[1]
    assert gained > 0
    # Two meshes hung at E1 = 0.5 are 2 E2 = 1.7 stretched meshes long; the strings stand aslant.
    mesh = plain.spec.netting.stretched
    assert 0.5 * gained * mesh < other.strings.to_tie - one.strings.to_tie < gained * mesh
    room = [net.shape.tail_end - net.shape.throats[1].tip_position for net in (plain, deep)]
    assert 0.5 * gained * mesh < room[1] - room[0] < 1.2 * gained * mesh
    told = [
        next(finding for finding in net.findings if finding.code == "room-behind-throat")
        for net in (plain, deep)
    ]
    assert told[1].value > told[0].value
