"""The workshop's server under attack, and what it gives to its own pages."""

import json
import os
import re
import socket
import sys
import time
from pathlib import Path

import pytest

from net3d.page.parcel import joined
from net3d.workshop.connections import MOST
from net3d.workshop.pages import START, WORK
from tests.workshop.conftest import NET


def listing(folder):
    return sorted(path.name for path in folder.iterdir())


def test_other_hosts_and_origins_are_refused(asker, folder):
    for host in ("example.org", "127.0.0.1.example.org", "", "localhost.example.org:80"):
        assert asker.get("/", Host=host).status_code == 400, host
    for origin in ("https://example.org", "null", "http://127.0.0.1:81", "http://localhost"):
        assert asker.get("/net/weir", Origin=origin).status_code == 403, origin
        assert asker.post("/net/weir/undo", Origin=origin).status_code == 403, origin
    assert listing(folder) == ["weir.toml"]


def test_nothing_is_changed_without_the_secret(asker, folder):
    change = {"boxes": {"tail.deep": "6"}}
    for secret in ("", "x", asker.headers["X-Secret"][:-1]):
        assert asker.post("/net/weir/change", change, **{"X-Secret": secret}).status_code == 403
    no_origin = {"X-Secret": asker.headers["X-Secret"]}
    assert asker.ask("POST", "/net/weir/change", json.dumps(change), no_origin).status_code == 403
    assert listing(folder) == ["weir.toml"]


@pytest.mark.parametrize(
    "name",
    [
        "..%2fweir",
        "%2e%2e%2fweir",
        "..",
        ".weir",
        "weir.toml",
        "/etc/passwd",
        "weir%00",
        "shop",
        "outside",
        "%5c..%5cweir",
    ],
)
def test_only_nets_of_the_folder_are_found(asker, folder, name):
    outside = folder.parent / "outside.toml"
    outside.write_text(NET, encoding="utf-8")
    (folder / "shop.toml").write_text('units = "in"\n', encoding="utf-8")
    (folder / "outside.toml").symlink_to(outside)
    for address in (f"/net/{name}", f"/net/{name}/news", f"/net/{name}/about/picture.webp"):
        assert asker.get(address).status_code in (404, 405), address
    assert asker.post(f"/net/{name}/change", {"boxes": {}}).status_code in (404, 405)
    outside.unlink()


def test_what_is_no_file_to_take_is_not_found(asker):
    for file in ("weir.toml", "..%2fweir.toml", "report.json", ".weir.toml.draft"):
        assert asker.get(f"/net/weir/take/{file}").status_code == 404


def test_new_nets_stay_in_the_folder_and_overwrite_nothing(asker, folder):
    before = listing(folder.parent)
    for title in ("../../out", "/etc/x", "weir", "WEIR", "con", "shop", "a\\b"):
        asker.post("/new", {"title": title})
    assert listing(folder.parent) == before
    assert (folder / "weir.toml").read_text("utf-8") == NET
    assert asker.post("/new", {"title": "Weir", "copy": "weir"}).json() == {"name": "weir-4"}
    assert (folder / "weir-4.toml").read_text("utf-8") == NET.replace('"Weir net"', '"Weir"')
    assert asker.post("/new", {"title": ""}).status_code == 422


def test_a_net_of_hoops_that_lie_on_the_floor(asker, folder):
    answer = asker.post("/new", {"title": "Found hoops", "tapes": ["96", "95 1/2", "94", " "]})
    text = (folder / f"{answer.json()['name']}.toml").read_text("utf-8")
    assert [line for line in text.splitlines() if line.startswith("circumference")] == [
        'circumference = "96"',
        'circumference = "95 1/2"',
        'circumference = "94"',
    ]


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"[]",
        b"3",
        b"\xff",
        b'{"boxes": 3}',
        b'{"boxes": {"a": {}}}',
        b"[" * 90_000,
        b'{"x": ' + b"9" * 5000 + b"}",
    ],
)
def test_bodies_that_are_none_are_refused(asker, folder, body):
    answer = asker.ask("POST", "/net/weir/change", body, asker.headers)
    assert answer.status_code in (400, 422)
    assert answer.json()["problems"]
    assert listing(folder) == ["weir.toml"]


def test_huge_bodies_are_cut_off(asker):
    answer = asker.ask("POST", "/net/weir/change", b" " * 200_000, asker.headers)
    assert answer.status_code == 413


