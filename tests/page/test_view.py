"""The net in the page: drawn, turned, cut open, coloured; from disk, with the network off."""

import io
import time
from base64 import b64decode
from itertools import pairwise

import numpy as np
import pytest
from PIL import Image

from net3d.page import page as page_module
from net3d.page import scene
from tests.page.conftest import DESKTOP, PHONE, page_file

PAPER = (243, 245, 241)  # --net-paper of the light page
MOST_BYTES = 400_000


def ink(picture):
    """Part of a picture that is not paper."""
    return float((np.abs(np.asarray(picture, int) - PAPER).max(axis=2) > 12).mean())


def like(picture, low, high):
    """How many pixels lie between two colours."""
    return int(((np.asarray(picture) >= low) & (np.asarray(picture) <= high)).all(axis=2).sum())


def test_the_page_opens_from_disk_without_a_network(offline, page):
    offline.open(page.as_uri(), DESKTOP)
    assert offline.complaints() == []
    assert offline.ask("return performance.getEntriesByType('resource').map((entry) => entry.name)") == []
    assert offline.ask("return document.title") == "Backwater 36"
    assert page.stat().st_size < MOST_BYTES


def test_parts_go_on_and_off(offline, page):
    offline.open(page.as_uri())
    whole = offline.net()
    assert ink(whole) > 0.05
    offline.click("#parts input[value=section]")
    assert ink(offline.net()) < ink(whole)
    offline.click("#sizes")
    for value in offline.ask(
        "return [...document.querySelectorAll('#parts input:checked')].map((i) => i.value)"
    ):
        offline.click(f"#parts input[value={value}]")
    assert offline.net().getcolors() == [(whole.width * whole.height, PAPER)]
    offline.click("#parts input[value=hoop]")
    assert 0 < ink(offline.net()) < ink(whole)


def test_the_near_half_cut_away_shows_the_throats(offline, page):
    def orange():
        return like(offline.net(), (200, 80, 0), (255, 190, 140))

    offline.open(page.as_uri())
    offline.click("[data-view=side]")
    closed = orange()
    offline.click("#cut")
    assert orange() > 1.2 * closed


def test_tension_is_coloured_with_a_scale_and_slack_stands_out(offline, page):
    def magenta():
        return like(offline.net(), (200, 0, 110), (255, 130, 190))

    offline.open(page.as_uri())
    legend = offline.driver.find_element("id", "legend")
    assert not legend.is_displayed()
    assert magenta() == 0
    offline.click("#tension")
    assert legend.is_displayed()
    assert "lbf" in legend.text
    assert magenta() > 100
    assert "A throat carries only what its strings pull" in legend.text


def test_it_is_drawn_only_when_something_changes(offline, page):
    offline.open(page.as_uri())
    offline.wait(lambda: not offline.ask("return new Promise((r) => requestAnimationFrame(() => r(0)))"))
    before, start = offline.frames(), offline.net()
    assert offline.ask("return new Promise((done) => setTimeout(() => done(true), 400))")
    assert offline.frames() == before
    offline.key("ArrowLeft")
    assert offline.frames() == before + 1
    assert offline.net() != start


def test_keys_turn_move_and_zoom_and_a_view_brings_back(offline, page):
    offline.open(page.as_uri())
    seen = [offline.net()]
    keys = [("ArrowLeft", False), ("ArrowUp", False), ("ArrowRight", True), ("+", False)]
    for key, shift in keys:
        offline.key(key, shift)
        seen.append(offline.net())
    assert all(before != after for before, after in pairwise(seen))
    offline.click("[data-view=quarter]")
    assert offline.net() == seen[0]


def test_the_view_is_marked_and_reset_brings_all_back(offline, page):
    def marked():
        return offline.ask(
            "return [...document.querySelectorAll('[aria-pressed=true]')].map((one) => one.dataset.view)"
        )

    offline.open(page.as_uri())
    start, hint = offline.net(), offline.driver.find_element("id", "hint")
    assert hint.is_displayed()
    assert marked() == ["quarter"]
    offline.click("[data-view=side]")
    assert marked() == ["side"]
    offline.key("ArrowLeft")
    assert marked() == []
    assert not hint.is_displayed()
    offline.click("#cut")
    offline.click("#parts input[value=hoop]")
    offline.click("#afresh")
    assert marked() == ["quarter"]
    assert offline.net() == start


def test_one_looks_straight_into_the_mouth(offline, page):
    """Of hoops alone, seen along their axis, there are five circles, one in the other."""
    offline.open(page.as_uri())
    offline.only("hoop")
    offline.click("[data-view=mouth]")
    drawn = np.abs(np.asarray(offline.net(), int) - PAPER).max(axis=2) > 12
    rows, columns = np.flatnonzero(drawn.any(axis=1)), np.flatnonzero(drawn.any(axis=0))
    assert np.ptp(columns) == pytest.approx(np.ptp(rows), rel=0.02)
    assert columns.mean() == pytest.approx(drawn.shape[1] / 2, abs=2)
    assert np.ptp(rows) > 0.7 * drawn.shape[0]
    middle = drawn[int(rows.mean())]
    assert (np.diff(middle.astype(int)) == 1).sum() == 10  # five hoops, one in the other


