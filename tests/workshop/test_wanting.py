"""From what a maker has to a net: the list in boxes, the search and what it found, one to work on."""

import json
import re
import tomllib

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

import net3d
from net3d.checks.checks import Level
from net3d.errors import SpecError
from net3d.spec.wanted_text import STARTER, changed
from tests.page.conftest import DESKTOP, PHONE
from tests.propose.lists import SMALL
from tests.workshop.conftest import NET
from tests.workshop.test_page import CONTRAST, UNNAMED, shop  # noqa: F401 - the same server

FIRST = {"diameter": 24, "rod": "3/8", "material": "fibreglass", "repeat": 4}
WANT = {"throats": 1, "longest": "7 ft", "for": ["room", "light work"]}
LIST = f"# What lies on the floor.\n{SMALL}"


@pytest.fixture
def folder(tmp_path):
    for name, text in (("weir", NET), ("floor", LIST), ("broken", "[[pile]]\nrod = 1\n")):
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8", newline="\n")
    return tmp_path


def opened(page):
    """What a page of a list begins with."""
    return json.loads(re.search(r'id="opened">(.*?)</script>', page, re.DOTALL)[1])


def test_lists_are_offered_beside_nets_and_not_as_nets(asker):
    start = asker.get("/").text
    assert re.findall(r'href="/(net|wanted)/([^"]+)"', start) == [
        ("net", "weir"),
        ("wanted", "broken"),
        ("wanted", "floor"),
    ]
    assert asker.get("/net/floor").status_code == 404
    assert asker.get("/wanted/weir").status_code == 404
    assert opened(asker.get("/wanted/floor").text)["text"] == LIST
    broken = opened(asker.get("/wanted/broken").text)
    assert broken["values"] is None
    assert {"title", "units"} <= {problem["key"] for problem in broken["problems"]}


def test_boxes_are_typed_into_the_list_or_told_by_their_key(asker):
    answer = asker.post("/wanted/change", {"text": LIST, "boxes": {"want.longest": "2 ft 8 in"}}).json()
    assert answer["text"] == LIST.replace("longest = 32", 'longest = "2 ft 8 in"')
    assert answer["values"]["want"]["longest"] == "2 ft 8 in"
    for boxes, key in (
        ({"pile.1.rod": "thick"}, "pile.1.rod"),
        ({"pile.3.diameter": "20"}, "pile.3.rod"),
        ({"want.for": "rom"}, "want.for.1"),
        ({"hoop.1.rod": "1"}, "hoop.1.rod"),
    ):
        refused = asker.post("/wanted/change", {"text": LIST, "boxes": boxes})
        assert refused.status_code == 422
        assert key in [problem["key"] for problem in refused.json()["problems"]]


def test_nobody_else_may_ask(asker):
    for deed in ("change", "keep", "look", "stop", "begin"):
        assert asker.post(f"/wanted/{deed}", {}, **{"X-Secret": "guessed"}).status_code == 403
    for deed, asked in (
        ("look", {"text": LIST, "seconds": 1e9}),
        ("begin", {"search": 1, "net": 0}),
        ("melt", {}),
    ):
        assert asker.post(f"/wanted/{deed}", asked).status_code == 422


def test_keeping_writes_over_nothing_that_others_wrote(asker, folder):
    mine = LIST.replace("hours = 5", "hours = 6")
    kept = asker.post("/wanted/keep", {"name": "floor", "text": mine, "base": LIST}).json()
    assert kept == {"name": "floor", "file": "floor.toml"}
    assert (folder / "floor.toml").read_text("utf-8") == mine
    again = asker.post("/wanted/keep", {"name": "floor", "text": LIST, "base": LIST}).json()
    assert again["file"] == "wanted.toml"  # by its title, since the file is no longer what it was
    new = asker.post("/wanted/keep", {"text": LIST}).json()
    assert new["file"] == "wanted-2.toml"
    assert (folder / "floor.toml").read_text("utf-8") == mine
    assert {"floor", "wanted", "wanted-2"} <= set(re.findall(r'href="/wanted/([^"]+)"', asker.get("/").text))


def test_a_search_that_cannot_begin_or_was_lost_says_so(asker):
    refused = asker.post("/wanted/look", {"text": LIST.replace("repeat = 2", "repeat = 0"), "seconds": 5})
    assert refused.json()["problems"][0]["key"] == "pile.1.repeat"
    state = asker.get("/wanted/search/7/0").json()
    assert state["over"]
    assert "look once more" in state["said"]


HOOP = {"diameter": 30, "rod": "1/2", "material": "ash"}


