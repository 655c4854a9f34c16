"""The page of proposals: a picture of each, why it was chosen, and what was ruled out."""

from __future__ import annotations

from importlib.resources import files

from jinja2 import Environment, StrictUndefined

from net3d.propose import words
from net3d.propose.search import Proposals
from net3d.tables.cautions import POINTER


def proposals_html(result: Proposals) -> str:
    """The page, which shows the pictures that stand beside it; every text in it is escaped."""
    template = files("net3d.propose").joinpath("proposals.html").read_text("utf-8")
    page = Environment(autoescape=True, undefined=StrictUndefined).from_string(template)
    return page.render(
        title=result.wanted.form.title,
        nets=words.sentences(result),
        ended=words.ended(result),
        ruled=words.hindrances(result),
        pointer=POINTER,
    )
