"""net3d open: nets worked on in the browser."""

from __future__ import annotations

from contextlib import ExitStack, suppress
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

import click

from net3d.commands.options import SpecFile, browser_option, port_option
from net3d.commands.printing import tell
from net3d.commands.serving import serve_page

if TYPE_CHECKING:
    from socket import socket

    from net3d.workshop.phone import Phone


@click.command(name="open")
@click.argument("path", metavar="[SPEC or FOLDER]", type=SpecFile(path_type=Path), default=".")
@port_option(8037)
@browser_option
@click.option("--phone", "on_phone", is_flag=True, help="Let phones in this network read the nets too.")
def open_(path: Path, port: int, no_browser: bool, on_phone: bool) -> None:
    """Work on a net in the browser, or on the nets of a folder: type, look, keep.

    Every change is worked out and seen. The spec's file is written when you keep the net; until then a
    draft stands beside it, which is given back after the browser or the computer was ended. The page is
    served to this machine alone, until Ctrl-C.

    With --phone also this machine's network may read the nets, for the work at the bench, by an address with
    a secret that is good for this run. Nothing can be changed from there.
    """
    from net3d.errors import OutputError
    from net3d.workshop.app import application
    from net3d.workshop.folder import Folder
    from net3d.workshop.phone import ONE_BY_ONE, Phone, own_address
    from net3d.workshop.serving import open_port, serve

    if not path.exists():
        raise OutputError(f"{path}: there is no such spec or folder; `net3d new NAME` writes a spec")
    folder = Folder(path if path.is_dir() else path.absolute().parent)
    place = "" if path.is_dir() else f"net/{quote(path.stem)}"
    with ExitStack() as stack:
        more = [stack.enter_context(open_port(port, own_address()))] if on_phone else []
        phone = Phone(*more[0].getsockname()) if more else None
        app = application(folder, phone)

        def answer(opened: socket) -> None:
            if phone is not None:
                _tell_phone(phone, f"{place}{ONE_BY_ONE}" if place else "")
            serve(app, [opened, *more], app.state.pages.end)

        serve_page(answer, port, place, "is open", no_browser)


def _tell_phone(phone: Phone, place: str) -> None:
    """The address for a phone, as a code to scan too, and who else can use it."""
    with suppress(UnicodeEncodeError):  # a terminal without blocks: the page has the code
        click.echo(click.style(phone.letters(place), fg="bright_white", bg="black"))
    tell(f"{phone.address(place)} on a phone in the same Wi-Fi: scan the code, or type it.")
    tell(
        "Anybody in this network who has that address can read your nets until Ctrl-C, and what is read is"
        " not encrypted; nobody can change anything from there. Use it in a network that you trust."
    )
    tell(
        f"If the phone finds nothing, this machine's firewall keeps port {phone.port} shut: allow Python in"
        " private networks where it asks, or open that port."
    )