def test_a_large_net_is_thinned_while_it_turns(offline, design, tmp_path, monkeypatch):
    """One bar in several is drawn while it moves, and all of them when it rests."""
    whole = page_module.joined
    monkeypatch.setattr(
        page_module, "joined", lambda names: whole(names).replace("LIVELY = 20000", "LIVELY = 2000")
    )
    path = page_file(design, tmp_path / "page.html")
    offline.open(path.as_uri())
    offline.click("#sizes")
    before, frames = offline.net(), offline.frames()
    thin = offline.ask(
        "const net = document.getElementById('net');"
        "for (const key of ['ArrowLeft', 'ArrowRight'])"
        "  net.dispatchEvent(new KeyboardEvent('keydown', {key, cancelable: true}));"
        "return new Promise((done) => requestAnimationFrame(() => { done(net.toDataURL()); }))"
    )
    offline.wait(lambda: offline.frames() == frames + 2)
    assert offline.net() == before
    moving = Image.open(io.BytesIO(b64decode(thin.partition(",")[2]))).convert("RGB")
    assert 0 < ink(moving) < 0.7 * ink(before)


def test_a_finger_scrolls_the_page_and_held_still_turns_the_net(offline, page):
    def at_rest():
        before = offline.ask("return scrollY")
        time.sleep(0.2)
        return offline.ask("return scrollY") == before

    def drag(*steps, still=0.0):
        places = [{"x": x, "y": y} for x, y in steps]
        offline.tell("Input.dispatchTouchEvent", type="touchStart", touchPoints=places[:1])
        time.sleep(still)
        for place in places[1:]:
            offline.tell("Input.dispatchTouchEvent", type="touchMove", touchPoints=[place])
        offline.tell("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])
        offline.wait(at_rest)

    offline.open(page.as_uri(), PHONE, touch=True)
    start, up = offline.net(), [(200, 400 - 20 * step) for step in range(12)]
    drag(*up)
    assert offline.ask("return scrollY") > 100
    offline.ask("scrollTo(0, 0)")
    assert offline.net() == start
    drag(*up, still=0.5)
    assert offline.ask("return scrollY") == 0
    assert offline.net() != start


def test_a_phone_on_its_side_leaves_the_page_in_reach(offline, page):
    offline.open(page.as_uri(), (844, 390), touch=True)
    assert offline.ask("return document.getElementById('net').clientHeight") < 0.8 * 390


def test_every_view_shows_the_whole_net(offline, page):
    """Along the canvas's edge there is paper, but for the anchor line, which is drawn running out."""
    offline.open(page.as_uri())
    offline.click("#parts input[value=anchor-line]")
    for view in ("side", "mouth", "tail", "quarter"):
        offline.click(f"[data-view={view}]")
        picture = np.asarray(offline.net(), int)
        edge = np.concatenate([picture[0], picture[-1], picture[:, 0], picture[:, -1]])
        assert np.abs(edge - PAPER).max() <= 12, view


def test_fingers_turn_and_zoom_on_a_phone(offline, page):
    offline.open(page.as_uri(), PHONE, touch=True)

    def touch(kind, *places):
        points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(places)]
        offline.tell("Input.dispatchTouchEvent", type=kind, touchPoints=points)

    start = offline.net()
    touch("touchStart", (150, 300))
    touch("touchMove", (200, 300))
    touch("touchEnd")
    turned = offline.net()
    assert turned != start
    touch("touchStart", (150, 300), (220, 300))
    touch("touchMove", (110, 300), (260, 300))
    touch("touchEnd")
    assert ink(offline.net()) > 1.1 * ink(turned)


def test_a_phone_does_not_scroll_sideways_and_fingers_meet_their_targets(offline, page):
    offline.open(page.as_uri(), PHONE, touch=True)
    assert offline.ask("return document.documentElement.scrollWidth") == PHONE[0]
    heights = offline.ask(
        "return [...document.querySelectorAll('button, .controls label, summary')]"
        "  .filter((one) => one.checkVisibility()).map((one) => one.offsetHeight)"
    )
    assert min(heights) >= 40  # CSS pixels: common practice, no source
    assert offline.complaints() == []


def test_a_net_of_very_many_knots_looks_no_other(offline, page, design, tmp_path, monkeypatch):
    """Knot numbers of 32 bits, which only large nets need, draw the same net."""
    monkeypatch.setattr(scene, "NARROW", 1000)
    wide = page_file(design, tmp_path / "wide.html")
    offline.open(page.as_uri())
    narrow = offline.net()
    offline.open(wide.as_uri())
    assert offline.ask("return JSON.parse(document.getElementById('scene').textContent).wide")
    assert offline.net() == narrow
