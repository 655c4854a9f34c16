"""The workshop's page as a maker uses it, in a browser, with the keyboard."""

import re
import subprocess
import sys

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.page.conftest import DESKTOP, GAPS, PHONE, stiff
from tests.workshop.conftest import NET

pytestmark = pytest.mark.xdist_group("browser")
FAULT = '\n[limits]\nhoops_max = 1\nstretched_min = "8 1/4"\n'
# The contrast of W3C's WCAG 2.1, from its definition of relative luminance, of every word on the page.
CONTRAST = """
const part = (c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
const canvas = document.createElement('canvas').getContext('2d', {willReadFrequently: true});
const numbers = (text) => { canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = text;
  canvas.fillRect(0, 0, 1, 1);
  return [...canvas.getImageData(0, 0, 1, 1).data]; };
const light = ([r, g, b]) => 0.2126 * part(r / 255) + 0.7152 * part(g / 255) + 0.0722 * part(b / 255);
const ground = (one) => { for (let at = one; at; at = at.parentElement) {
  const colour = numbers(getComputedStyle(at).backgroundColor);
  if (colour[3] === 255) return colour; } return [255, 255, 255]; };
const poor = [];
for (const one of document.querySelectorAll('main *, header *')) {
  if (!one.checkVisibility() || one.closest('#stage') || one.disabled || one.tagName === 'OPTION') continue;
  const own = [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim()) || one.value;
  if (!own) continue;
  const [a, b] = [light(numbers(getComputedStyle(one).color)), light(ground(one))].sort((x, y) => y - x);
  if ((a + 0.05) / (b + 0.05) < 4.5) poor.push(one.outerHTML.slice(0, 90));
}
return poor;
"""
# What takes the keyboard, as Tab goes, where one column holds all: none stands over the one before.
ORDER = """
const all = [...document.querySelectorAll('a, button, input, select, summary, [tabindex]')].filter((one) => (
  one.checkVisibility() && !one.disabled));
const boxes = all.map((one) => one.getBoundingClientRect());
return all.filter((one, n) => one.tabIndex !== 0 || (n && boxes[n].bottom < boxes[n - 1].top))
  .map((one) => one.outerHTML.slice(0, 90));
"""
UNNAMED = """
return [...document.querySelectorAll('input, select, button, a, canvas')].filter((one) => !(one.labels?.length
  && one.labels[0].textContent.trim()) && !one.textContent.trim() && !one.ariaLabel)
  .map((one) => one.outerHTML.slice(0, 90));
"""


class Shop:
    """The workshop as a process of its own."""

    def __init__(self, folder):
        command = [sys.executable, "-m", "net3d", "open", str(folder), "--no-browser", "--port", "0"]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        self.address = re.search(r"http://127\.0\.0\.1:\d+/", self.process.stdout.readline())[0]

    def kill(self):
        """End it as a power cut does."""
        self.process.kill()
        self.process.communicate(timeout=20)


@pytest.fixture
def shop(folder):
    shop = Shop(folder)
    yield shop
    if shop.process.poll() is None:
        shop.process.send_signal(2)
        out, _ = shop.process.communicate(timeout=30)
        assert "Traceback" not in out
        assert out.rstrip().endswith("Ended.")


class Maker:
    """Somebody at the page, with the keys of the keyboard alone."""

    def __init__(self, viewer, address, size=DESKTOP):
        self.viewer, self.ask = viewer, viewer.ask
        viewer.open(address, size)

    def wait(self, what):
        """Wait until the page says so."""
        try:
            self.viewer.wait(lambda: self.ask(f"return {what}"))
        except AssertionError as error:
            page = self.ask(
                "return [...document.querySelectorAll('#bar, #found, #age')].map((one) => one.innerText)"
            )
            raise AssertionError(what, page) from error

    def settled(self):
        """Wait until all is worked out."""
        self.wait("!document.getElementById('age').textContent && document.querySelector('.count')")

    def type(self, key, text):
        """Type into a box and end with Enter."""
        box = self.viewer.driver.find_element(By.ID, f"box-{key}")
        box.send_keys(Keys.CONTROL, "a")
        box.send_keys(text, Keys.ENTER)

    def box(self, key):
        """What stands in a box."""
        return self.ask("return document.getElementById(arguments[0]).value", f"box-{key}")

    def press(self, *keys):
        """Press keys on the net."""
        self.viewer.driver.find_element(By.ID, "net").send_keys(*keys)


