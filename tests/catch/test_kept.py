"""What meshes and other openings keep: geometry by hand and by search, and published catches by mesh.

Hoop nets of three meshes fished side by side say which channel catfish each kept. Nothing is known there of
how their twine was knotted, and their fish were not measured around, so that only what stands out is held.
"""

import json
import re
from dataclasses import replace
from functools import cache
from math import pi, sqrt
from xml.etree import ElementTree

import numpy as np
import pytest

from net3d import design
from net3d.catch.kept import Kept, curve_lengths
from net3d.catch.openings import (
    Opening,
    girth_in_rhomb,
    hanging_ratios,
    inside_of_mesh,
    stiff_hole,
)
from net3d.checks.checks import Level
from net3d.drawings.axes import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH
from net3d.drawings.kept_plot import kept_plot
from net3d.handbook.fish import body_by_girth, body_of
from net3d.spec import parse_spec, vary
from net3d.statics.profile import body_knots
from net3d.tables.kept import kept_of, kept_sheet
from net3d.units import Tape
from net3d.writers.report import report_text
from tests.nets import hoop_diameter, spec_text

INCH = 0.0254
TWINE = 1.4e-3  # m: about #15, which such nets are often tied of: common practice, no source
LOUISIANA = "Hoop net selectivity and catch rates for channel catfish, Proc. SEAFWA 1994, abstract"
RIVER = "Comparability of channel catfish stock descriptors, Proc. SEAFWA 1997, abstract"
FARMS = "Florida extension text on fingerlings of channel catfish, table 6: seine mesh and smallest fish held"
CATFISH = body_of("channel catfish")


def mesh(bar, body=CATFISH, twine=TWINE, ratio=0.6):
    soft = inside_of_mesh(2 * bar, twine)
    return Kept(
        Opening("mesh", None, False, girth_in_rhomb(bar, ratio, twine, body.flat), soft, 1.1 * soft), body
    )


@pytest.mark.published(source=RIVER)
@pytest.mark.parametrize(("bar", "fully"), [(0.0254, 0.30), (0.0381, 0.35)])
def test_fish_that_are_fully_caught_stay(bar, fully):
    kept = mesh(bar)
    assert kept.shares(fully)[1] > 0.95
    assert kept.shares(0.6 * fully)[1] < 0.5  # and by far not all of those that were caught less


@pytest.mark.published(source=LOUISIANA)
def test_the_coarser_of_two_meshes_keeps_few_of_the_short_fish():
    # Under 279.4 mm the 25.4 mm mesh caught 6.6 a day, the 31.8 mm mesh 0.2; above it they were alike.
    short, long = np.linspace(0.20, 0.2794, 40), 0.30
    fine, coarse = mesh(0.0254), mesh(0.0318)
    assert coarse.shares(short)[0].mean() < 0.25 * fine.shares(short)[0].mean()
    assert coarse.shares(long)[1] > 0.9 * fine.shares(long)[1]


@pytest.mark.published(source=FARMS)
@pytest.mark.parametrize(("seine", "held", "let_go"), [(0.75, 7, 5), (1, 10, 6)])
def test_seines_hold_the_fingerlings_they_are_made_for(seine, held, let_go):
    # The table's next smaller class goes through; its own, 6 to 7 and 8 to 10 in long, is held.
    kept = mesh(seine * INCH, twine=0.8e-3)
    assert kept.shares(held * INCH)[1] > 0.9
    assert kept.shares(let_go * INCH)[1] < 0.1


@pytest.mark.second_route
@pytest.mark.parametrize("flat", [1.0, 0.6, 0.3])
@pytest.mark.parametrize("ratio", [0.3, 0.5, sqrt(0.5), 0.9])
def test_the_ellipse_in_a_rhomb_is_found_by_search_too(flat, ratio):
    bar, twine = 0.05, 0.002
    p, q = bar * ratio, bar * sqrt(1 - ratio**2)
    clear = 1 - twine / 2 / (p * q / bar)  # of what is between the twines' middles
    turns = np.linspace(0, 2 * pi, 2001)

    def largest(one, other):
        """The largest s whose ellipse lies in the rhomb, point by point."""
        return clear / np.max(np.abs(np.cos(turns)) / one + flat * np.abs(np.sin(turns)) / other)

    long = max(largest(p, q), largest(q, p))
    x, y = long * np.cos(turns), flat * long * np.sin(turns)
    around = np.hypot(np.diff(x), np.diff(y)).sum()
    assert girth_in_rhomb(bar, ratio, twine, flat) == pytest.approx(around, rel=1e-4)


