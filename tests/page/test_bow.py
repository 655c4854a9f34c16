"""A bow drawn larger than it is: what every point adds for it, and what the page shows."""

from base64 import b64decode

import numpy as np
import pytest

import net3d
from net3d.page.page import page_html
from net3d.page.pulls import scale_top
from net3d.page.scene import scene_of
from net3d.spec import parse_spec
from tests.page.conftest import BLANK, DAY, DESKTOP, PHONE, WRITTEN, small
from tests.page.test_scene import knots_of
from tests.page.test_view import PAPER, ink

PICK = (
    "const box = document.querySelector('#bow select'); box.value = arguments[0];"
    "box.dispatchEvent(new Event('change', {bubbles: true}))"
)


@pytest.fixture(scope="module")
def scene(bowed_design):
    return scene_of(bowed_design, scale_top(bowed_design))


@pytest.fixture(scope="module")
def departures(scene):
    """Along the net and outward (n, 2) [m], unpacked as the viewer does."""
    leans = np.frombuffer(b64decode(scene["bow"]["leans"]), "<u2").astype(int)
    return (np.column_stack([leans // 256, leans % 256]) - 128) * np.array(scene["bow"]["steps"])


def straightened(scene, departures):
    """All points without their departures: along the net, from the axis (n,), and angles from the top."""
    x, y, z = knots_of(scene).T
    return x - departures[:, 0], np.hypot(y, z) - departures[:, 1], np.arctan2(-y, z)


def ring_of(scene, number):
    (group,) = [group for group in scene["groups"] if group["part"] == f"hoop-{number}"]
    return slice(group["first"], group["first"] + group["count"])


def names_of_knots(netting):
    return np.array([part.name for part in netting.parts])[netting.knot_parts]


def mean_radius(hoop):
    """A rod that is bent out of round is as long as before, so that its mean radius is less."""
    m, a = 2, hoop.outline.oval.height / 2
    return hoop.outside_diameter / 2 - m**2 * a**2 / (2 * hoop.outside_diameter)


def test_a_hoop_without_its_departure_is_flat_and_round(scene, departures, bowed_design):
    """And so are its knots: they sit a rod's thickness inside the outside."""
    netting, step = bowed_design.netting, scene["step"] + max(scene["bow"]["steps"])
    along, out, _ = straightened(scene, departures)
    for hoop, x in zip(bowed_design.plan.hoops, bowed_design.shape.hoop_positions, strict=True):
        ring = ring_of(scene, hoop.number)
        row = (netting.knot_carriers == hoop.number - 1) & (netting.knot_rows == hoop.knot_row)
        knots = np.flatnonzero(row & np.char.startswith(names_of_knots(netting), "sec"))
        assert len(knots) == 44
        assert np.abs(along[ring] - x).max() < step
        assert np.abs(along[knots] - x).max() < step
        assert np.abs(out[ring] - (mean_radius(hoop) - hoop.rod_diameter / 2)).max() < step
        assert np.abs(out[knots] - (mean_radius(hoop) - hoop.rod_diameter)).max() < step


def test_what_was_measured_departs_so_far(scene, departures):
    """Gaps 0 to 1/2 in swing by 1/4 in; diameters 34 to 33 1/2 in a radius by 1/8 in. Hoops lean besides."""
    inch = 0.0254
    bowed, oval = (departures[ring_of(scene, number)] for number in (2, 4))
    assert np.ptp(bowed[:, 0]) == pytest.approx(inch / 2, rel=0.15)
    assert np.abs(bowed[:, 1]).max() == 0
    assert np.ptp(oval[:, 1]) == pytest.approx(inch / 4, rel=0.02)


def test_knots_between_hoops_take_a_part_of_either(scene, departures, bowed_design):
    """Linear in the rows of bars, at a knot's own place around."""
    netting, plan = bowed_design.netting, bowed_design.plan
    angles = straightened(scene, departures)[2] % (2 * np.pi)
    body = np.char.startswith(names_of_knots(netting), "section")

    def of_hoop(number, at):
        ring = ring_of(scene, number)
        order = np.argsort(angles[ring])
        told = departures[ring][order]
        return np.column_stack([np.interp(at, angles[ring][order], one, period=2 * np.pi) for one in told.T])

    for first, second in zip(plan.hoops[:-1], plan.hoops[1:], strict=True):
        deep = second.knot_row - first.knot_row
        row = first.knot_row + 4
        knots = np.flatnonzero(body & (netting.knot_rows == row))
        at = angles[knots]
        wanted = (1 - 4 / deep) * of_hoop(first.number, at) + 4 / deep * of_hoop(second.number, at)
        assert np.abs(departures[knots] - wanted).max() < 1.5 * max(scene["bow"]["steps"])


def test_ends_do_not_depart(scene, departures, bowed_design):
    netting = bowed_design.netting
    parts = names_of_knots(netting)
    tip = netting.knot_rows == netting.knot_rows[parts == "throat-1"].max()
    ends = [
        (parts == "tail") & (netting.knot_rows == netting.knot_rows[parts == "tail"].max()),
        (parts == "throat-1") & tip,
        parts == "anchor-line",
        (parts == "bridle") & (netting.knot_carriers < 0),
    ]
    for end in ends:
        assert end.any()
        assert np.abs(departures[: len(parts)][end]).max() < 1e-9


def test_pages_of_flat_nets_know_nothing_of_it(bowed_page):
    design = net3d.design(parse_spec(small()))
    flat = page_html(design, DAY, picture=BLANK)
    assert 'id="bow"' not in flat
    assert "times as large" not in flat
    assert '"leans"' not in flat
    assert 'id="bow"' in bowed_page.read_text("utf-8")
    assert "bow" not in scene_of(design, scale_top(design))


def test_measured_and_found_flat_is_flat():
    spec = parse_spec(small().replace("repeat = 3", "repeat = 3\ngaps = [1, 1, 1, 1, 1, 1]"))
    made = net3d.design(spec)
    assert "bow" not in scene_of(made, scale_top(made))


def runs(picture):
    """First and last column [pixels] of every run of columns that have ink (k, 2)."""
    columns = (np.abs(np.asarray(picture, int) - PAPER).max(axis=2) > 12).any(axis=0)
    edges = np.diff(np.concatenate([[False], columns, [False]]).astype(int))
    return np.column_stack([np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)])


def test_the_box_says_what_is_drawn(offline, bowed_page):
    offline.open(bowed_page.as_uri())
    said = offline.ask("return [...document.querySelectorAll('#bow option')].map((one) => one.textContent)")
    assert said[:3] == [
        "Shape as it is",
        "Bow and oval drawn 2 times as large",
        "Bow and oval drawn 5 times as large",
    ]
    assert offline.ask("return document.querySelector('#bow select').selectedIndex") == 0
    start = offline.net()
    assert offline.ask("return document.getElementById('bowed').innerText") == ""
    offline.do(PICK, "5")
    assert offline.net() != start
    told = offline.driver.find_element("id", "bowed")
    assert told.is_displayed()
    assert told.text == said[2]
    offline.do(PICK, "1")
    assert offline.net() == start
    assert offline.complaints() == []


def test_a_bowed_hoop_is_drawn_wider_and_others_are_not(offline, bowed_page, bowed_design):
    offline.open(bowed_page.as_uri())
    offline.click("[data-view=side]")
    offline.only("hoop")
    seen = []
    for times in ("1", "10", "20"):
        offline.do(PICK, times)
        seen.append(runs(offline.net()))
    assert [len(found) for found in seen] == [5, 5, 5]
    widths = np.array([found[:, 1] - found[:, 0] for found in seen])
    assert np.abs(widths[:, [0, 2, 4]] - widths[0, [0, 2, 4]]).max() <= 2
    # From 10 to 20 times, 1/2 in of bow adds 5 in. The scale is that of the hoops' middles; the near side of
    # the hoop is a tenth nearer to the eye, and so a tenth larger.
    middles = seen[0].mean(axis=1)
    pixels = (middles[-1] - middles[0]) / bowed_design.shape.length
    assert widths[2, 1] - widths[1, 1] == pytest.approx(10 * 0.5 * 0.0254 * pixels, rel=0.15)


def test_a_hoops_size_stays_over_its_top_however_large_its_bow(offline, bowed_page):
    """The top of hoop 2 is bowed by 1/4 in: 20 times as large it stands 5 in away, and so does its size."""

    def middle_of(number):
        left, _, right, _ = next(one["box"] for one in offline.ask(WRITTEN) if one["number"] == number)
        return (left + right) / 2

    offline.open(bowed_page.as_uri(), DESKTOP)
    offline.click("[data-view=side]")
    offline.do(PICK, "20")
    told = middle_of("2")
    offline.only("hoop")
    drawn = np.abs(np.asarray(offline.net(), int) - PAPER).max(axis=2) > 12
    left, right = runs(offline.net())[1]
    top = np.argwhere(drawn[:, left : right + 1])[0, 1] + left
    assert abs(told - top) < 8
    assert abs(top - (left + right) / 2) > 16  # pixels: by far more than that is it off the middle


def test_every_view_holds_the_whole_net_however_large_its_bow(offline, bowed_page):
    """Along the canvas's edge there is paper, but for the anchor line, which is drawn running out."""
    offline.open(bowed_page.as_uri())
    offline.click("#parts input[value=anchor-line]")
    times = offline.ask("return [...document.querySelectorAll('#bow option')].at(-1).value")
    offline.do(PICK, times)
    for view in ("side", "mouth", "tail", "quarter"):
        offline.click(f"[data-view={view}]")
        picture = np.asarray(offline.net(), int)
        edge = np.concatenate([picture[0], picture[-1], picture[:, 0], picture[:, -1]])
        assert np.abs(edge - PAPER).max() <= 12, view


def test_the_eye_stays_where_the_reader_put_it(offline, bowed_page):
    offline.open(bowed_page.as_uri())
    start = offline.net()
    offline.key("+")
    nearer = offline.net()
    offline.do(PICK, "5")
    offline.do(PICK, "1")
    assert offline.net() == nearer != start


def test_the_box_fits_a_phone(offline, bowed_page):
    offline.open(bowed_page.as_uri(), PHONE, touch=True)
    assert offline.ask("return document.documentElement.scrollWidth") == PHONE[0]
    box = offline.ask("return document.querySelector('#bow select').getBoundingClientRect().toJSON()")
    assert box["height"] >= 40  # CSS pixels: common practice, no source
    assert 0 < box["left"] < box["right"] < PHONE[0] - 15
    offline.do(PICK, "5")
    assert ink(offline.net()) > 0.05
