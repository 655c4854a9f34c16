"""net3d open: nets worked on in the browser."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import quote

import click

from net3d.commands.options import SpecFile, browser_option, port_option
from net3d.commands.serving import serve_page


@click.command(name="open")
@click.argument("path", metavar="[SPEC or FOLDER]", type=SpecFile(path_type=Path), default=".")
@port_option(8037)
@browser_option
def open_(path: Path, port: int, no_browser: bool) -> None:
    """Work on a net in the browser, or on the nets of a folder: type, look, keep.

    Every change is worked out and seen. The spec's file is written when you keep the net; until then a
    draft stands beside it, which is given back after the browser or the computer was ended. The page is
    served to this machine alone, until Ctrl-C.
    """
    from net3d.errors import OutputError
    from net3d.workshop.app import application
    from net3d.workshop.folder import Folder
    from net3d.workshop.serving import serve

    if not path.exists():
        raise OutputError(f"{path}: there is no such spec or folder; `net3d new NAME` writes a spec")
    folder = Folder(path if path.is_dir() else path.absolute().parent)
    app = application(folder)
    place = "" if path.is_dir() else f"net/{quote(path.stem)}"
    serve_page(lambda opened: serve(app, opened, app.state.pages.end), port, place, "is open", no_browser)
