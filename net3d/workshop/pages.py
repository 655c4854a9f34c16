"""The workshop's pages as HTML: where a net is chosen, looked for, and worked on."""

from __future__ import annotations

import json
from functools import cache
from typing import Any
from urllib.parse import quote

from jinja2 import Template

from net3d.page.page import VIEWER
from net3d.page.parcel import joined, policy_for, style_of, templates_in, vertex_of
from net3d.parts import palette
from net3d.spec.boxes import spec_schema_once, wanted_schema_once
from net3d.spec.log import KINDS, MOST_LETTERS
from net3d.tables.cautions import POINTER
from net3d.version import __version__
from net3d.workshop.making import FILES
from net3d.workshop.phone import ONE_BY_ONE, Phone

BOXES = tuple(f"workshop/{name}.js" for name in ("asking", "boxes", "hoops", "form"))
WORK = (*VIEWER, *BOXES, *(f"workshop/{name}.js" for name in ("seen", "work", "record", "torn", "beside")))
WANTING = (*BOXES, "workshop/wanting.js")
START = ("workshop/asking.js", "workshop/start.js")
STYLES = ("page.css", "workshop/workshop.css")
OWN = "img-src 'self' data:; connect-src 'self'"
# A scene in which nothing is yet, for the viewer to begin with.
BARE = {
    "origin": [0, 0, 0],
    "step": 1,
    "knots": "",
    "wide": False,
    "bars": "",
    "pulls": "",
    "groups": [],
    "labels": [],
    "frame": [[0, -0.5, -0.5], [1.5, 0.5, 0.5]],
    "written": 0,
    "water": "",
}


def start_page(names: list[str], lists: list[str], secret: str, problem: str = "") -> str:
    """The page where a net is chosen or begun."""
    return _page("start.html", START, secret, names=names, lists=lists, problem=problem)


def wanting_page(opened: dict[str, Any], secret: str) -> str:
    """The page where nets are looked for that can be made of what is at hand."""
    schema = _told(wanted_schema_once())
    return _page("wanting.html", WANTING, secret, opened=opened, schema=schema, pointer=POINTER)


def work_page(name: str, others: list[str], secret: str, phone: Phone | None) -> str:
    """The page where a net is worked on."""
    return _page(
        "work.html",
        WORK,
        secret,
        name=name,
        others=others,
        phone=phone,
        at_bench=f"net/{quote(name)}{ONE_BY_ONE}",
        files=list(FILES),
        kinds=KINDS,
        most_letters=MOST_LETTERS,
        schema=_told(spec_schema_once()),
        scene=BARE,
        vertex=vertex_of(True),
        fragment=joined(("fragment.glsl",)),
    )


def nets_page(names: list[str]) -> str:
    """The nets for a phone, which reads them at the bench."""
    return _page("nets.html", (), "", names=names)


def _told(schema: dict[str, Any]) -> str:
    return json.dumps(schema).replace("<", "\\u003c")


def _page(template: str, scripts: tuple[str, ...], secret: str, **more: object) -> str:
    script, style = joined(scripts), style_of(STYLES)
    return _template(template).render(
        policy=f"{policy_for(script, style)}; {OWN}",
        script=script,
        style=style,
        secret=secret,
        version=__version__,
        accent=palette.ACCENT.light[1:],
        **more,
    )


@cache
def _template(name: str) -> Template:
    return templates_in("workshop", "page").get_template(name)
