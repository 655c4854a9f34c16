"""At the bench: the order of work, marks and rows one by one, on a phone, and what the phone remembers."""

import math
from fractions import Fraction

import pytest

from net3d.page.bench import bench_of, chapters_of
from tests.nets import sample
from tests.page.conftest import PHONE
from tests.workshop.test_page import CONTRAST, UNNAMED

pytestmark = pytest.mark.xdist_group("browser")
BENCH = "#one-by-one"


def inches(text):
    """A reading as the tape has it."""
    return sum((Fraction(part) for part in text.split()), Fraction())


class Bench:
    """Somebody at the bench, with a phone."""

    def __init__(self, viewer, page, size=PHONE):
        self.viewer, self.ask, self.address = viewer, viewer.ask, page.as_uri() + BENCH
        viewer.open(self.address, size, touch=True)

    def choose(self, name):
        """Begin the work that is called so."""
        self.ask(
            "const what = document.getElementById('bench-what');"
            "what.value = [...what.options].find(({text}) => text.startsWith(arguments[0])).value;"
            "what.dispatchEvent(new Event('change', {bubbles: true}))",
            name,
        )

    def tap(self):
        """Touch the screen somewhere in its middle."""
        x, y = self.ask("return [innerWidth / 2, innerHeight / 2]")
        for kind, points in (("touchStart", [{"x": x, "y": y}]), ("touchEnd", [])):
            self.viewer.tell("Input.dispatchTouchEvent", type=kind, touchPoints=points)

    def press(self, name):
        """Press a button."""
        self.ask("document.getElementById(`bench-${arguments[0]}`).click()", name)

    def reads(self, name):
        """What is read there."""
        return self.ask("return document.getElementById(`bench-${arguments[0]}`).textContent", name)

    def key(self, key):
        """Press a key."""
        for kind in ("rawKeyDown", "keyUp"):
            self.viewer.tell("Input.dispatchKeyEvent", type=kind, key=key, code=key, windowsVirtualKeyCode=27)


@pytest.mark.closed_form
def test_all_marks_of_a_hoop_by_taps_alone_and_remembered(offline, page):
    """By pi D / N from mark to mark, D 36 in and N 44, to the nearest sixteenth (arithmetic)."""
    bench = Bench(offline, page)
    offline.ask("localStorage.clear()")
    bench.choose("Hoop 1")
    assert "clockwise as seen from the mouth" in bench.reads("large")
    assert "bent hoop springs back" in bench.reads("caution")
    wide = []
    for mark in range(44):
        bench.tap()
        offline.wait(lambda mark=mark: bench.reads("label") == f"mark {mark + 1} of 44 (in)")
        assert abs(inches(bench.reads("large")) - math.pi * 36 / 44 * mark) <= Fraction(1, 32)
        wide.append(bench.ask("return parseFloat(document.getElementById('bench-large').style.fontSize)"))
    assert min(wide) > 100  # of 844 pixels: seen from where one stands
    bench.tap()
    offline.wait(lambda: bench.reads("large") == "All done")
    assert bench.ask("return document.getElementById('bench-what').selectedOptions[0].text").endswith(
        ", 45 of 45"
    )
    offline.open(bench.address, PHONE, touch=True)
    assert bench.reads("large") == "All done"  # the phone remembers the hoop and its ticks
    bench.press("back")
    assert bench.reads("label") == "mark 44 of 44 (in), done"
    bench.press("later")
    assert bench.reads("large") == "1 left open"
    assert bench.reads("more") == "mark 44 of 44 (in)"
    bench.press("anew")
    assert bench.ask("return document.getElementById('bench-what').selectedOptions[0].text").endswith(
        ", 0 of 45"
    )
    assert offline.complaints() == []


def test_the_screen_is_kept_to_and_named_and_closed(offline, page):
    """320 px, the narrowest that WCAG 2.1 asks for (criterion 1.4.10), and 390."""
    for size in ((320, 568), PHONE):
        bench = Bench(offline, page, size)
        for work in ("Order of work", "Hoop 5", "Knit throat 2"):
            bench.choose(work)
            for _ in range(9):
                bench.press("done")
            spread = "return [document.documentElement, ...document.querySelectorAll('dialog, dialog *')]"
            assert max(bench.ask(f"{spread}.map((one) => one.scrollWidth)")) <= size[0]
            assert bench.ask(CONTRAST.replace("main *, header *", "dialog *")) == []
        assert bench.ask(UNNAMED) == []
    offline.ask("document.getElementById('shop').open = true")
    bench.press("close")
    offline.ask("document.getElementById('bench-open').focus()")
    bench.press("open")
    assert bench.ask("return document.activeElement.id") == "bench-done"
    bench.key("Escape")
    offline.wait(lambda: not bench.ask("return document.getElementById('at-bench').open"))
    assert bench.ask("return document.activeElement.id") == "bench-open"
    frames = offline.frames()
    bench.choose("Hoop 2")
    assert offline.frames() == frames  # the view is not drawn anew for it


def test_a_browser_that_keeps_nothing_says_so(offline, page):
    refuse = "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no'); }})"
    script = offline.tell("Page.addScriptToEvaluateOnNewDocument", source=refuse)
    try:
        bench = Bench(offline, page)
        assert bench.ask("return document.getElementById('bench-unkept').checkVisibility()")
        first = bench.reads("label")
        bench.tap()
        offline.wait(lambda: bench.reads("label") != first)
    finally:
        offline.tell("Page.removeScriptToEvaluateOnNewDocument", identifier=script["identifier"])
    assert offline.complaints() == []


def test_every_row_is_a_step_and_every_text_comes_through():
    """Two rows of knots to a mesh: body of 31.5 meshes with its tail, throats as in the sample's text."""
    made = sample("backwater-36")
    chapters = {chapter.name: chapter.steps for chapter in chapters_of(made)}
    assert [step.label for step in chapters["Knit body"]] == ["cast on", *(f"row {n}" for n in range(1, 64))]
    assert chapters["Knit throat 1"][4].large == "5+6, 38+39"
    assert "gloves" in chapters["Knit body"][0].caution
    packed = bench_of(made)
    texts = packed["texts"]
    back = {
        name: [tuple(texts[place] for place in step) for step in steps] for name, *steps in packed["chapters"]
    }
    assert back == {
        name: [(step.label, step.large, step.more, step.caution) for step in steps]
        for name, steps in chapters.items()
    }


def test_pieces_of_sheet_are_cut_one_by_one():
    (order, cuts) = chapters_of(sample("brook-50"))[:2]
    assert cuts.name == "Cut the pieces"
    assert all("hot" in step.caution.lower() for step in cuts.steps)
    assert any("ISO" not in step.more and "left edge" in step.more for step in cuts.steps)
    assert order.steps[0].label == "step 1"