def test_fifty_changes_a_second_end_in_the_last(asker, folder):
    asker.post("/net/weir/change", {"boxes": {"tail.deep": "3"}})  # all is loaded
    before = resident()
    for deep in range(4, 54):
        change = {"boxes": {"tail.deep": str(deep)}, "more": "x" * 90_000}
        assert asker.post("/net/weir/change", change).status_code == 200
    assert asker.post("/net/weir/keep").json() == {"file": "weir.toml"}
    assert (folder / "weir.toml").read_text("utf-8") == NET.replace("deep = 4\n", "deep = 53\n")
    assert resident() - before < 2e6  # 4.5 MB were sent


def resident():
    """Memory that this process, the server in it, has in use [bytes]; 0 where nobody tells."""
    told = Path("/proc/self/statm")
    return int(told.read_text("ascii").split()[1]) * os.sysconf("SC_PAGE_SIZE") if told.exists() else 0


def test_a_refusal_names_the_box(asker):
    answer = asker.post("/net/weir/change", {"boxes": {"hoop.2.rod": "thick"}})
    (problem,) = answer.json()["problems"]
    assert (answer.status_code, problem["key"]) == (422, "hoop.2.rod")
    assert "thick" in problem["message"]


def test_every_answer_is_kept_from_other_sites(asker):
    for answer in (asker.get("/"), asker.get("/net/weir"), asker.post("/net/weir/undo")):
        assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"
        assert not [name for name in answer.headers if name.lower().startswith("access-control")]


def test_files_are_made_of_what_is_seen(asker, folder):
    asker.post("/net/weir/change", {"boxes": {"title": "Not kept yet"}})
    without_price = asker.get("/net/weir/take/quote.pdf")
    assert (without_price.status_code, "price" in without_price.text) == (422, True)
    answer = asker.get("/net/weir/take/page.html")
    assert answer.headers["Content-Disposition"] == 'attachment; filename="page.html"'
    assert "<title>Not kept yet</title>" in answer.text
    about = json.loads(asker.get("/net/weir/about/about.json").content)
    assert about["title"] == "Weir net"  # the start page tells what is kept
    beside = asker.get("/net/weir/beside/weir").json()
    assert beside["keys"] == [["title", "Not kept yet", "Weir net"]]
    assert beside["comes"] == []


def test_no_two_scripts_of_a_page_have_the_same_name():
    """They are one module, in which a name that is there twice stops all of it."""
    for scripts in (WORK, START):
        names = re.findall(
            r"^(?:const|let|class|async function|function) (\w+)", joined(scripts), re.MULTILINE
        )
        assert len(names) > 5
        assert sorted(names) == sorted(set(names))


def test_half_a_body_is_not_waited_for(asker, folder, monkeypatch):
    monkeypatch.setattr("net3d.workshop.guard.PATIENCE", 0.2)
    lines = ["POST /net/weir/change HTTP/1.1", f"Host: 127.0.0.1:{asker.port}", "Content-Length: 900"]
    lines += [f"{name}: {value}" for name, value in asker.headers.items()]
    with socket.create_connection(("127.0.0.1", asker.port), timeout=20) as half:
        half.sendall("\r\n".join([*lines, "", '{"boxes"']).encode())
        assert half.recv(4096).startswith(b"HTTP/1.1 408")
    assert listing(folder) == ["weir.toml"]


def test_it_listens_on_this_machine_only(asker):
    others = {info[4][0] for info in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)}
    for address in others - {"127.0.0.1"}:
        with (
            pytest.raises(ConnectionRefusedError),
            socket.create_connection((address, asker.port), timeout=2),
        ):
            pass


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
def test_half_open_connections_are_let_go_and_shut_nobody_out(asker, monkeypatch):
    """Nor the page that waits for news: it is being answered, however long that takes."""
    monkeypatch.setattr("net3d.workshop.connections.PATIENCE", 2.0)
    begun = b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n"
    news = half_open(asker.port, b"GET /net/weir/news HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
    said = b""
    while b"event: whole" not in said:  # what follows comes only when something changes
        said += news.recv(65536)
    opened = [half_open(asker.port, begun if number % 2 else b"") for number in range(500)]
    try:
        assert asker.get("/").status_code == 200
        kept = [connection for connection in opened if not hung_up(connection)]
        assert len(kept) <= MOST
        deadline = time.monotonic() + 10
        while kept and time.monotonic() < deadline:
            kept = [connection for connection in kept if not hung_up(connection)]
        assert not kept
        assert asker.post("/net/weir/change", {"boxes": {"tail.deep": "6"}}).status_code == 200
        news.settimeout(20)
        while b'"deep": 6' not in said:
            said += news.recv(65536)
    finally:
        for connection in (news, *opened):
            connection.close()
    assert asker.get("/").status_code == 200
