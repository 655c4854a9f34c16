"""net3d show: a net's page in the browser."""

from __future__ import annotations

from pathlib import Path

import click

from net3d.commands.build import build
from net3d.commands.options import folder_option, spec_argument


@click.command("show")
@spec_argument
@folder_option("Folder that holds the net's own folder.")
@click.option("--no-browser", is_flag=True, help="Print where the page is, and open nothing.")
@click.pass_context
def show_page(context: click.Context, path: Path, parent: Path, no_browser: bool) -> None:
    """Open the page of a net in the browser.

    Builds the net first where DIR/NAME/page.html is missing or older than SPEC or the shop's file.
    """
    import webbrowser

    page = parent / path.stem / "page.html"
    if not _is_current(page, path):
        context.invoke(build, path=path, parent=parent)
    if no_browser or not webbrowser.open(page.resolve().as_uri()):
        click.echo(page)


def _is_current(page: Path, spec: Path) -> bool:
    from net3d.spec import files_of

    try:
        files = [spec, *filter(Path.exists, files_of(spec)[1:])]
        return page.stat().st_mtime >= max(file.stat().st_mtime for file in files)
    except OSError:
        return False
