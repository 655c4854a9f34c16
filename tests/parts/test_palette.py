"""The palette: nobody else types a colour, and what is drawn and written stands out from its ground."""

import json
import re
import struct
from datetime import date
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from pxr import Usd, UsdShade

import net3d
from net3d.drawings.side import side_view
from net3d.page.page import page_html
from net3d.parts import KINDS, palette
from net3d.solids import solids_of
from net3d.writers.glb import write_glb
from net3d.writers.usdz import write_usdz
from tests.parts.aprons import plain_design

PACKAGE = Path(net3d.__file__).parent
WCAG = "documentation of ColorAide, Contrast: WCAG 2.1's relative luminance, worked out for purple"
DRAWN, WRITTEN = 3.0, 4.5  # WCAG 2.1, 1.4.11 and 1.4.3
SHADES = {
    shade.name: shade for shade in (*palette.SCENE, *palette.PAGE, *(kind.shade for kind in KINDS.values()))
}
PARTS = ("hoop", "tail", "strings", "body", "rope", "throat")
RAMP = ("low", "middling", "high")


def luminance(code):
    """Relative luminance as WCAG 2.1 defines it, with the threshold of IEC 61966-2-1."""
    screen = np.array([int(code[place : place + 2], 16) / 255 for place in (1, 3, 5)])
    linear = np.where(screen <= 0.04045, screen / 12.92, ((screen + 0.055) / 1.055) ** 2.4)
    return float(linear @ [0.2126, 0.7152, 0.0722])


def contrast(one, other):
    """The ratio of WCAG 2.1: (L1 + 0.05) / (L2 + 0.05), the lighter one above."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def between(one, other, share):
    """A colour between two, mixed as the page's shader mixes them."""
    ends = np.array([[int(code[place : place + 2], 16) for place in (1, 3, 5)] for code in (one, other)])
    return "#" + "".join(f"{round(part):02x}" for part in (1 - share) * ends[0] + share * ends[1])


@pytest.mark.published(source=WCAG)
def test_luminance_is_that_of_the_guidelines():
    assert luminance("#800080") == pytest.approx(0.06147707043243851, rel=1e-9)


@pytest.mark.parametrize("mode", ["light", "dark"])
def test_what_is_drawn_stands_out_from_its_ground(mode):
    for name in (*PARTS, "size", *RAMP, "slack", "other"):
        for ground in ("paper", "page", "card"):
            ratio = contrast(getattr(SHADES[name], mode), getattr(SHADES[ground], mode))
            assert ratio >= DRAWN, (name, ground)


@pytest.mark.parametrize("mode", ["light", "dark"])
def test_every_step_of_the_scale_of_pulls_stands_out(mode):
    for low, high in pairwise(RAMP):
        for share in np.linspace(0, 1, 21):
            mixed = between(getattr(SHADES[low], mode), getattr(SHADES[high], mode), share)
            assert contrast(mixed, getattr(SHADES["paper"], mode)) >= DRAWN, (low, share)


@pytest.mark.parametrize("mode", ["light", "dark"])
def test_what_is_written_can_be_read(mode):
    grounds = {"caution": ["caution-wash"], "fail": ["fail-wash"]}
    words = [(name, ground) for name in ("ink", "soft", "accent") for ground in ("page", "card", "paper")]
    words += [(name, ground) for name, those in grounds.items() for ground in those]
    words += [("ink", "caution-wash"), ("ink", "fail-wash")]
    for name, ground in words:
        ratio = contrast(getattr(SHADES[name], mode), getattr(SHADES[ground], mode))
        assert ratio >= WRITTEN, (name, ground)


def test_words_and_strokes_on_paper_can_be_read():
    for code in (
        palette.THROAT_WORDS,
        *(SHADES[n].light for n in ("hoop", "tail", "strings", "body", "rope")),
    ):
        assert contrast(code, palette.WHITE) >= WRITTEN
    assert contrast(SHADES["throat"].light, palette.WHITE) >= DRAWN


def test_nobody_else_types_a_colour():
    suffixes = {".py", ".css", ".html", ".js", ".glsl", ".typ"}
    texts = [path for path in PACKAGE.rglob("*") if path.suffix in suffixes and path.name != "palette.py"]
    assert len(texts) > 150
    typed = {
        (path.name, code)
        for path in texts
        for code in re.findall(r"#[0-9a-fA-F]{6}\b|rgb\(|hsl\(|Colour\(\d", path.read_text("utf-8"))
    }
    assert typed == set()


def screen_code(linear):
    """Light intensities as the code of a screen colour: the curve of IEC 61966-2-1."""
    parts = [12.92 * c if c <= 0.0031308 else 1.055 * c ** (1 / 2.4) - 0.055 for c in linear]
    return "#" + "".join(f"{round(255 * part):02x}" for part in parts)


def test_every_output_has_the_same_colours(tmp_path):
    """Each is read back from what is written: the model, the phone's model, the drawing and the page."""
    design, own = plain_design(), {name: SHADES[name].light for name in PARTS}
    solids = solids_of(design)
    write_glb(solids, tmp_path / "net.glb")
    content = (tmp_path / "net.glb").read_bytes()
    (length,) = struct.unpack_from("<I", content, 12)
    materials = json.loads(content[20 : 20 + length])["materials"]
    read = {m["name"]: screen_code(m["pbrMetallicRoughness"]["baseColorFactor"][:3]) for m in materials}
    assert read == own
    write_usdz(solids, tmp_path / "net.usdz")
    stage = Usd.Stage.Open(str(tmp_path / "net.usdz"))
    shaders = [prim for prim in stage.Traverse() if prim.IsA(UsdShade.Shader)]
    colours = {prim.GetParent().GetName(): UsdShade.Shader(prim).GetInput("diffuseColor") for prim in shaders}
    assert {name: screen_code(colour.Get()) for name, colour in colours.items()} == own
    page = page_html(design, date(2024, 5, 1))
    assert all(f"--net-{name}: {code};" in page for name, code in own.items())
    drawn = set(re.findall(r'(?:stroke|fill)="(#\w{6})"', side_view(design)))
    assert drawn > {own[name] for name in PARTS if name not in ("throat", "tail")}
    paler = {kind.pen.far for kind in KINDS.values()}
    assert drawn <= {*own.values(), palette.THROAT_WORDS, *paler}
