"""The page of a net: everything that it says, put into its template with the viewer beside it."""

from __future__ import annotations

from datetime import date
from functools import cache
from urllib.parse import quote

from jinja2 import Template
from PIL.Image import Image

from net3d.chain import Design
from net3d.checks import told_once
from net3d.checks.checks import Level
from net3d.drawings.drag_plot import drag_plot
from net3d.drawings.from_above import from_above
from net3d.drawings.kept_plot import kept_plot
from net3d.page.bench import bench_of
from net3d.page.facts import facts_of, switches_of
from net3d.page.parcel import joined, lean, policy_for, style_of, templates_in, vertex_of
from net3d.page.picture import picture_url
from net3d.page.pulls import legend_of, scale_top
from net3d.page.scene import scene_in_waters
from net3d.page.tables import BUILDING, SETTING, hoops_sheet, is_words, tables_of
from net3d.parts import palette
from net3d.tables.kept import kept_of
from net3d.version import __version__

VIEWER = ("scene.js", "camera.js", "painter.js", "labels.js", "hands.js", "main.js")  # of the net in 3D
SCRIPTS = (*VIEWER, "bench.js")
STYLES = ("page.css",)
DRAG = "Drag against current: a band from the lowest to the highest model, and the middle one"
SET = "Setting wings and leader: from above, to scale, with where each stake stands"
KEEPS = (
    "What the mesh keeps over the length of fish: a band from struggling to stiff ones, and the likely one"
)


def page_html(design: Design, day: date, picture: Image | None = None) -> str:
    """The page as HTML text, complete in itself.

    The ``day`` is printed on it; the ``picture`` of the net is painted anew if there is none.
    """
    shown, told = design.at_work, told_once(design.findings)
    top = scale_top(shown)
    scene = scene_in_waters(design, top)
    page = _template().render(
        title=design.spec.title,
        seller=design.spec.quote,
        day=day,
        version=__version__,
        accent=palette.ACCENT.light[1:],
        state=design.shape.state.sentence,
        facts=facts_of(design),
        odd=[finding for finding in told if finding.level is not Level.OK],
        fine=[finding.message for finding in told if finding.level is Level.OK],
        checks=len(told),
        switches=switches_of(design),
        legend=legend_of(shown, top),
        tables=tables_of(design, day),
        plots=_plots(design),
        cautions={"setting": SETTING, "building": BUILDING},
        hoops=hoops_sheet(design).grid(),
        scene=scene,
        bench=bench_of(design),
        picture=picture_url(shown, picture),
        policy=_policy(),
        vertex=vertex_of("bow" in scene or "bow" in scene.get("still", ())),
        fragment=joined(("fragment.glsl",)),
        script=lean(joined(SCRIPTS)),
        style=lean(style_of(STYLES)),
    )
    return lean(page)


@cache
def _template() -> Template:
    environment = templates_in("page")
    environment.tests["words"] = is_words
    return environment.get_template("page.html")


def _policy() -> str:
    """The Content-Security-Policy: this page's own script and style, pictures in it, and nothing else."""
    return f"{policy_for(lean(joined(SCRIPTS)), lean(style_of(STYLES)))}; img-src data:"


def _plots(design: Design) -> list[tuple[str, str, str]]:
    """Curves: an id, what is drawn, and the address of the SVG picture."""
    title, tape, fish = design.spec.title, design.spec.tape, design.spec.fish
    plots = []
    if fish is not None and (kept := kept_of(design)):
        plots.append(("keeps", KEEPS, kept_plot(f"{title}: what the mesh keeps", tape, fish, kept)))
    if design.plan.guides:
        plots.append(("set", SET, from_above(design)))
    if len(design.loads) > 1:
        plots.append(("drag", DRAG, drag_plot(f"{title}: drag", tape, design.loads)))
    return [(name, about, _address(drawing)) for name, about, drawing in plots]


def _address(drawing: str) -> str:
    return "data:image/svg+xml," + quote(drawing, safe=" =/:,;()")