@pytest.mark.closed_form
def test_a_mesh_by_hand():
    # Hung square a mesh holds a circle as wide as a bar. Two halves of a knot of 3 d are off its opening.
    assert girth_in_rhomb(0.05, sqrt(0.5), 0.0, 1.0) == pytest.approx(pi * 0.05)
    assert inside_of_mesh(0.1, 0.002) == pytest.approx(2 * (0.1 - 0.006))
    assert girth_in_rhomb(0.05, 1.0, 0.002, 1.0) == 0.0  # pulled shut
    assert girth_in_rhomb(0.01, 0.1, 0.004, 1.0) == 0.0  # twine fills it


@cache
def made(fish="girth = [0.24, 0.4]", more="", twine="#15", mesh=0.1):
    size = hoop_diameter(16, 0.1, 0.5)
    throat = {"hoop": 1, "deep": 2, "tip": 6, "strings": {"to_hoop": 3}, "stretched": mesh}
    net = {
        "diameters": (size,) * 3,
        "deep": (5, 5),
        "throats": [throat],
        "tail": 3,
        "pull": 100,
        "twine": twine,
    }
    return design(parse_spec(spec_text(**net, extra=f"[fish]\n{fish}\n{more}")))


@pytest.mark.closed_form
def test_meshes_hang_at_hoops_as_wide_as_their_knots_are_apart():
    net = made()
    ratios = hanging_ratios(net.netting, net.shape, body_knots(net.netting), net.plan.stretched_mesh)
    chord = net.plan.hoops[0].knot_circle_diameter * np.sin(pi / 16)
    assert ratios[0] == pytest.approx(chord / 0.1, rel=1e-3)
    assert ratios.min() < 0.9 * ratios[0]  # and narrower in waist and tail


@pytest.mark.closed_form
def test_half_of_the_fish_that_fit_a_hole_just_so_stay():
    kept = Kept(Opening("ring", None, False, 0.10, 0.12, 0.14), body_of("perch"))
    for girth, place in ((0.14, 0), (0.12, 1), (0.10, 2)):
        assert kept.shares(kept.body.length(girth))[place] == pytest.approx(0.5)
    # One in 40 is smaller than twice the spread says: the normal law's table
    assert kept.shares(kept.length_at(0.9772499, 0.12))[1] == pytest.approx(0.97725, abs=1e-5)
    longest = kept.body.length(0.12 * np.exp(2 * kept.body.spread))
    assert kept.length_at(0.9772499, 0.12) == pytest.approx(longest, rel=1e-4)
    # Where the head just fits, half of the fish wedge, and as good as none gets through.
    assert kept.wedged(kept.body.length(0.12 / kept.body.head)) == pytest.approx(0.486, abs=0.002)


@pytest.mark.law
@pytest.mark.parametrize("name", ["bream", "pike", "round"])
def test_longer_fish_stay_rather_and_larger_holes_keep_less(name):
    lengths = np.linspace(0.05, 0.9, 50)
    small, large = mesh(0.03, body_of(name)), mesh(0.04, body_of(name))
    for kept in (small, large):
        least, likely, most = kept.shares(lengths)
        assert (np.diff(likely) >= 0).all()
        assert ((least <= likely) & (likely <= most)).all()
        assert ((kept.wedged(lengths) >= 0) & (kept.wedged(lengths) <= likely)).all()
    assert (large.shares(lengths)[1] <= small.shares(lengths)[1]).all()


def test_rigid_holes_have_one_girth_unless_fish_struggle():
    ring = stiff_hole("ring", 0.2)
    assert ring.stiff == ring.soft == 0.2 < ring.forced


def found(net, code):
    return next((one for one in net.findings if one.code == code), None)


# A mesh of 100 mm is 19.1 cm around inside, of #15.
@pytest.mark.parametrize(
    ("fish", "level"),
    [('length = [0.45, 0.6]\nspecies = "round"', Level.CAUTION),  # 20.2 cm around: 6 % are over 19.1
     ('length = [0.55, 0.6]\nspecies = "round"', Level.OK)],
)  # fmt: skip
def test_small_fish_that_get_through_are_told(fish, level):
    assert found(made(fish), "mesh-passes").level is level


