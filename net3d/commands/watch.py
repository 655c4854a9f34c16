"""net3d watch: a net's page that follows its spec while it is edited."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import click

from net3d.commands.options import spec_argument
from net3d.commands.printing import tell

PORT = 8036


@click.command()
@spec_argument
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=PORT,
    show_default=True,
    help="Port to serve on; 0 or one that is taken: any that is free.",
)
@click.option("--no-browser", is_flag=True, help="Print the page's address, and open nothing.")
def watch(path: Path, port: int, no_browser: bool) -> None:
    """Show the page of a net, and show it anew whenever SPEC or the shop's file is saved.

    The page is served to this machine alone, and nothing is written. A spec that cannot be used shows what
    is wrong with it above the net as it was before. Ctrl-C ends it.
    """
    import webbrowser

    from net3d.commands.preview import Preview, serve_preview
    from net3d.workshop.serving import open_port

    preview = Preview(path)
    tell(preview.said)
    with open_port(port) as opened, suppress(KeyboardInterrupt):
        found = opened.getsockname()[1]
        if port not in (0, found):
            tell(f"Port {port} is taken.")
        address = f"http://127.0.0.1:{found}/"
        tell(f"{address} follows {path} until Ctrl-C.")
        if not no_browser:
            webbrowser.open(address)
        serve_preview(preview, opened)
    tell("Ended.")
