"""A phone in this machine's network: it reads with the secret of this run, and changes nothing."""

import io
import sys
import threading
from http.client import HTTPConnection

import pytest
import uvicorn
import zxingcpp
from click.testing import CliRunner
from PIL import Image

from net3d.commands.open import open_
from net3d.errors import OutputError
from net3d.workshop import phone as phones
from net3d.workshop.app import application
from net3d.workshop.connections import Connection
from net3d.workshop.folder import Folder
from net3d.workshop.phone import Phone, own_address
from net3d.workshop.serving import open_port
from tests.page.conftest import PHONE
from tests.workshop.conftest import NET, Answer, Asker
from tests.workshop.test_page import CONTRAST, UNNAMED

pytestmark = [
    pytest.mark.xdist_group("browser"),
    pytest.mark.skipif(sys.platform == "darwin", reason="has no second address of its own"),
]
BENCH = "net/weir#one-by-one"
NETWORK = "127.0.0.2"  # not the loopback's own address, so it stands for the network's


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    """A folder on two ports: what this machine's own pages and what the network may ask."""
    folder = tmp_path_factory.mktemp("nets")
    (folder / "weir.toml").write_text(NET, encoding="utf-8", newline="\n")
    with open_port(0) as own, open_port(0, NETWORK) as network:
        phone = Phone(*network.getsockname())
        app = application(Folder(folder), phone)
        config = uvicorn.Config(
            app, http=Connection, lifespan="on", log_level="error", timeout_graceful_shutdown=1
        )
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [own, network]})
        thread.start()
        yield folder, phone, Asker(own.getsockname()[1])
        app.state.pages.end()
        server.should_exit = True
        thread.join(10)


def ask(phone, path, method="GET", **headers):
    """Ask from the network."""
    connection = HTTPConnection(phone.host, phone.port, timeout=60)
    try:
        connection.request(method, path, headers=headers)
        return Answer(connection.getresponse())
    finally:
        connection.close()


def test_without_its_secret_nothing_is_read(served):
    _, phone, asker = served
    for path in ("/", "/net/weir", "/x/net/weir", f"/{phone.secret[:-1]}/", f"//{phone.secret}/../", "/%ff/"):
        answer = ask(phone, path)
        assert (answer.status_code, "scan the code" in answer.text) in ((403, True), (404, False)), path
    assert ask(phone, f"/x/{phone.secret}/").status_code == 403
    assert ask(phone, f"/{asker.headers['X-Secret']}/").status_code == 403
    assert ask(phone, f"/{phone.secret}/").status_code == 200


def test_with_it_nothing_is_changed_and_other_names_are_not_answered(served):
    folder, phone, asker = served
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    change = f"/{phone.secret}/net/weir"
    for path in (
        change,
        f"{change}/change",
        f"{change}/keep",
        f"/{phone.secret}/new",
        "/net/weir/keep",
        "/new",
    ):
        for headers in ({}, {**asker.headers, "Origin": f"http://{phone.host}:{phone.port}"}):
            for method in ("POST", "PUT", "DELETE", "OPTIONS"):
                answer = ask(phone, path, method, **headers)
                assert answer.status_code == 403, (method, path)
                assert "nothing can be changed" in answer.text
    for path in ("news", "take/page.html", "about/picture.webp", "beside/weir"):
        assert ask(phone, f"{change}/{path}").status_code == 404, path
    for host in ("example.org", "127.0.0.1", f"localhost:{phone.port}", f"{phone.host}:1"):
        assert ask(phone, change, Host=host).status_code == 403, host
    assert ask(phone, change, Origin="https://example.org").status_code == 403
    assert asker.get("/", Host=f"{phone.host}:{phone.port}").status_code == 400  # nor this machine under it
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_a_phone_reads_its_way_to_the_bench(viewer, served):
    _, phone, _ = served
    viewer.tell("Emulation.setDeviceMetricsOverride", width=320, height=568, deviceScaleFactor=1, mobile=True)
    viewer.driver.get(phone.address())
    assert viewer.ask("return document.documentElement.scrollWidth") == 320
    assert viewer.ask(CONTRAST) == []
    assert viewer.ask(UNNAMED) == []
    address = viewer.ask("return document.querySelector('.nets a').href")
    assert address == phone.address(BENCH)
    viewer.open(address, PHONE, touch=True)
    assert viewer.ask("return document.getElementById('at-bench').open")
    assert viewer.ask("return document.querySelector('h1').textContent") == "Weir net"
    assert viewer.complaints() == []


@pytest.mark.second_route
def test_the_work_page_shows_a_code_that_is_read(viewer, served):
    """By a reader of codes that is unrelated to what made it, off the page as it is seen."""
    _, phone, asker = served
    viewer.open(f"{asker.origin}/net/weir")
    viewer.ask("const fold = document.getElementById('phone'); fold.open = true; fold.scrollIntoView()")
    viewer.wait(lambda: viewer.ask("return document.querySelector('#phone img').naturalWidth > 100"))
    with Image.open(io.BytesIO(viewer.shot())) as shot:
        assert [code.text for code in zxingcpp.read_barcodes(shot)] == [phone.address(BENCH)]
    assert phone.address(BENCH) in viewer.ask("return document.getElementById('phone').textContent")
    assert asker.get("/net/weir/bench").text.startswith("<!doctype html>")


def test_the_terminal_says_who_can_read_and_what_a_firewall_does(monkeypatch, tmp_path):
    monkeypatch.setattr(phones, "_addresses", lambda: iter([NETWORK]))
    monkeypatch.setattr(phones, "own_address", lambda: NETWORK)
    monkeypatch.setattr("net3d.workshop.serving.serve", lambda app, opened, ending: None)
    (tmp_path / "weir.toml").write_text(NET, encoding="utf-8", newline="\n")
    done = CliRunner().invoke(open_, [str(tmp_path), "--phone", "--no-browser", "--port", "0"])
    assert done.exit_code == 0, done.output
    rows = [row for row in done.output.splitlines() if set(row) <= set("█▀▄ ") and row]
    half = {"█": (255, 255), "▀": (255, 0), "▄": (0, 255), " ": (0, 0)}
    lines = [[half[letter][side] for letter in row] for row in rows for side in (0, 1)]
    dots = Image.new("L", (len(rows[0]), len(lines)))
    dots.putdata([dot for line in lines for dot in line])
    (code,) = zxingcpp.read_barcodes(dots.resize((8 * dots.width, 8 * dots.height), Image.Resampling.NEAREST))
    assert code.text in done.output
    for told in (f"http://{NETWORK}:", "same Wi-Fi", "firewall", "not encrypted", "█"):
        assert told in done.output.replace("\n", " "), told
    without = CliRunner().invoke(open_, [str(tmp_path), "--no-browser", "--port", "0"])
    assert NETWORK not in without.output


@pytest.mark.parametrize(
    ("addresses", "answer"),
    [
        (["192.168.1.5", "127.0.1.1"], "192.168.1.5"),  # RFC 1918: 10/8, 172.16/12 and 192.168/16 are private
        (["127.0.1.1", "10.0.0.7"], "10.0.0.7"),
        (["172.31.0.1"], "172.31.0.1"),
        (["172.32.0.1"], "internet"),
        (["8.8.8.8"], "internet"),
        (["127.0.1.1"], "no network"),
        ([], "no network"),
    ],
)
def test_only_a_private_network_is_served(monkeypatch, addresses, answer):
    monkeypatch.setattr(phones, "_addresses", lambda: iter(addresses))
    if answer[0].isdigit():
        assert own_address() == answer
    else:
        with pytest.raises(OutputError, match=answer):
            own_address()
