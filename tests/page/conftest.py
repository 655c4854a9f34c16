"""A browser without a screen, WebGL2 in software, and pages of nets to open in it."""

import io
import os
import re
import shutil
import time
from base64 import b64decode
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date

import pypdfium2
import pytest
from PIL import Image
from selenium import webdriver
from selenium.webdriver.chrome.service import Service

import net3d
from net3d.page import page_html
from net3d.spec import parse_spec
from tests.commands.conftest import SMALL_NET
from tests.nets import OTHERS, SPECS, TELLING, sample

DAY = date(2025, 11, 25)
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--hide-scrollbars",
)
A4, LETTER = (8.27, 11.69), (8.5, 11.0)  # [in]
WRITTEN = (  # sizes over the view
    "return [...document.querySelectorAll('#labels span')].map((span) => ({text: span.textContent,"
    " number: span.querySelector('b')?.textContent ?? '', seen: span.style.visibility === 'visible',"
    " box: (({left, top, right, bottom}) => [left, top, right, bottom])(span.getBoundingClientRect())}))"
)
DESKTOP, SMALL, PHONE = (1280, 800), (800, 600), (390, 844)  # software GL takes its time for large ones


class Viewer:
    """A page as a reader uses it."""

    def __init__(self, driver):
        self.driver = driver

    def open(self, address, size=SMALL, touch=False):
        """Load a page in a window of a size [CSS pixels] and wait for the first picture of the net."""
        width, height = size
        self.tell(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=1,
            mobile=touch,
        )
        self.tell("Emulation.setTouchEmulationEnabled", enabled=touch)
        self.driver.get("about:blank")
        self.driver.get_log("browser")
        start = time.perf_counter()
        self.driver.get(str(address))
        self.wait(lambda: self.frames() or self.ask("return document.documentElement.className === ''"))
        return time.perf_counter() - start

    def tell(self, command, **keys):
        """Say something to the browser itself."""
        return self.driver.execute_cdp_cmd(command, keys)

    def ask(self, script, *values):
        """Run a script in the page and give what it returns."""
        return self.driver.execute_script(script, *values)

    def wait(self, what, seconds=60.0):
        """Wait until something holds."""
        until = time.monotonic() + seconds
        while not what():
            assert time.monotonic() < until, "waited in vain"
            time.sleep(0.03)

    def frames(self):
        """How often the net was drawn."""
        return int(self.ask("return document.getElementById('stage').dataset.frames ?? 0"))

    def do(self, script, *values):
        """Run a script and wait until the net is drawn anew."""
        before = self.frames()
        self.ask(script, *values)
        self.wait(lambda: self.frames() > before)

    def only(self, kind):
        """Show nothing but one kind of parts, and no sizes."""
        self.do(
            "for (const box of document.querySelectorAll('#parts input, #sizes'))"
            "  box.checked = box.value === arguments[0] && box.id !== 'sizes';"
            "document.getElementById('sizes').dispatchEvent(new Event('change', {bubbles: true}))",
            kind,
        )

    def click(self, rule):
        """Click what a style sheet's rule finds."""
        self.do("document.querySelector(arguments[0]).click()", rule)

    def key(self, name, shift=False):
        """Press a key on the net."""
        press = "document.getElementById('net').dispatchEvent(new KeyboardEvent('keydown', arguments[0]))"
        self.do(press, {"key": name, "shiftKey": shift, "bubbles": True, "cancelable": True})

    def net(self):
        """What the canvas shows, without the words over it."""
        words = (
            "for (const one of document.querySelectorAll('#labels, #stage > p'))"
            " one.style.display = arguments[0]"
        )
        self.ask(words, "none")
        shot = self.driver.find_element("id", "net").screenshot_as_png
        self.ask(words, "")
        return Image.open(io.BytesIO(shot)).convert("RGB")

    def shot(self, *, whole=False):
        """The window, or the whole page however long, as PNG."""
        keys = {"format": "png", "captureBeyondViewport": whole}
        if whole:
            size = self.tell("Page.getLayoutMetrics")["cssContentSize"]
            keys["clip"] = {"x": 0, "y": 0, "width": size["width"], "height": size["height"], "scale": 1}
        return b64decode(self.tell("Page.captureScreenshot", **keys)["data"])

    def pdf(self, size):
        """What the page prints on paper of a size [in]."""
        width, height = size
        return b64decode(self.tell("Page.printToPDF", paperWidth=width, paperHeight=height)["data"])

    def complaints(self):
        """What the console says of errors, breaches of the page's policy among them."""
        return [entry["message"] for entry in self.driver.get_log("browser") if entry["level"] == "SEVERE"]


