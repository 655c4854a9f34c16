"""The rest of the page: tables, words, what it forbids, and what stands in where there is no WebGL2."""

import re

import net3d
from net3d.checks import told_once
from net3d.page import page_html
from net3d.spec import parse_spec
from tests.commands.conftest import SMALL_NET
from tests.page.conftest import BLANK, DAY, PHONE, page_file

HOSTILE = (
    "</script><script>document.body.dataset.owned=1</script><img src=x onerror=alert(1)> {{ 7 * 7 }} &amp;"
)


def test_tables_are_there_with_captions_and_headings(offline, page):
    offline.open(page.as_uri())
    tables = offline.ask(
        "return Object.fromEntries([...document.querySelectorAll('#tables section')].map((s) => [s.id,"
        " {caption: s.querySelector('caption')?.textContent, rows: [...s.querySelectorAll('tr')].map("
        " (r) => [...r.cells].map((c) => c.textContent.trim()))}]))"
    )
    assert {"marks", "cuts", "materials", "standing", "throats"} <= set(tables)
    assert all(table["caption"] for name, table in tables.items() if name not in ("marks", "bench", "keeps"))
    assert offline.ask("return document.querySelectorAll('th:not([scope])').length") == 0


def test_every_hoop_has_a_block_of_its_readings(offline, page):
    offline.open(page.as_uri())
    blocks = offline.ask(
        "return [...document.querySelectorAll('#marks .block')].map((block) => ({"
        " title: block.querySelector('h3').textContent, counted: block.querySelector('.counted').textContent,"
        " readings: [...block.querySelectorAll('li')].map((one) => one.textContent.trim())}))"
    )
    assert [block["title"] for block in blocks] == [f"Hoop {number}" for number in range(1, 6)]
    # pi x 36 in / 44 meshes = 2.570 in a pitch: to the nearest sixteenth 2 9/16, twice it 5 1/8 (arithmetic)
    assert blocks[0]["counted"] == "mark (in)"
    assert blocks[0]["readings"][:3] == ["0", "2 9/16", "5 1/8"]
    assert len(blocks[0]["readings"]) == 44


def test_findings_cautions_title_and_date_are_there(offline, page, design):
    offline.open(page.as_uri())
    text = offline.ask("return document.body.textContent")
    assert f"All {len(told_once(design.findings))} checks are fine" in text
    assert "look up the local code" in text
    assert "poisonous" in text
    assert offline.ask("return document.querySelector('h1').textContent") == "Backwater 36"
    assert offline.ask("return document.querySelector('time').dateTime") == DAY.isoformat()
    headings = offline.ask("return [...document.querySelectorAll('h1, h2')].map((h) => h.localName)")
    assert headings.count("h1") == 1
    assert headings[0] == "h1"


def test_a_customer_sees_what_the_net_takes_its_price_and_who_sells_it():
    """The price as the spec has it, the fish by their girths; neither where the spec says nothing of it."""
    plain = page_html(net3d.design(parse_spec(SMALL_NET)), DAY, picture=BLANK)
    assert "Fish it takes" not in plain
    assert "<dt>Price" not in plain
    more = (
        '[prices]\nprice = 480\ncurrency = "€"\n[quote]\nseller = "Nets & Co"\ncontact = "3 River Street"\n'
    )
    told = page_html(
        net3d.design(parse_spec(f"{SMALL_NET}\n[fish]\ngirth = [12, 20]\n{more}")), DAY, picture=BLANK
    )
    assert '<p class="kind">Nets &amp; Co</p>' in told
    assert "<address>Nets &amp; Co, 3 River Street</address>" in told
    assert "<address>" not in plain
    assert "<dt>Fish it takes</dt><dd>12 in to 20 in around</dd>" in told
    assert re.search("<dt>Price</dt><dd>[^<]*480[^<]*</dd>", told)


def test_a_hostile_title_stays_text(offline, tmp_path):
    spec = parse_spec(SMALL_NET.replace('"Small net"', f"'{HOSTILE}'"))
    path = page_file(net3d.design(spec), tmp_path / "page.html")
    offline.open(path.as_uri())
    assert offline.ask("return document.querySelector('h1').textContent") == HOSTILE
    assert offline.ask("return document.title") == HOSTILE
    assert offline.ask("return document.body.dataset.owned ?? 'free'") == "free"
    assert offline.ask("return document.images.length") == 1  # the net's own picture
    assert offline.complaints() == []


def test_the_policy_forbids_what_the_page_does_not_need(offline, page):
    offline.open(page.as_uri())
    policy = offline.ask("return document.querySelector('meta[http-equiv=Content-Security-Policy]').content")
    assert policy.startswith("default-src 'none'")
    assert "unsafe" not in policy
    assert "*" not in policy
    offline.ask(
        "const script = document.createElement('script');"
        "script.textContent = 'document.body.dataset.owned = 1'; document.body.append(script);"
    )
    assert offline.ask("return document.body.dataset.owned ?? 'free'") == "free"
    asked = "return fetch('https://example.org').then(() => 'sent', (error) => error.message)"
    assert "Content Security Policy" in " ".join([offline.ask(asked), *offline.complaints()])


def test_without_webgl2_the_picture_and_everything_else_is_there(offline, page):
    blind = "HTMLCanvasElement.prototype.getContext = () => null"
    added = offline.tell("Page.addScriptToEvaluateOnNewDocument", source=blind)
    try:
        offline.open(page.as_uri(), PHONE)
    finally:
        offline.tell("Page.removeScriptToEvaluateOnNewDocument", identifier=added["identifier"])
    picture = offline.driver.find_element("id", "picture")
    assert picture.is_displayed()
    assert offline.ask("return document.getElementById('picture').naturalWidth") == 1000
    assert "no WebGL2" in offline.driver.find_element("id", "flat").text
    assert not offline.driver.find_element("id", "net").is_displayed()
    assert not offline.driver.find_element("id", "parts").is_displayed()
    assert not offline.driver.find_element("id", "materials").is_displayed()
    offline.driver.find_element("css selector", "#shop > summary").click()
    assert offline.driver.find_element("id", "materials").is_displayed()
    assert offline.complaints() == []


def test_paper_gets_the_picture_in_place_of_the_view(offline, page):
    offline.open(page.as_uri())
    start = offline.net()
    offline.tell("Emulation.setEmulatedMedia", media="print")
    try:
        assert offline.driver.find_element("id", "picture").is_displayed()
        assert not offline.driver.find_element("id", "net").is_displayed()
        assert offline.driver.find_element("id", "hoops").is_displayed()
    finally:
        offline.tell("Emulation.setEmulatedMedia", media="")
    assert offline.net() == start
