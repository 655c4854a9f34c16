"""What the commands that serve a page share: a port, its address told, and the browser."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from contextlib import contextmanager, suppress

from net3d.commands.printing import tell


@contextmanager
def opened_page(port: int, place: str, said: str, no_browser: bool) -> Iterator[socket.socket]:
    """The socket to serve a page on, which is told and opened in the browser; Ctrl-C ends it.

    Parameters
    ----------
    port : wished for; another where it is taken
    place : of the page on the server
    said : behind its address
    no_browser : whether it is told only
    """
    import webbrowser

    from net3d.workshop.serving import open_port

    with open_port(port) as opened, suppress(KeyboardInterrupt):
        found = opened.getsockname()[1]
        if port not in (0, found):
            tell(f"Port {port} is taken.")
        address = f"http://127.0.0.1:{found}/{place}"
        tell(f"{address} {said} until Ctrl-C.")
        if not no_browser:
            webbrowser.open(address)
        yield opened
    tell("Ended.")
