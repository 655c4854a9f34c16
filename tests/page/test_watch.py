"""net3d show and net3d watch: a page that follows its spec, for this machine alone."""

import os
import socket
import subprocess
import sys
import time

import pytest

from net3d.cli import main
from net3d.workshop.connections import MOST, PATIENCE
from tests.page.conftest import GAPS, small
from tests.page.watching import TALL, Watch


def bowed(title):
    """Its three hoops bowed in two waves."""
    return small(title).replace("repeat = 3", f"repeat = 3\n{GAPS}")


@pytest.fixture
def spec(tmp_path):
    path = tmp_path / "one.toml"
    path.write_text(small(), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    path = tmp_path_factory.mktemp("served") / "one.toml"
    path.write_text(small(), encoding="utf-8")
    watch = Watch(path, "--port", "0")
    yield watch
    watch.end()


def test_a_saved_spec_updates_the_page_and_keeps_the_view(viewer, spec):
    watch = Watch(spec, "--port", "0")

    def save(text, what):
        spec.write_text(text, encoding="utf-8")
        viewer.wait(lambda: viewer.ask(f"return {what}"))

    try:
        viewer.open(watch.address[0], TALL)
        viewer.key("ArrowLeft")
        viewer.click("#parts input[value=tail]")
        before = viewer.net()
        save(small("Renamed"), "document.title === 'Renamed'")
        assert viewer.ask("return document.querySelector('h1').textContent") == "Renamed"
        assert viewer.net() == before

        save(
            small("Broken").replace("around = 24", "around = -24"),
            "document.querySelector('.problems')",
        )
        assert "around" in viewer.ask("return document.querySelector('.problems').textContent")
        assert "line" in viewer.ask("return document.querySelector('.problems').textContent")
        assert viewer.ask("return document.title") == "Renamed"
        assert viewer.net() == before

        save(
            small("Longer").replace("[2.5, 3]", "[6.5, 3]"),
            "document.title === 'Longer'",
        )
        assert not viewer.ask("return document.querySelector('.problems')")
        assert viewer.net() != before
        assert viewer.complaints() == []
    finally:
        code, out = watch.end()
    assert code == 0
    assert "Traceback" not in out
    assert out.rstrip().endswith("Ended.")


def test_a_saved_shop_file_is_followed_too(spec):
    watch = Watch(spec, "--port", "0")
    try:
        before = watch.get("/")[1]
        spec.with_name("shop.toml").write_text(
            'units = "in"\n[quote]\nseller = "Shop by the weir"\n', "utf-8"
        )
        deadline = time.monotonic() + 20
        while (after := watch.get("/")[1]) == before and time.monotonic() < deadline:
            time.sleep(0.1)
    finally:
        watch.end()
    assert b"Shop by the weir" not in before
    assert b"Shop by the weir" in after


def test_how_large_the_bow_is_drawn_stays_while_there_is_one(viewer, spec):
    watch = Watch(spec, "--port", "0")
    pick = "document.querySelector('#bow select').value = '5'; document.dispatchEvent(new Event('change'))"
    drawn = "return document.querySelector('#bow select')?.value"

    def save(text, title):
        spec.write_text(text, encoding="utf-8")
        viewer.wait(lambda: viewer.ask("return document.title") == title)

    try:
        viewer.open(watch.address[0], TALL)
        assert viewer.ask(drawn) is None
        save(bowed("Bowed"), "Bowed")
        assert viewer.ask(drawn) == "1"
        viewer.do(pick)
        before = viewer.net()
        save(bowed("Again"), "Again")
        assert viewer.ask(drawn) == "5"
        assert viewer.net() == before
        save(small("Flat"), "Flat")
        assert viewer.ask(drawn) is None
        assert viewer.net() != before
        assert viewer.complaints() == []
    finally:
        watch.end()


def test_nothing_else_is_found(served):
    for path in ("/one.toml", "/changes/", "/../one.toml", "/page.html", "/picture", "/favicon.ico"):
        answer, _ = served.get(path)
        assert answer.status == 404, path
    answer, content = served.get("/picture.webp")
    assert answer.status == 200
    assert content[:4] == b"RIFF"


def test_other_hosts_pages_cannot_read_it(served):
    """Other names of this machine are refused; without leave in the answer no browser hands it over."""
    for host in ("example.org", f"example.org:{served.port}", "127.0.0.1.example.org", ""):
        answer, content = served.get("/", Host=host)
        assert answer.status == 400, host
        assert b"<html" not in content
    for host in ("localhost", f"localhost:{served.port}", f"127.0.0.1:{served.port}"):
        assert served.get("/", Host=host)[0].status == 200
    answer, _ = served.get("/", Origin="https://example.org")
    assert not [name for name in answer.headers if name.lower().startswith("access-control")]
    assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"


def test_it_listens_on_this_machine_only(served):
    others = {info[4][0] for info in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)}
    for address in others - {"127.0.0.1"}:
        with (
            pytest.raises(ConnectionRefusedError),
            socket.create_connection((address, served.port), timeout=2),
        ):
            pass


