"""The page of a net: everything that it says, put into its template with the viewer beside it."""

from __future__ import annotations

import re
from base64 import b64encode
from dataclasses import dataclass
from datetime import date
from functools import cache
from hashlib import sha256
from importlib.resources import files

from jinja2 import Environment, PackageLoader, StrictUndefined, Template

from net3d.chain import Design
from net3d.checks import told_once
from net3d.checks.checks import Level
from net3d.drawings.drag_plot import drag_plot
from net3d.page.picture import picture_url
from net3d.page.pulls import legend_of, scale_top
from net3d.page.scene import scene_in_waters
from net3d.page.tables import BUILDING, SETTING, hoops_sheet, is_words, tables_of
from net3d.parts import KINDS, Part, palette
from net3d.tables.costs import price_of
from net3d.tables.sizes import customer_facts
from net3d.version import __version__

SCRIPTS = ("scene.js", "camera.js", "painter.js", "labels.js", "hands.js", "main.js")
STYLES = ("page.css",)
FORBID = "default-src 'none'; base-uri 'none'; form-action 'none'"


@dataclass(frozen=True)
class Live:
    """A page that is served while its spec is edited: which state it shows, and what is wrong since then."""

    revision: str
    picture: str  # where the picture is to be had
    problems: tuple[str, ...] = ()


def page_html(design: Design, day: date, live: Live | None = None, picture: bytes | None = None) -> str:
    """The page as HTML text, complete in itself; a ``live`` one also asks its server for changes.

    The ``day`` is printed on it; the ``picture`` of the net, a PNG, is painted anew if there is none.
    """
    shown, told = design.at_work, told_once(design.findings)
    top = scale_top(shown)
    scene = scene_in_waters(design, top)
    return _template().render(
        title=design.spec.title,
        seller=design.spec.quote,
        day=day,
        version=__version__,
        accent=palette.ACCENT.light[1:],
        state=design.shape.state.sentence,
        facts=_facts(design),
        odd=[finding for finding in told if finding.level is not Level.OK],
        fine=[finding.message for finding in told if finding.level is Level.OK],
        checks=len(told),
        switches=_switches(design),
        legend=legend_of(shown, top),
        tables=tables_of(design, day),
        plot=_plot(design),
        cautions={"setting": SETTING, "building": BUILDING},
        hoops=hoops_sheet(design).grid(),
        scene=scene,
        picture=live.picture if live else picture_url(shown, picture),
        live=live,
        policy=_policy(live is not None),
        vertex=_vertex(live is not None or "bow" in scene or "bow" in scene.get("still", ())),
        fragment=_joined(("fragment.glsl",)),
        script=_joined(SCRIPTS),
        style=_style(),
    )


@cache
def _template() -> Template:
    environment = Environment(
        loader=PackageLoader("net3d.page", "."),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.tests["words"] = is_words
    return environment.get_template("page.html")


@cache
def _joined(names: tuple[str, ...]) -> str:
    folder = files("net3d.page")
    return "\n" + "\n".join(folder.joinpath(name).read_text("utf-8") for name in names)


def _style() -> str:
    """The style sheet, with the palette where it leaves room for it."""
    kinds = dict.fromkeys(kind.shade for kind in KINDS.values())
    shades = {f"--net-{shade.name}": shade for shade in (*palette.SCENE, *kinds)}
    shades |= {f"--{shade.name}": shade for shade in palette.PAGE}
    rooms = {
        "light": "".join(f"{name}: {shade.light};" for name, shade in shades.items()),
        "dark": "".join(f"{name}: {shade.dark};" for name, shade in shades.items()),
        "on": "\n".join(f"#parts .{kind.name} {{ background: var(--net-{kind.name}); }}" for kind in kinds),
    }
    style = _joined(STYLES)
    for room, lines in rooms.items():
        style = re.sub(rf"/\* shades {room} \*/", lines, style)
    return style


def _vertex(bowed: bool) -> str:
    """The shader of bars and knots; flat nets are spared what draws a bow larger."""
    plain = _joined(("vertex.glsl",))
    return plain.replace("es\n", "es\n#define BOWED\n", 1) if bowed else plain


def _policy(live: bool) -> str:
    """The Content-Security-Policy: this page's own script and style, pictures in it, and nothing else."""
    script, style = _hash(_joined(SCRIPTS)), _hash(_style())
    own = "img-src 'self' data:; connect-src 'self'" if live else "img-src data:"
    return f"{FORBID}; script-src {script}; style-src {style}; {own}"


def _hash(text: str) -> str:
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


def _facts(design: Design) -> list[tuple[str, str]]:
    """What a customer wants to know; the price where the spec's prices suffice to reckon one."""
    spec, tape = design.spec, design.spec.tape
    facts = [*customer_facts(design)]
    if spec.fish is not None:
        sizes = dict.fromkeys(tape.length(girth) for girth in (spec.fish.girth_min, spec.fish.girth_max))
        facts.append(("Fish it takes", f"{' to '.join(sizes)} around"))
    price = price_of(spec, design.plan, design.string_lengths).price
    return [*facts, ("Price", tape.money(price))] if price is not None else facts


def _plot(design: Design) -> str:
    """Drag against current as the address of an SVG picture; empty for fewer than two currents."""
    if len(design.loads) < 2:
        return ""
    drawing = drag_plot(f"{design.spec.title}: drag", design.spec.tape, design.loads)
    return "data:image/svg+xml;base64," + b64encode(drawing.encode()).decode()


def _switches(design: Design) -> list[tuple[str, str, str]]:
    """Parts that the page switches on and off together: key, paint, and what the maker calls them."""
    hoops = [Part.hoop(hoop.number) for hoop in design.plan.hoops]
    first: dict[str, Part] = {}
    for part in (*hoops, *design.netting.parts):
        first.setdefault(part.switch, part)
    return [
        (key, part.kind.paint.name, part.kind.together or part.title.capitalize())
        for key, part in first.items()
    ]