def test_a_net_from_nothing_with_the_keyboard_alone(viewer, shop, folder):
    viewer.tell(
        "Emulation.setDeviceMetricsOverride", width=1280, height=800, deviceScaleFactor=1, mobile=False
    )
    viewer.driver.get(shop.address)
    assert viewer.ask(UNNAMED) == []
    assert viewer.ask(CONTRAST) == []
    first = viewer.driver.find_element(By.NAME, "called")
    first.send_keys("Found hoops", Keys.TAB)
    viewer.driver.switch_to.active_element.send_keys("hoops")  # chooses what begins with these letters
    viewer.wait(lambda: viewer.ask("return !document.getElementById('tapes').hidden"))
    viewer.driver.switch_to.active_element.send_keys(Keys.TAB)
    for tape in ("96", "95 1/2", "94"):
        viewer.driver.switch_to.active_element.send_keys(tape, Keys.ENTER)
    viewer.driver.find_element(By.CSS_SELECTOR, "#new button").send_keys(Keys.ENTER)
    viewer.wait(lambda: viewer.ask("return location.pathname") == "/net/found-hoops")
    maker = Maker(viewer, f"{shop.address}net/found-hoops")
    maker.wait("document.getElementById('box-hoop.3.circumference')?.value === '94'")
    maker.wait("document.querySelector('#facts dd')")
    maker.type("hoop.3.circumference", "93")
    maker.press(Keys.CONTROL, "s")
    maker.wait("document.getElementById('keep').textContent === 'Kept' && document.getElementById('redo')")
    viewer.wait(lambda: "circumference = 93\n" in (folder / "found-hoops.toml").read_text("utf-8"))
    assert viewer.complaints() == []


WATCH_AGE = """new MutationObserver(() => {
    window.wasOlder ||= document.body.classList.contains('older-shape');
  }).observe(document.body, { attributes: true, attributeFilter: ['class'] });"""


def test_type_look_undo_keep_and_a_killed_server(viewer, folder, shop):
    (folder / "weir.toml").write_text(NET + FAULT, encoding="utf-8", newline="\n")
    maker = Maker(viewer, f"{shop.address}net/weir")
    maker.settled()
    before = viewer.net()
    assert maker.ask(UNNAMED) == []
    assert maker.ask(CONTRAST) == []

    maker.ask(WATCH_AGE)
    maker.type("sections.deep.1", "3.5")
    maker.wait("window.wasOlder")  # for a moment only: this net is solved at once
    maker.settled()
    assert viewer.net() != before
    maker.type("hoop.1.rod", "thick")
    maker.wait("document.getElementById('box-hoop.1.rod-wrong').textContent.includes('thick')")
    assert maker.box("hoop.1.rod") == "thick"
    maker.type("hoop.1.rod", "1/2")
    maker.wait("!document.getElementById('box-hoop.1.rod-wrong').textContent")

    # A remedy by its button: the mesh that the maker's own rule asks for.
    maker.wait("document.querySelector('.remedy')")
    findings = maker.ask("return document.querySelectorAll('.told.finding').length")
    maker.ask("document.querySelector('.remedy').click()")
    maker.wait("document.getElementById('undo').disabled === false")
    maker.settled()
    maker.wait(f"document.querySelectorAll('.told.finding').length < {findings}")

    maker.press(Keys.CONTROL, "z")
    maker.press(Keys.CONTROL, "z")
    maker.wait("document.getElementById('undo').disabled")
    assert maker.box("sections.deep.1") == "2.5"
    maker.press(Keys.CONTROL, "y")
    maker.wait("document.getElementById('box-sections.deep.1').value === '3.5'")

    maker.type("hoop.1.rod", "thick")
    maker.wait("document.getElementById('box-hoop.1.rod-wrong').textContent.includes('thick')")
    shop.kill()
    again = Shop(folder)
    maker = Maker(viewer, f"{again.address}net/weir", PHONE)
    maker.wait("document.getElementById('box-sections.deep.1')?.value === '3.5'")
    maker.wait("document.getElementById('box-hoop.1.rod-wrong').textContent.includes('thick')")
    maker.wait("document.querySelector('.remedy')")  # as a finger does it
    maker.ask("document.querySelector('.remedy').click()")
    maker.wait("document.getElementById('box-netting.stretched').value !== '8'")
    maker.ask("document.getElementById('undo').click()")
    maker.wait("document.getElementById('box-netting.stretched').value === '8'")
    maker.ask("document.getElementById('keep').click()")
    maker.wait("document.getElementById('keep').textContent === 'Kept'")
    assert maker.box("hoop.1.rod") == "thick"
    maker.type("hoop.1.rod", "1/2")
    maker.wait("!document.getElementById('box-hoop.1.rod-wrong').textContent")
    again.process.send_signal(2)
    again.process.communicate(timeout=30)
    assert (folder / "weir.toml").read_text("utf-8") == (NET + FAULT).replace("[2.5]", "[3.5]")


