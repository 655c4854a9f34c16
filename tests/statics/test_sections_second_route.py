"""What is said of each section, recomputed bar by bar in a plain loop from the definitions."""

from math import dist

import pytest

from net3d.parts import Part
from tests.nets import make

pytestmark = pytest.mark.second_route

NETS = {
    "unequal hoops": {"diameters": (0.4, 0.3, 0.26), "deep": (3, 4.5), "tail": 5},
    "sagging": {"diameters": (0.32, 0.3), "deep": (9,), "weight": True, "pull": 0.1, "twine": "#60"},
    "rods too short": {"diameters": (0.32,) * 3, "deep": (3, 4), "spacing": (0.22, None), "weight": True},
}


@pytest.fixture(params=NETS.values(), ids=list(NETS), name="net")
def _net(request):
    return make(**request.param)


def bars_of(net, shape, section):
    """Tension, row, cosine to the axis and looseness of every bar of a section."""
    netting, places = net.netting, shape.knot_positions.tolist()
    number = netting.parts.index(Part.section(section.from_hoop, section.to_hoop))
    for bar, (upper, lower) in enumerate(netting.bars.tolist()):
        if netting.bar_parts[bar] == number:
            distance = dist(places[upper], places[lower])
            cosine = (places[lower][0] - places[upper][0]) / distance
            yield (
                shape.bar_tensions[bar],
                netting.bar_rows[bar],
                cosine,
                1 - distance / netting.bar_lengths[bar],
            )


def test_tensions_shares_and_looseness(net):
    shape = net.settled()
    for section, planned in zip(shape.sections, net.plan.sections, strict=True):
        bars = list(bars_of(net, shape, section))
        tensions = [tension for tension, *_ in bars]
        cosine_sums = [
            sum(abs(cosine) for _, row, cosine, _ in bars if row == here) for here in range(planned.bar_rows)
        ]
        shares = [net.netting.pull / cosine_sums[row] for _, row, *_ in bars]
        axial = sum(tension * cosine for tension, _, cosine, _ in bars) / planned.bar_rows
        slack = sum(tension < 0.02 * share for tension, share in zip(tensions, shares, strict=True))
        looseness = sorted(loose for *_, loose in bars)
        assert section.tension_min == pytest.approx(min(tensions))
        assert section.tension_mean == pytest.approx(sum(tensions) / len(bars))
        assert section.tension_max == pytest.approx(max(tensions))
        assert section.full_share == pytest.approx(sum(shares) / len(shares))
        assert section.body_share == pytest.approx(axial / net.netting.pull, abs=1e-12)
        assert section.slack_share == pytest.approx(slack / len(bars))
        assert section.looseness_max == pytest.approx(max(looseness[-1], 0.0))
        # A twentieth of the bars are looser: the line lies at the bars on either side of that.
        edge = int(0.95 * len(bars))
        assert looseness[edge - 1] - 1e-12 <= section.looseness_twentieth <= looseness[edge + 1] + 1e-12


def test_lengths_and_waists(net):
    shape = net.settled()
    netting, places = net.netting, shape.knot_positions
    for section, planned in zip(shape.sections, net.plan.sections, strict=True):
        first, last = net.plan.hoops[section.from_hoop - 1], net.plan.hoops[section.to_hoop - 1]
        widths = []
        for row in range(first.knot_row, last.knot_row + 1):
            names = [netting.parts[number].name for number in netting.knot_parts]
            ring = [
                places[knot, 1:]
                for knot, name in enumerate(names)
                if netting.knot_rows[knot] == row and name.startswith("section")
            ]
            assert len(ring) == net.plan.meshes_around
            middle = sum(ring) / len(ring)
            widths.append(2 * sum(dist(place, middle) for place in ring) / len(ring))
        assert section.waist_diameter == pytest.approx(min(widths))
        assert section.length == pytest.approx(
            shape.hoop_positions[section.to_hoop - 1] - shape.hoop_positions[section.from_hoop - 1]
        )
        assert planned.spacing is None or section.length == pytest.approx(planned.spacing)
        for hoop in (first, last):
            ring = places[(netting.knot_carriers == hoop.number - 1) & (netting.knot_rows == hoop.knot_row)]
            assert ring[:, 0] == pytest.approx(shape.hoop_positions[hoop.number - 1], abs=1e-12)
    assert shape.length == pytest.approx(sum(section.length for section in shape.sections))
    assert shape.hoop_positions[0] == 0


def test_the_body_carries_all_of_the_pull_but_where_rods_do():
    # Axial balance: without rods, throats or strings nothing but the body is there to carry it.
    for name in ("unequal hoops", "sagging"):
        for section in make(**NETS[name]).settled().sections:
            assert section.body_share == pytest.approx(1.0, abs=1e-6)
    assert make(**NETS["rods too short"]).settled().sections[0].body_share < 1e-3