def test_a_port_that_is_taken_is_left_alone(served, spec):
    second = Watch(spec, "--port", str(served.port))
    code, _ = second.end()
    assert second.port != served.port
    assert f"Port {served.port} is taken" in "".join(second.said)
    assert code == 0


def test_a_spec_that_was_never_good_is_refused(spec):
    spec.write_text("title = 3", encoding="utf-8")
    command = [sys.executable, "-m", "net3d", "watch", str(spec), "--no-browser"]
    ended = subprocess.run(command, capture_output=True, text=True, check=False)
    assert ended.returncode == 2
    assert "title" in ended.stderr
    assert "Traceback" not in ended.stderr


def test_show_builds_when_the_spec_is_newer(spec, capsys, monkeypatch):
    monkeypatch.chdir(spec.parent)
    page = spec.parent / "outputs" / "one" / "page.html"

    def show():
        with pytest.raises(SystemExit) as ending:
            main(["show", "one.toml", "--no-browser"])
        assert not ending.value.code
        return capsys.readouterr().out

    assert "Written to" in show()
    built = page.stat().st_mtime_ns
    assert show().split() == [str(page.relative_to(spec.parent))]
    assert page.stat().st_mtime_ns == built
    later = page.stat().st_mtime + 10
    os.utime(spec, (later, later))
    assert "Written to" in show()
    assert page.stat().st_mtime_ns > built
    shop = spec.with_name("shop.toml")
    shop.write_text('units = "in"\n', "utf-8")
    os.utime(shop, (later + 10, later + 10))
    assert "Written to" in show()


def test_show_opens_the_page(spec, capsys, monkeypatch):
    opened = []
    monkeypatch.chdir(spec.parent)
    monkeypatch.setattr("webbrowser.open", lambda address: opened.append(address) or True)
    with pytest.raises(SystemExit):
        main(["show", "one.toml"])
    assert opened == [(spec.parent / "outputs/one/page.html").as_uri()]


def half_open(port, said=b""):
    """A connection that begins to ask, or not even that."""
    connection = socket.create_connection(("127.0.0.1", port), timeout=20)
    connection.sendall(said)
    return connection


def hung_up(connection):
    """Whether the other side has let go of a connection; waits for what is on its way."""
    connection.settimeout(0.05)
    try:
        return connection.recv(1) == b""
    except TimeoutError:
        return False
    except ConnectionResetError:
        return True


@pytest.mark.skipif(sys.platform == "win32", reason="fewer connections at once there")
def test_half_open_connections_are_let_go_and_shut_nobody_out(served):
    """Nor the page that waits for news: it is being answered, however long that takes."""
    begun = b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n"
    news = half_open(served.port, b"GET /changes HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
    said = b""
    while b"data: " not in said:  # in one piece with the head of the answer, or after it
        said += news.recv(4096)
    opened = [half_open(served.port, begun if number % 2 else b"") for number in range(500)]
    try:
        answer, _ = served.get("/")
        assert answer.status == 200
        kept = [connection for connection in opened if not hung_up(connection)]
        assert len(kept) <= MOST
        deadline = time.monotonic() + PATIENCE + 5
        while kept and time.monotonic() < deadline:
            kept = [connection for connection in kept if not hung_up(connection)]
        assert not kept
        assert not hung_up(news)
    finally:
        for connection in (news, *opened):
            connection.close()
    answer, _ = served.get("/")
    assert answer.status == 200