def mark_and_tear(viewer, maker):
    """A knot of the netting is clicked: its bars are a hole then, drawn and told, until undone."""
    whole = viewer.net()
    clicks = """
    document.getElementById('marking').click();
    const net = document.getElementById('net'), {left, top, width, height} = net.getBoundingClientRect();
    const click = (x, y) => net.dispatchEvent(new MouseEvent('click', {clientX: left + x, clientY: top + y,
      bubbles: true}));
    for (let y = height / 2; y < height; y += 3) for (let x = width / 3; x < width / 2; x += 3) {
      click(x, y);
      if (document.querySelector('#tearing p').textContent.startsWith('4 bars')) return true;
      document.getElementById('clear').click();
    }
    """
    assert maker.ask(clicks)
    assert maker.ask("return document.querySelector('#marks path').getAttribute('d').match(/M/g).length") == 4
    maker.ask("document.getElementById('tear').click()")
    maker.wait("document.getElementById('box-hole.1.knots')?.value")
    maker.wait("document.querySelector('.mend dl')")
    assert re.fullmatch(r"\d+:\d+", maker.box("hole.1.knots"))
    assert maker.ask("return document.querySelector('.mend').textContent").count("4 bars")
    maker.settled()
    assert viewer.net() != whole
    maker.type("hole.1.knots", "2:3-4")  # by keys alone
    maker.wait("document.querySelector('.mend')?.textContent.includes('torn8 bars')")
    for _ in range(2):
        maker.ask("document.getElementById('undo').click()")
    maker.wait("!document.getElementById('box-hole.1.bars')?.closest('fieldset').querySelector('.deeds')")
    maker.ask("document.getElementById('marking').click()")


def test_choosing_in_3d_goes_to_the_boxes_and_back_and_a_phone_scrolls_one_way(viewer, shop):
    maker = Maker(viewer, f"{shop.address}net/weir")
    maker.settled()
    clicks = """
    const net = document.getElementById('net'), {left, top, width, height} = net.getBoundingClientRect();
    for (let y = 20; y < height; y += 9) for (let x = 20; x < width; x += 9) {
      const at = {clientX: left + x, clientY: top + y, bubbles: true};
      net.dispatchEvent(new MouseEvent('click', at));
      if (document.activeElement.id.startsWith('box-hoop.2.')) return x;
    }
    return 0;
    """
    assert maker.ask(clicks)
    assert maker.ask("return document.getElementById('stage').dataset.marked") == "hoop-2"
    maker.ask("document.getElementById('box-hoop.1.rod').focus()")
    assert maker.ask("return document.getElementById('stage').dataset.marked") == "hoop-1"
    maker.ask("document.getElementById('box-hoop.2.rod').focus()")
    assert maker.ask("return document.getElementById('stage').dataset.marked") == "hoop-2"
    mark_and_tear(viewer, maker)
    for width, size in ((PHONE[0], PHONE), (320, (320, 700))):
        viewer.open(f"{shop.address}net/weir", size, touch=True)
        maker.wait("document.getElementById('box-title')?.value")
        maker.ask("for (const one of document.querySelectorAll('details')) one.open = true")
        assert maker.ask("return document.documentElement.scrollWidth") <= width
        assert maker.ask(CONTRAST) == []
        assert maker.ask(ORDER) == []
    viewer.tell("Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": "dark"}])
    assert maker.ask(CONTRAST) == []
    viewer.tell("Emulation.setEmulatedMedia", features=[])
    viewer.driver.get(shop.address)
    assert maker.ask("return document.documentElement.scrollWidth") <= width
    assert viewer.complaints() == []


