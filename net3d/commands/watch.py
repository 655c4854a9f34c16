"""net3d watch: a net's page that follows its spec while it is edited."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.commands.options import browser_option, port_option, spec_argument
from net3d.commands.printing import tell
from net3d.commands.serving import serve_page


@click.command()
@spec_argument
@port_option(8036)
@browser_option
def watch(path: Path, port: int, no_browser: bool) -> None:
    """Show the page of a net, and show it anew whenever SPEC or the shop's file is saved.

    The page is served to this machine alone, and nothing is written. A spec that cannot be used shows what
    is wrong with it above the net as it was before. Ctrl-C ends it.
    """
    from net3d.commands.preview import Preview, serve_preview

    preview = Preview(path)
    tell(preview.said)
    serve_page(lambda opened: serve_preview(preview, opened), port, "", f"follows {path}", no_browser)
