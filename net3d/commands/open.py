"""net3d open: nets worked on in the browser."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from urllib.parse import quote

import click

from net3d.commands.options import SpecFile
from net3d.commands.printing import tell

PORT = 8037


@click.command(name="open")
@click.argument("path", metavar="[SPEC or FOLDER]", type=SpecFile(path_type=Path), default=".")
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=PORT,
    show_default=True,
    help="Port to serve on; 0 or one that is taken: any that is free.",
)
@click.option("--no-browser", is_flag=True, help="Print the page's address, and open nothing.")
def open_(path: Path, port: int, no_browser: bool) -> None:
    """Work on a net in the browser, or on the nets of a folder: type, look, keep.

    Every change is worked out and seen. The spec's file is written when you keep the net; until then a
    draft stands beside it, which is given back after the browser or the computer was ended. The page is
    served to this machine alone, until Ctrl-C.
    """
    import webbrowser

    from net3d.errors import OutputError
    from net3d.workshop.app import application
    from net3d.workshop.folder import Folder
    from net3d.workshop.serving import open_port, serve

    if not path.exists():
        raise OutputError(f"{path}: there is no such spec or folder; `net3d new NAME` writes a spec")
    folder = Folder(path if path.is_dir() else path.absolute().parent)
    app = application(folder)
    with open_port(port) as opened, suppress(KeyboardInterrupt):
        found = opened.getsockname()[1]
        if port not in (0, found):
            tell(f"Port {port} is taken.")
        address = f"http://127.0.0.1:{found}/" + ("" if path.is_dir() else f"net/{quote(path.stem)}")
        tell(f"{address} is open until Ctrl-C.")
        if not no_browser:
            webbrowser.open(address)
        serve(app, opened, app.state.pages.end)
    tell("Ended.")
