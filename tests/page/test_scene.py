"""What the viewer gets: every knot in its place, every bar with its pull, in few bytes; and its own size."""

import os
import shutil
import subprocess
from base64 import b64decode
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from net3d import design as work_out
from net3d.page import page
from net3d.page.pulls import scale_top, slack_bars
from net3d.page.scene import scene_of
from net3d.parts import ANCHOR_LINE
from net3d.spec import parse_spec
from net3d.workshop.pages import START, WANTING, WORK
from tests.nets import spec_text

VIEWER = files("net3d.page")
SCRIPTS = sorted(Path(str(VIEWER)).glob("*.js"))


@pytest.fixture(scope="module")
def scene(design):
    return scene_of(design, scale_top(design))


def knots_of(scene):
    steps = np.frombuffer(b64decode(scene["knots"]), "<u2").reshape(-1, 3)
    return np.array(scene["origin"]) + steps * scene["step"]


def bars_of(scene):
    return np.frombuffer(b64decode(scene["bars"]), "<u4" if scene["wide"] else "<u2").reshape(-1, 2)


def test_knots_lie_where_the_net_hangs(scene, design):
    """A long anchor line is drawn short, so its far end lies elsewhere."""
    places = design.shape.knot_positions
    near = np.linalg.norm(knots_of(scene)[: len(places)] - places, axis=1) < scene["step"]
    far_ends = design.netting.bars[design.netting.bars_of(ANCHOR_LINE), 1]
    assert set(np.flatnonzero(~near)) <= set(far_ends.tolist())
    assert scene["step"] < design.netting.bar_diameters.min() / 10


def test_every_bar_is_there_with_its_pull(scene, design):
    bars, pulls = bars_of(scene), np.frombuffer(b64decode(scene["pulls"]), np.uint8)
    count = len(design.netting.bars)
    own = np.argsort(design.netting.bar_parts, kind="stable")  # the scene goes through them part by part
    assert (bars[:count] == design.netting.bars[own]).all()
    tensions, top = design.shape.bar_tensions[own], scale_top(design)
    tight = pulls[:count] < 254
    shown = pulls[:count][tight] / 250 * top
    assert np.abs(shown - tensions[tight].clip(0, top)).max() <= top / 500 + 1e-12
    assert set(own[~tight].tolist()) == set(slack_bars(design).tolist())
    ease = set(own[pulls[:count] == 254].tolist())
    throats = [
        bar for part in design.netting.parts for bar in design.netting.bars_of(part) if part.word == "throat"
    ]
    assert ease == set(throats) & set(slack_bars(design).tolist())


def test_slack_bars_are_those_that_the_report_counts(design):
    """The report's shares of slack bars, a part at a time."""
    slack = slack_bars(design)
    parts = [
        *(section.part for section in design.plan.sections),
        *(throat.part for throat in design.plan.throats),
    ]
    shares = [shape.slack_share for shape in (*design.shape.sections, *design.shape.throats)]
    for part, share in zip(parts, shares, strict=True):
        bars = design.netting.bars_of(part)
        assert np.isin(bars, slack).mean() == pytest.approx(share, abs=1e-9)


def test_a_bar_takes_ten_bytes(scene, design):
    size = sum(len(b64decode(scene[name])) for name in ("knots", "bars", "pulls"))
    assert size / len(design.netting.bars) < 10


def test_the_viewer_is_small():
    """What draws, and what is beside it: the bench knows nothing of the net in 3D."""
    for names, most in ((set(page.VIEWER), 550), (set(page.SCRIPTS) - set(page.VIEWER), 180)):
        lines = [
            line for path in SCRIPTS if path.name in names for line in path.read_text("utf-8").splitlines()
        ]
        assert 0 < len(lines) <= most
        assert max(map(len, lines)) <= 120


@pytest.mark.parametrize("names", [page.SCRIPTS, WORK, WANTING, START])
def test_the_scripts_of_every_page_are_typed(names):
    package = Path(str(VIEWER)).parent
    scripts = [package / (name if "/" in name else f"page/{name}") for name in names]
    own = Path(__file__).parent.parent / "writers" / "node" / "node_modules" / ".bin" / "tsc"
    compiler = str(own) if own.exists() else shutil.which("tsc")
    if compiler is None:
        if os.environ.get("CI") == "true":
            pytest.fail("needs the npm package typescript")
        pytest.skip("needs the npm package typescript")
    flags = ["--noEmit", "--allowJs", "--checkJs", "--strict", "--target", "es2022"]
    command = [compiler, *flags, "--lib", "es2022,dom,dom.iterable", *map(str, scripts)]
    ended = subprocess.run(command, capture_output=True, text=True, check=False)
    assert ended.returncode == 0, ended.stdout


def test_a_hole_is_left_out_and_its_rim_drawn_thick():
    """A knot of four bars is torn out: eight are around it, of the four meshes that met there."""
    text = spec_text(around=16, diameters=(0.36, 0.36), deep=(6,), extra='[[hole]]\nknots = ["5:7"]\n')
    holed = work_out(parse_spec(text))
    scene = scene_of(holed, scale_top(holed))
    drawn = [tuple(sorted(ends)) for ends in bars_of(scene).tolist()]
    torn = {tuple(sorted(ends)) for ends in holed.netting.bars[holed.torn.gone].tolist()}
    assert len(torn) == 4
    assert torn.isdisjoint(drawn)
    body = [group for group in scene["groups"] if group["part"] == "section-1-2"]
    twine = float(holed.netting.bar_diameters[0]) / 2
    assert [group["count"] for group in body] == [8, len(holed.netting.bars_of(holed.netting.parts[0])) - 12]
    assert body[0]["radius"] > 2 * twine > body[1]["radius"]
    (label,) = [label for label in scene["labels"] if label["text"].startswith("hole")]
    assert label["text"] == "hole 1, 0.400 m around"  # eight bars of 5 cm