@contextmanager
def browser(profile):
    """A browser that keeps what it must in a folder of its own."""
    options = webdriver.ChromeOptions()
    options.binary_location = shutil.which("chromium")
    for flag in (*FLAGS, f"--user-data-dir={profile}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    driver = webdriver.Chrome(options=options, service=Service(shutil.which("chromedriver")))
    try:
        yield driver
    finally:
        driver.quit()


@pytest.fixture(scope="session")
def driver(tmp_path_factory):
    if not (shutil.which("chromium") and shutil.which("chromedriver")):
        missing = "needs Debian's chromium and chromium-driver"
        if os.environ.get("CI") == "true":
            pytest.fail(missing)
        pytest.skip(missing)
    with browser(tmp_path_factory.mktemp("browser")) as driver:
        yield driver


@pytest.fixture
def viewer(driver):
    """The browser with its network."""
    return Viewer(driver)


@pytest.fixture
def offline(viewer):
    """The browser with its network off."""
    viewer.tell("Network.enable")
    conditions = {"latency": 0, "downloadThroughput": -1, "uploadThroughput": -1}
    viewer.tell("Network.emulateNetworkConditions", offline=True, **conditions)
    yield viewer
    viewer.tell("Network.emulateNetworkConditions", offline=False, **conditions)


BLANK = Image.new("RGB", (1000, 625), "white")  # a picture that takes no time


def page_file(made, path):
    """The page of a net as a file, with a blank picture."""
    path.write_text(page_html(made, DAY, picture=BLANK), "utf-8")
    return path


@pytest.fixture(
    scope="session",
    params=[pytest.param(TELLING, id="telling"), pytest.param(OTHERS, id="others", marks=pytest.mark.slow)],
)
def looked_at(request, driver, tmp_path_factory):
    """What samples' pages show and print: each is opened once on a desktop and once on a phone."""
    folder, found = tmp_path_factory.mktemp("pages"), {}
    for name in request.param:
        page = page_file(sample(name), folder / f"{name}.html")
        found[name] = look(Viewer(driver), name, page.as_uri())
    return found


@pytest.fixture(scope="session")
def design():
    """The sample with two throats."""
    return sample("backwater-36")


GAPS = 'gaps = [0, "1/4", "1/2", "1/4", 0, "1/4", "1/2", "1/4"]'  # of hoop 2, bowed in two waves
ACROSS = 'across = [34, "33 3/4", "33 1/2", "33 3/4"]\nturn = 5'  # of hoop 4, oval and turned


def bowed(text):
    """The sample's text with its second hoop bowed and its fourth oval."""
    head, *hoops = text.split("[[hoop]]")
    for number, keys in ((2, GAPS), (4, ACROSS)):
        hoops[number - 1] = f"\n{keys}{hoops[number - 1]}"
    return "[[hoop]]".join([head, *hoops])


@pytest.fixture(scope="session")
def bowed_design():
    """The sample with bowed and oval hoops, without its second throat."""
    return net3d.design(parse_spec(bowed(one_throat("Bowed"))))


@pytest.fixture(scope="session")
def bowed_page(bowed_design, tmp_path_factory):
    return page_file(bowed_design, tmp_path_factory.mktemp("page") / "bowed.html")


@pytest.fixture(scope="session")
def page(design, tmp_path_factory):
    path = tmp_path_factory.mktemp("page") / "page.html"
    path.write_text(page_html(design, DAY), "utf-8")
    return path


@dataclass(frozen=True)
class Looked:
    """Sizes over the view by window, tables' widths and the room they have, and what is printed by paper."""

    written: dict
    tables: list
    wide: int
    customer: "Printed"
    shop: dict


@dataclass(frozen=True)
class Printed:
    """How many sheets of paper, their words in the order they were written, and letters off the paper."""

    sheets: int
    words: str
    outside: list


def look(viewer, name, address):
    """Open a sample's page and note all that the tests of every sample ask for."""
    viewer.open(address, DESKTOP)
    written = {DESKTOP: viewer.ask(WRITTEN)}
    customer = printed(viewer.pdf(LETTER))
    viewer.ask("document.getElementById('shop').open = true")
    tables = viewer.ask(
        "return [...document.querySelectorAll('.table')].map((box) => [box.scrollWidth, box.clientWidth])"
    )
    wide = viewer.ask("return document.documentElement.scrollWidth")
    papers = (A4, LETTER) if name == "tapering-0.75" else (A4,)
    shop = {paper: printed(viewer.pdf(paper)) for paper in papers}
    viewer.open(address, PHONE, touch=True)
    written[PHONE] = viewer.ask(WRITTEN)
    return Looked(written, tables, wide, customer, shop)


def printed(content):
    """A PDF read back by PDFium."""
    words, outside = [], []
    with pypdfium2.PdfDocument(content) as paper:
        for sheet in paper:
            (wide, tall), text = sheet.get_size(), sheet.get_textpage()
            words += text.get_text_range().split()
            for number in range(text.count_chars()):
                left, foot, right, top = text.get_charbox(number)
                if left < 0 or right > wide or foot < 0 or top > tall:
                    outside.append(text.get_text_range(number, 1))
        return Printed(len(paper), " ".join(words), outside)


def one_throat(title="One throat"):
    """The sample without its second throat."""
    head, _, rest = (SPECS / "backwater-36.toml").read_text("utf-8").partition("[[throat]]\nhoop = 4")
    text = head + "[tail]" + rest.partition("[tail]")[2]
    assert len(parse_spec(text).throats) == 1
    return stiff(text.replace('"Backwater 36"', f'"{title}"'))


def small(title="Small net"):
    """A net that is worked out in no time, on stiff hoops."""
    return stiff(SMALL_NET.replace("Small net", title))


def stiff(text):
    """On hoops that neither netting nor bridle bends: what was measured is what stands."""
    return re.sub(r'rod( *)= "1/2"', r"rod\1= 1", text).replace('"fibreglass"', '"steel"')