@pytest.mark.parametrize(("mesh", "level"), [(0.1, None), (0.11, Level.OK), (0.14, Level.CAUTION)])
def test_meshes_of_a_throat_that_are_larger_than_the_bodys_are_a_way_out(mesh, level):
    """Of #15 meshes of 110 mm are 21.2 cm around inside, of 140 mm 27.2; fish of 55 cm about 24.7."""
    net = made('length = [0.55, 0.6]\nspecies = "round"', mesh=mesh)
    told = [one for one in net.findings if one.code == "mesh-passes" and one.part]
    assert [one.level for one in told] == ([level] if level else [])
    for one in told:
        assert "meshes of throat 1" in one.message
        assert one.value == pytest.approx(1.0 - kept_of(net)[1].shares(0.55)[1])


def test_what_each_finding_says():
    wedged = found(made('length = [0.5, 0.6]\nspecies = "compressed"'), "mesh-wedges")
    assert wedged.level is Level.OK
    assert found(made("girth = 0.21"), "mesh-wedges").level is Level.CAUTION  # its head is 18.5 cm around
    assert found(made("girth = 0.19"), "mesh-passes") is None  # told as a doubt already
    assert found(made("girth = 0.19"), "doubt-fish")


def test_a_ring_of_the_size_that_is_told_lets_short_fish_out():
    """Half of the fish at the limit pass it, and of those a tenth shorter most."""
    limit = "[limits]\nfish_min = 0.6"
    told = found(made('length = [0.5, 0.6]\nspecies = "round"', limit), "local-fish")
    ring = re.search(r"a ring of ([\d.]+) m inside", told.message)[1]
    rings = f'[[escape]]\nkind = "rings"\nbehind = 1\ninside = {ring}\n'
    net = made('length = [0.5, 0.6]\nspecies = "round"', f"{limit}\n{rings}")
    assert found(net, "local-fish").level is Level.OK
    out = next(one for one in kept_of(net) if one.opening.name == "escape 1")
    assert float(out.shares(0.6)[1]) == pytest.approx(0.5, abs=0.05)
    assert out.opening.soft == pytest.approx(pi * float(ring))


@pytest.mark.parametrize(("least", "level"), [(0.45, Level.OK), (0.6, Level.CAUTION)])
def test_fish_that_must_be_put_back_are_told(least, level):
    net = made('length = [0.5, 0.6]\nspecies = "round"', f"[limits]\nfish_min = {least}")
    finding = found(net, "local-fish")
    assert finding.level is level
    girth = float(net.spec.fish.body.girth(least))
    ring = Tape("m").length(girth / pi)
    assert (f"a ring of {ring} inside" in finding.message) is (level is Level.CAUTION)
    assert found(made(more=f"[limits]\nfish_min = {least}"), "local-fish") is None  # fish by girth alone


@pytest.mark.second_route
def test_the_plot_is_drawn_by_the_shares():
    net = made('length = [0.45, 0.6]\nspecies = "perch"')
    kept = kept_of(net)
    drawing = ElementTree.fromstring(kept_plot("A net", Tape("m"), net.spec.fish, kept))
    svg = "{http://www.w3.org/2000/svg}"
    line = drawing.find(f"{svg}polyline").get("points").split()
    x, y = np.array([list(map(float, place.split(","))) for place in line]).T
    ticks = [float(t.text) for t in drawing.findall(f"{svg}text")
             if t.get("text-anchor") == "middle" and t.text.replace(".", "").isdigit()]  # fmt: skip
    lengths = min(ticks) + (x - LEFT) / (WIDTH - LEFT - RIGHT) * (max(ticks) - min(ticks))
    assert lengths == pytest.approx(curve_lengths(net.spec.fish, kept), abs=0.001)
    shares = (HEIGHT - BOTTOM - y) / (HEIGHT - TOP - BOTTOM)
    assert shares == pytest.approx(kept[0].shares(curve_lengths(net.spec.fish, kept))[1], abs=0.001)


def test_tables_and_report_say_the_same():
    net = made('length = [0.45, 0.6]\nspecies = "perch"')
    kept = kept_of(net)
    rows = kept_sheet(net, kept).records
    assert [row["way"] for row in rows] == ["out", "in"]
    assert rows[0]["half_stiff"] < rows[0]["half"] < rows[0]["nearly_all_stay"]
    report = json.loads(report_text(net))["kept"]
    stay = np.interp(rows[0]["half"], report["fish_m"], report["openings"][0]["stay"])
    assert stay == pytest.approx(0.5, abs=0.02)
    assert "kept" not in json.loads(report_text(design(vary(net.spec, {"fish": None}))))


def test_what_hangs_without_fish_or_shape_keeps_nothing():
    net = made()
    assert kept_of(replace(net, spec=vary(net.spec, {"fish": None}))) == ()
    assert body_by_girth().spread == 0.0
