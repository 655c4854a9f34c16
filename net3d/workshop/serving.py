"""A port of this machine alone, or of an address of its network, and the server on them."""

from __future__ import annotations

import os
import socket
from collections.abc import Callable, Sequence
from types import FrameType

import uvicorn
from starlette.applications import Starlette

from net3d.workshop.connections import Connection

LOOPBACK = "127.0.0.1"


class _Server(uvicorn.Server):
    """A server that says when it is about to end, so that open streams of news end too."""

    ending: Callable[[], None]

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        self.ending()
        super().handle_exit(sig, frame)


def open_port(port: int, host: str = LOOPBACK) -> socket.socket:
    """A port of one of this machine's addresses, listening: the one asked for, or any if that is taken."""
    opened = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if os.name == "posix":  # elsewhere this would share the port with whoever has it
        opened.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        opened.bind((host, port))
    except OSError:
        opened.bind((host, 0))
    opened.listen()
    return opened


def serve(app: Starlette, opened: Sequence[socket.socket], ending: Callable[[], None]) -> None:
    """Serve until it is interrupted. Raises KeyboardInterrupt when all is closed.

    Parameters
    ----------
    app : what answers
    opened : the ports, listening
    ending : called when it is about to end
    """
    config = uvicorn.Config(
        app, http=Connection, log_level="error", ws="none", timeout_graceful_shutdown=2, lifespan="on"
    )
    server = _Server(config)
    server.ending = ending
    server.run(sockets=list(opened))
