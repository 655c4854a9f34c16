"""What turning, mirroring, scaling and pulling harder do to any net, and nothing else (derived).

Loads thrown at random on the free knots take the nets' own symmetry away, so that no repeat is solved for
the whole and each law has something to break.
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from net3d.netting.netting import FREE
from net3d.statics import settle
from net3d.statics.shape import EndState, Symmetry
from tests.nets import hoop_diameter, make

pytestmark = pytest.mark.law

MESH = 0.08
PLACES = 1e-4  # of a bar: what a second route to the same shape is held to
TENSIONS = 1e-3  # of the pull over the bars around


NETS = st.fixed_dictionaries(
    {
        "around": st.integers(6, 12),
        "ratio": st.floats(0.3, 0.75),
        "shrink": st.sampled_from([1.0, 0.95]),
        "rows": st.lists(st.integers(3, 7), min_size=1, max_size=2),
        "tail": st.sampled_from([None, 3, 3.5]),
        "anchor": st.sampled_from(["tail", "mouth"]),
        "seed": st.integers(0, 1000),
    }
)


def laws(test):
    """Try a law on small nets under their pull and a load on every free knot."""

    @settings(deadline=None, max_examples=15, derandomize=True)
    @given(drawn=NETS)
    def tried(drawn):
        test(loaded_net(**drawn))

    return tried


def loaded_net(*, around, ratio, shrink, rows, tail, anchor, seed):
    diameter = hoop_diameter(around, MESH, ratio)
    net = make(
        around=around,
        stretched=MESH,
        diameters=[diameter * shrink**number for number in range(len(rows) + 1)],
        deep=[count / 2 for count in rows],
        tail=tail,
        anchor=anchor,
    )
    return with_random_loads(net, seed)


def with_random_loads(net, seed):
    """The net with its free knots pulled about, by a third of the pull in all."""
    random = np.random.default_rng(seed)
    free = np.flatnonzero(net.netting.knot_carriers == FREE)
    loads = net.netting.knot_loads.copy()
    loads[free] += random.uniform(-1, 1, (len(free), 3)) * net.netting.pull / 3 / len(free)
    return replace(net, netting=replace(net.netting, knot_loads=loads))


def rested(net, **changes):
    shape = settle(replace(net.netting, **changes), net.plan)
    assert shape.state in {EndState.SETTLED, EndState.SETTLED_LOOSELY}
    return shape


def assert_same(net, found, expected):
    """Positions (n, 3) [m] and tensions (m,) [N] of the one are those of the other."""
    assert np.abs(found[0] - expected[0]).max() < PLACES * net.plan.bar
    share = net.netting.pull / (2 * net.plan.meshes_around)
    assert np.abs(found[1] - expected[1]).max() < TENSIONS * share


def images(net, turn):
    """The knot that every knot is carried to by ``turn`` of angles, and the bar that every bar is."""
    netting = net.netting
    count = 2 * net.plan.meshes_around
    half_pitches = np.rint(netting.knot_angles * count / (2 * np.pi)).astype(int)
    alone = np.bincount(netting.knot_rings)[netting.knot_rings] == 1
    turned = np.where(alone, half_pitches, turn(half_pitches) % count)
    number = {key: knot for knot, key in enumerate(zip(netting.knot_rings, half_pitches, strict=True))}
    knots = np.array([number[key] for key in zip(netting.knot_rings, turned, strict=True)])
    bar_number = {frozenset(ends): bar for bar, ends in enumerate(netting.bars.tolist())}
    bars = np.array([bar_number[frozenset(knots[ends].tolist())] for ends in netting.bars])
    return knots, bars


def carried(net, operation, turn):
    """Assert that a net whose loads are turned or mirrored comes to rest turned or mirrored."""
    knots, bars = images(net, turn)
    shape = rested(net)
    assert shape.symmetry == Symmetry()
    loads = np.empty_like(net.netting.knot_loads)
    loads[knots] = net.netting.knot_loads @ operation.T
    other = rested(net, knot_loads=loads)
    assert_same(
        net,
        (other.knot_positions[knots], other.bar_tensions[bars]),
        (shape.knot_positions @ operation.T, shape.bar_tensions),
    )


@laws
def test_turning_by_a_pitch_turns_the_shape(net):
    angle = 2 * np.pi / net.plan.meshes_around
    cosine, sine = np.cos(angle), np.sin(angle)
    turn = np.array([[1, 0, 0], [0, cosine, -sine], [0, sine, cosine]])  # clockwise, z up to -y
    carried(net, turn, lambda half_pitches: half_pitches + 2)


@laws
def test_mirroring_mirrors_the_shape(net):
    carried(net, np.diag([1.0, -1.0, 1.0]), lambda half_pitches: -half_pitches)


@laws
def test_turning_everything_turns_everything(net):
    # By any angle: seats, loads and nominal angles together.
    cosine, sine = np.cos(0.3), np.sin(0.3)
    turn = np.array([[1, 0, 0], [0, cosine, -sine], [0, sine, cosine]])
    shape = rested(net)
    other = rested(
        net,
        knot_seats=net.netting.knot_seats @ turn.T,
        knot_loads=net.netting.knot_loads @ turn.T,
        knot_angles=net.netting.knot_angles + 0.3,
    )
    assert_same(
        net,
        (other.knot_positions, other.bar_tensions),
        (shape.knot_positions @ turn.T, shape.bar_tensions),
    )


def stiff_hoops(net, scale):
    """The hoops of a net, so many times as thick, where none bends."""
    return tuple(
        replace(carrier, bends=None, thickness=carrier.thickness * scale) for carrier in net.netting.carriers
    )


@laws
def test_scaling_all_lengths_scales_the_shape(net):
    # Forces and EA kept: strains and tensions stay, places scale. Hoops do not: theirs here do not bend.
    shape = rested(net, carriers=stiff_hoops(net, 1.0))
    for scale in (0.1, 25.0):
        other = rested(
            net,
            carriers=stiff_hoops(net, scale),
            bar_lengths=net.netting.bar_lengths * scale,
            knot_seats=net.netting.knot_seats * scale,
        )
        assert_same(
            net,
            (other.knot_positions / scale, other.bar_tensions),
            (shape.knot_positions, shape.bar_tensions),
        )


@laws
def test_twice_the_forces_and_the_stiffness_twice_the_tensions(net):
    # Same strains, so the same shape.
    netting = net.netting
    shape = rested(net)
    other = rested(
        net,
        pull=2 * netting.pull,
        knot_loads=2 * netting.knot_loads,
        bar_stiffnesses=2 * netting.bar_stiffnesses,
        bar_expected=2 * netting.bar_expected,
    )
    assert_same(
        net,
        (other.knot_positions, other.bar_tensions / 2),
        (shape.knot_positions, shape.bar_tensions),
    )


@settings(deadline=None, max_examples=10, derandomize=True)
@given(around=st.integers(8, 30), ratio=st.floats(0.3, 0.8), rows=st.integers(4, 12))
def test_twice_the_pull_on_a_maker_s_net_twice_the_tensions(around, ratio, rows):
    # Real twine without weight: it stretches a little more and no more, under 2 % here in length.
    diameter = hoop_diameter(around, MESH, ratio)
    keys = {"around": around, "stretched": MESH, "diameters": (diameter,) * 2, "deep": (rows / 2,)}
    once, twice = (make(**keys, pull=pull).settled() for pull in (20.0, 40.0))
    assert np.allclose(twice.bar_tensions / once.bar_tensions, 2.0, rtol=0.02)
    assert 1.0 < twice.length / once.length < 1.02