def lay_beside(viewer, maker):
    """A change, and the net beside itself as it was kept."""
    maker.type("sections.deep.1", "3.5")
    maker.wait("!document.getElementById('keep').disabled")
    maker.settled()
    own = viewer.net()
    viewer.do(
        "document.getElementById('comparing').open = true;"
        "const other = document.getElementById('other'); other.value = 'weir';"
        " other.dispatchEvent(new Event('change', {bubbles: true}))"
    )
    maker.wait("document.querySelector('#beside td')")
    differs = maker.ask("return document.querySelector('#beside tbody').innerText")
    assert differs.split() == ["sections", "deep", "3.5", "2.5"]
    viewer.wait(lambda: viewer.net() != own)  # the other's shape is over this one's
    viewer.click("#over")
    assert viewer.net() == own


def write_down(viewer, maker, folder):
    """Something is written into the net's record."""
    maker.ask("document.getElementById('record').open = true")
    note = viewer.driver.find_element(By.ID, "log-note")
    note.send_keys("Set above the ford.", Keys.CONTROL, "z")  # the box's own undo, not the net's
    assert maker.ask("return document.title") == "Theirs"
    note.clear()
    note.send_keys("Set at the mill.", Keys.ENTER)
    maker.wait("document.querySelector('#history li')?.textContent.includes('Set at the mill.')")
    maker.wait("document.getElementById('logged').textContent === 'Written.'")
    assert 'note = "Set at the mill."' in (folder / "net-log.toml").read_text("utf-8")


def test_what_an_editor_saves_is_shown_and_the_view_stays(viewer, shop, folder):
    spec, net = folder / "weir.toml", stiff(NET)
    spec.write_text(net, encoding="utf-8", newline="\n")
    maker = Maker(viewer, f"{shop.address}net/weir")
    maker.settled()
    viewer.key("ArrowLeft")
    viewer.click("#parts input[value=tail]")
    before = viewer.net()

    def save(changed, what):
        spec.write_text(changed, encoding="utf-8", newline="\n")
        maker.wait(what)

    save(net.replace("Weir net", "Renamed"), "document.title === 'Renamed'")
    maker.settled()
    assert viewer.net() == before
    save(net.replace("= 24 ", "= -24 "), "!document.getElementById('broken').hidden")
    assert "line 6: netting.around" in maker.ask("return document.getElementById('broken').innerText")
    assert viewer.net() == before
    bowed = net.replace("[[hoop]]            #", f"[[hoop]]\n{GAPS} #", 1)
    save(bowed, "document.querySelector('#bow select')?.value === '1'")
    assert maker.ask("return document.getElementById('broken').hidden")
    maker.settled()
    before = viewer.net()
    viewer.do(
        "const bow = document.querySelector('#bow select'); bow.value = '5';"
        " bow.dispatchEvent(new Event('change', {bubbles: true}))"
    )
    assert viewer.net() != before
    save(bowed.replace("Weir net", "Again"), "document.title === 'Again'")
    assert maker.ask("return document.querySelector('#bow select').value") == "5"
    save(net, "!document.querySelector('#bow select')")

    lay_beside(viewer, maker)
    foreign = net.replace("Weir net", "Theirs")
    save(foreign, "!document.getElementById('foreign').hidden")  # both are kept
    maker.press(Keys.CONTROL, "s")
    maker.wait("document.getElementById('said').textContent === 'Kept in weir-mine.toml.'")
    assert spec.read_text("utf-8") == foreign
    assert (folder / "weir-mine.toml").read_text("utf-8") == net.replace("[2.5]", "[3.5]")
    maker.ask("document.getElementById('file').click()")
    maker.wait("document.title === 'Theirs' && document.getElementById('foreign').hidden")

    write_down(viewer, maker, folder)
    assert viewer.complaints() == []


@pytest.mark.slow
def test_a_wing_is_turned_in_boxes_of_its_own(viewer, folder, shop):
    net = folder / "weir.toml"
    net.write_text(net.read_text("utf-8") + "\n[[wing]]\nlong = 40\ndeep = 4\n", "utf-8")
    maker = Maker(viewer, f"{shop.address}net/weir")
    maker.wait("document.getElementById('box-wing.1.bends.1.after')")
    maker.ask("for (const one of document.querySelectorAll('details')) one.open = true")
    maker.type("wing.1.bends.1.after", "20")
    maker.type("wing.1.bends.1.angle", "-30")
    maker.wait("document.getElementById('box-wing.1.bends.2.after')")
    maker.wait("!document.getElementById('keep').disabled")
    assert maker.box("wing.1.bends.1.angle") == "-30"