# Expected tables are written out by hand; tomllib reads them back.
@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"fish.girth": [8, 12], "want.longest": None}, {"fish": {"girth": [8, 12]}, "longest": None}),
        ({f"pile.2.{key}": value for key, value in HOOP.items()}, {"pile": [FIRST, HOOP]}),
        ({'stock.have.twine."#15"': "1 lb"}, {"stock": {"have": {"twine": {"#15": "1 lb"}}}}),
        (
            {"pile.1.name": "the old one", "shop": "none"},
            {"pile": [FIRST | {"name": "the old one"}], "shop": "none"},
        ),
        ({"pile.1": None, "title": "Pool"}, {"pile": None, "title": "Pool"}),
    ],
)
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_what_is_typed_is_what_the_list_says_then(changes, expected, newline):
    new = changed(STARTER.replace("\n", newline), changes)
    said = tomllib.loads(new)
    want = said.pop("want")
    assert want == {key: value for key, value in WANT.items() if expected.get(key, value) is not None}
    plain = {"title": "From what I have", "units": "in", "pile": [FIRST]} | expected
    plain |= {"netting": {"stretched": ["3 1/2"], "twine": "#15"}}
    assert said == {key: value for key, value in plain.items() if value is not None}
    remarks = [
        "# What lies on the floor",
        "# meshes that may be used",
        *(["# tail and all"] * ("longest" in want)),
    ]
    assert [remark for remark in remarks if remark not in new] == []
    assert new.count("\n") == new.count(newline)


def test_a_list_that_cannot_be_typed_into_is_left():
    for text, changes in (
        ("[[", {"title": "x"}),
        (STARTER, {"title.short": 3}),
        (STARTER, {"pile.7.rod": 1}),
    ):
        with pytest.raises(SpecError, match="editor"):
            changed(text, changes)


class Page:
    """Somebody at the page of a list."""

    def __init__(self, viewer, address, size=DESKTOP, touch=False):
        self.viewer, self.ask = viewer, viewer.ask
        width, height = size
        viewer.tell(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=1,
            mobile=touch,
        )
        viewer.driver.get("about:blank")
        viewer.driver.get_log("browser")
        viewer.driver.get(address)

    def wait(self, what):
        """Wait until the page says so."""
        self.viewer.wait(lambda: self.ask(f"return {what}"))

    def type(self, key, text):
        """Type into a box and end with Enter."""
        box = self.viewer.driver.find_element(By.ID, f"box-{key}")
        box.send_keys(Keys.CONTROL, "a")
        box.send_keys(text, Keys.ENTER)

    def click(self, rule):
        """Click what a style sheet's rule finds."""
        self.ask("document.querySelector(arguments[0]).click()", rule)


@pytest.mark.xdist_group("browser")
def test_from_a_list_to_a_net_to_work_on(viewer, shop, folder):  # noqa: F811
    page = Page(viewer, f"{shop.address}wanted/floor")
    page.wait("document.getElementById('box-pile.1.diameter')?.value === '14'")
    page.type("pile.1.rod", "thick")
    page.wait("document.getElementById('box-pile.1.rod-wrong').textContent.includes('thick')")
    page.type("pile.1.rod", "5/16")
    page.wait(
        "!document.getElementById('box-pile.1.rod-wrong').textContent"
        " && !document.getElementById('keep').disabled"
    )
    page.click("#undo")
    page.wait(
        "document.getElementById('box-pile.1.rod').value === '3/8'"
        " && document.getElementById('keep').disabled"
    )

    page.click("#look")
    page.wait("/^[0-9]+ of [0-9]+ nets/.test(document.getElementById('far').textContent)")
    page.wait("document.querySelectorAll('.proposal').length > 0")
    page.click("#stop")
    page.wait("document.getElementById('look').textContent === 'Look once more'")
    assert page.ask("return document.querySelectorAll('.proposal img').length") > 0
    assert page.ask(UNNAMED) == []
    assert page.ask(CONTRAST) == []
    for width, size in ((320, (320, 700)), (PHONE[0], PHONE)):
        viewer.tell(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=size[1],
            deviceScaleFactor=1,
            mobile=True,
        )
        assert page.ask("return document.documentElement.scrollWidth") <= width

    nets = set(folder.glob("*.toml"))
    page.click("[data-net='0']")
    page.wait("location.pathname.startsWith('/net/wanted-')")
    (new,) = set(folder.glob("*.toml")) - nets
    made = net3d.design(net3d.read_spec(new))
    assert [one for one in made.findings if one.level is Level.FAIL] == []
    assert (folder / "floor.toml").read_text("utf-8") == LIST
    assert [told for told in viewer.complaints() if "422" not in told] == []  # the rod that would not do

    page = Page(viewer, f"{shop.address}wanted/floor")
    page.click("#look")
    page.wait("document.getElementById('far').textContent")  # and the server is ended while it looks
