"""Serving a page, and ending it at any moment."""

import socket

import pytest

from net3d.commands import serving


def interrupted(*_):
    raise KeyboardInterrupt


@pytest.mark.parametrize(
    "moment", ["while the address is told", "while the browser opens", "while it is served"]
)
def test_an_interrupt_ends_it_well_whenever_it_comes(moment, monkeypatch, capsys):
    served = []
    monkeypatch.setattr("webbrowser.open", interrupted if "browser" in moment else served.append)
    if "told" in moment:
        tell = serving.tell
        monkeypatch.setattr(serving, "tell", lambda text: interrupted() if "until" in text else tell(text))
    serving.serve_page(interrupted if "served" in moment else served.append, 0, "net/a", "is open", False)
    assert capsys.readouterr().out.endswith("Ended.\n")
    assert len(served) == (moment == "while it is served")


def test_a_port_that_is_taken_is_told_and_another_is_served(capsys):
    ports = []
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        serving.serve_page(lambda opened: ports.append(opened.getsockname()[1]), port, "", "is open", True)
    assert ports[0] != port
    assert capsys.readouterr().out.startswith(f"Port {port} is taken.\nhttp://127.0.0.1:{ports[0]}/ is open")
