"""A kind that net3d has never heard of: with its one row it is in every output, without it all refuse it.

What is looked for is the apron's own name, or a colour that nothing else in the net has.
"""

import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest
import trimesh
from pxr import Usd

from net3d.checks.every_check import check
from net3d.drawings.painting import painted_view
from net3d.drawings.side import side_view
from net3d.errors import PartError
from net3d.page.page import page_html
from net3d.page.pulls import legend_of, scale_top
from net3d.page.scene import scene_of
from net3d.parts import Part
from net3d.shop.amounts import amounts
from net3d.solids import solids_of
from net3d.solids.scale_model import scale_model
from net3d.tables.bearing import netting_sheet
from net3d.water.loads import loads_in
from net3d.writers.build_files import BUILD_FILES, Making, write_build
from net3d.writers.glb import write_glb
from net3d.writers.named_stl import write_named_stl
from net3d.writers.report import report_text
from net3d.writers.usdz import write_usdz
from tests.parts.aprons import (
    KINDS_OF_APRON,
    MAGENTA,
    aproned_design,
    known,
    listed,
    plain_design,
    planned,
    tied,
)

NAME = "apron-1"


@pytest.fixture(scope="module")
def plain():
    return plain_design()


@pytest.fixture(scope="module", params=KINDS_OF_APRON)
def finished(request):
    """The net with an apron of every make, and the row of its kind, which is no longer in the table."""
    kind = KINDS_OF_APRON[request.param]
    with known(kind):
        return aproned_design(), kind


@pytest.fixture
def aproned(finished):
    """The net with an apron while its kind is known."""
    design, kind = finished
    with known(kind), planned(), listed():
        yield design


def in_glb(design, folder):
    write_glb(solids_of(design), folder / "net.glb")
    return set(trimesh.load(folder / "net.glb").geometry)


def in_stl(design, folder):
    write_named_stl(solids_of(design), folder / "net.stl")
    lines = Path(folder, "net.stl").read_text("ascii").splitlines()
    return {line.removeprefix("solid ") for line in lines if line.startswith("solid ")}


def in_usdz(design, folder):
    write_usdz(solids_of(design), folder / "net.usdz")
    stage = Usd.Stage.Open(str(folder / "net.usdz"))
    return {prim.GetName().replace("_", "-") for prim in stage.Traverse()}


def in_scale_model(design, folder):
    return {solid.part for solid in scale_model(design, 10.0, 0.001)}


def in_scene(design, folder):
    return {group["part"] for group in scene_of(design, scale_top(design))["groups"]}


def in_page(design, folder):
    text = page_html(design, date(2024, 5, 1))
    has = f'value="{NAME}"' in text and f"--net-apron: {MAGENTA}" in text and "#parts .apron {" in text
    return {NAME} if has and "Apron 1</label>" in text else set()


def in_picture(design, folder):
    red, green, blue = painted_view(design, "quarter", (400, 250)).astype(int).transpose(2, 0, 1)
    return {NAME} if (np.minimum(red, blue) - green > 60).any() else set()


def in_side_view(design, folder):
    return {NAME} if f'stroke="{MAGENTA}"' in side_view(design) else set()


def in_checks(design, folder):
    found = check(design.spec, design.plan, design.netting, design.shape)
    return {finding.part.name for finding in found if finding.part}


def in_build(design, folder):
    """Every file of a build is written; a report says what was found before, so it is looked at by itself."""
    write_build(Making(design, 6), folder, lambda text: None)
    assert {path.name for path in folder.iterdir()} >= {file.name for file in BUILD_FILES}
    telling = [Path(folder, name).read_bytes() for name in ("net.glb", "page.html")]
    return {NAME} if all(NAME.encode() in told for told in telling) else set()


OUTPUTS = (
    in_glb,
    in_stl,
    in_usdz,
    in_scale_model,
    in_scene,
    in_page,
    in_picture,
    in_side_view,
    in_checks,
    in_build,
)


@pytest.mark.parametrize("output", OUTPUTS)
def test_a_kind_with_a_row_is_in_every_output(output, aproned, plain, tmp_path):
    assert NAME in output(aproned, tmp_path)
    assert NAME not in output(plain, tmp_path)


@pytest.mark.parametrize("output", OUTPUTS)
def test_a_kind_without_a_row_is_refused_by_name(output, finished, tmp_path):
    with pytest.raises(PartError, match="'apron'"):
        output(finished[0], tmp_path)


def test_no_net_is_tied_with_a_kind_without_a_row():
    with pytest.raises(PartError, match="'apron'"):
        aproned_design()


def test_what_is_tied_must_be_planned_and_what_is_planned_must_be_listed(plain):
    """Else the lists of what to buy, and the price, would leave it out without a word."""
    with known():
        with tied(), pytest.raises(PartError, match="apron-1: tied, and not planned"):
            plain_design()
        with planned(), pytest.raises(PartError, match="apron-1: planned, and nothing on the list is for it"):
            amounts(plain.spec, plain.plan, plain.string_lengths)
        with planned(), listed():
            needed = amounts(plain.spec, plain.plan, plain.string_lengths)
    assert needed[-1].item == "apron netting"


@pytest.mark.parametrize("name", ["section-1-2", "tail", "throat-1", "strings-1", "bridle", "anchor-line"])
@pytest.mark.parametrize("output", OUTPUTS)
def test_a_part_renamed_in_a_finished_net_is_not_passed_over(output, name, plain, tmp_path):
    """It comes out under its new name, or what needs it says that it is gone."""
    place = [part.name for part in plain.netting.parts].index(name)
    with known():
        parts = (*plain.netting.parts[:place], Part("apron", (1,)), *plain.netting.parts[place + 1 :])
        renamed = replace(plain, netting=replace(plain.netting, parts=parts))
        try:
            told = output(renamed, tmp_path)
        except PartError as refused:
            told = {NAME} if f"no {name}:" in str(refused) else set()
    assert NAME in told


def test_the_report_tells_of_it(aproned):
    report = json.loads(report_text(aproned))
    told = [finding for finding in report["findings"] if finding["part"] == NAME]
    assert [finding["code"] for finding in told] == ["twine-overload"]
    assert told[0]["message"].startswith("Apron 1: ")
    assert ("rope" in told[0]["message"]) == aproned.netting.parts[-1].kind.rope


def test_only_twine_can_be_slack(aproned, plain):
    bars = [legend_of(design, scale_top(design)).bars for design in (aproned, plain)]
    around = aproned.plan.hoops[0].meshes_around
    assert bars[0] - bars[1] == (2 * around if aproned.netting.parts[-1].kind.twine else 0)


def test_netting_that_shelters_is_netting_to_the_water(aproned, plain):
    """All of it is dragged: as a row of netting where it shelters, else as so many cylinders."""
    (loads,) = loads_in(aproned.spec, aproned.plan, (aproned.netting, aproned.shape), (0.5,))
    part = aproned.netting.parts[-1]
    own = aproned.netting.bars_of(part)
    assert part.name == NAME
    assert np.linalg.norm(loads.standing.drag.bar_forces[own], axis=1).min() > 0
    assert (loads.standing.bands.bar_bands[own] >= 0).all() == part.kind.shelters
    listed = [row[0] for row in netting_sheet(aproned, loads).rows]
    assert (NAME in listed) == part.kind.shelters
    assert loads.waist == pytest.approx(plain.loads[0].waist, rel=0.02)  # an apron has none
