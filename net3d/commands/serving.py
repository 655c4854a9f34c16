"""What the commands that serve a page share: a port, its address told, and the browser."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING

from net3d.commands.printing import tell

if TYPE_CHECKING:
    from socket import socket


def serve_page(serve: Callable[[socket], None], port: int, place: str, said: str, no_browser: bool) -> None:
    """Serve a page until Ctrl-C, which ends it well at whatever moment it comes.

    Parameters
    ----------
    serve : answers on a socket
    port : wished for; another where it is taken
    place : of the page on the server
    said : behind its address
    no_browser : whether the address is told only
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
        serve(opened)
    tell("Ended.")
