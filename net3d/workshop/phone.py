"""The bench on a phone: this machine's own network may read, behind a secret that is good for one run."""

from __future__ import annotations

import hmac
import io
import secrets
import socket
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from ipaddress import ip_address

import segno
from starlette.datastructures import Headers
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Receive, Scope, Send

from net3d.errors import OutputError
from net3d.workshop.guard import GUARDS
from net3d.workshop.serving import LOOPBACK

ONE_BY_ONE = "#one-by-one"  # opens the page of a net at the bench
ELSEWHERE = ("192.0.2.1", 9)  # an address that nobody has: RFC 5737
OTHER_RUN = (
    "This address is not that of this run of net3d: scan the code on the computer's screen, or type the"
    " address below it."
)


@dataclass(frozen=True)
class Phone:
    """Where a phone finds the pages.

    Parameters
    ----------
    host : this machine's address in its network
    port : that is served on
    secret : what every address of this run begins with
    """

    host: str
    port: int
    secret: str = field(default_factory=lambda: secrets.token_urlsafe(16))

    def address(self, place: str = "") -> str:
        """The address of a page.

        >>> Phone("192.168.1.5", 8037, "a1").address("net/weir")
        'http://192.168.1.5:8037/a1/net/weir'
        """
        return f"http://{self.host}:{self.port}/{self.secret}/{place}"

    def picture(self, place: str) -> str:
        """The code of a page's address as the address of an SVG picture."""
        return str(segno.make_qr(self.address(place)).svg_data_uri(scale=4))

    def letters(self, place: str) -> str:
        """The code in half blocks, light on dark, for a terminal."""
        text = io.StringIO()
        segno.make_qr(self.address(place)).terminal(text, compact=True)
        return text.getvalue()

    def amiss(self, method: str, path: str, headers: Headers) -> str:
        """Why a request from the network is refused; empty where it may be answered."""
        own = f"{self.host}:{self.port}"
        if headers.get("host") != own:
            return "This host is not served."
        if headers.get("origin", f"http://{own}") != f"http://{own}":
            return "Only this server's own pages may ask."
        if method not in ("GET", "HEAD"):
            return "From the network nothing can be changed."
        given = path.lstrip("/").partition("/")[0]
        return "" if hmac.compare_digest(given.encode(), self.secret.encode()) else OTHER_RUN


class Gate:
    """Before every answer: what comes from the network gets other pages than what comes from this machine."""

    def __init__(self, app: ASGIApp, phone: Phone, pages: ASGIApp) -> None:
        self.app, self.phone, self.pages = app, phone, pages

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or refuse. Where it came in says the system, and not who asks."""
        if scope["type"] != "http" or scope["server"][0] == LOOPBACK:
            return await self.app(scope, receive, send)
        path = scope["path"]
        if why := self.phone.amiss(scope["method"], path, Headers(scope=scope)):
            return await PlainTextResponse(why, status_code=403, headers=GUARDS)(scope, receive, send)
        rest = "/" + path.lstrip("/").partition("/")[2]
        return await self.pages({**scope, "path": rest, "raw_path": rest.encode()}, receive, send)


def own_address() -> str:
    """The address of this machine in its network. Raises OutputError for none, or one of the internet."""
    for host in _addresses():  # the names are asked for where nothing else is found: that can take its time
        address = ip_address(host)
        if address.is_private and not address.is_loopback:
            return host
        if not address.is_private:
            what = f"{host} is an address of the internet, where anybody could ask"
            raise OutputError(f"--phone: {what}: put this machine behind a router or in its own Wi-Fi first")
    raise OutputError("--phone: this machine is in no network: join the Wi-Fi that the phone is in first")


def _addresses() -> Iterator[str]:
    """By which this machine would reach others, for which nothing is sent; then those that its name has."""
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        asking.connect(ELSEWHERE)
        yield asking.getsockname()[0]
    with suppress(OSError):
        yield from socket.gethostbyname_ex(socket.gethostname())[2]
