"""The scale model: read back by trimesh, joined by manifold3d, sliced by prusa-slicer."""

import re
import shutil
import subprocess
from itertools import combinations

import manifold3d
import numpy as np
import pytest
import trimesh

from net3d import design
from net3d.errors import NetError
from net3d.parts import ANCHOR_LINE, BRIDLE, Part
from net3d.solids.scale_model import scale_model
from net3d.spec import parse_spec
from net3d.writers.stl import write_stl
from tests.nets import spec_text
from tests.solids.nets import need

pytestmark = pytest.mark.second_route

SCALE, THICKNESS = 10.0, 0.001
FLOAT = 2e-4  # [mm]: coordinates of a net of some metres keep seven figures, before they are scaled
THROAT = {"hoop": 2, "deep": 3, "tip": 6, "strings": {"to_tail": True}}


@pytest.fixture(scope="module")
def net():
    """Three hoops, a throat held by the tail, a bridle; twine weight makes it sag."""
    text = spec_text(
        diameters=(0.42, 0.40, 0.38), deep=(4, 4), tail=4, legs=3, throats=[THROAT], weight=True, around=16
    )
    return design(parse_spec(text))


@pytest.fixture(scope="module")
def solids(net):
    return scale_model(net, SCALE, THICKNESS)


@pytest.fixture(scope="module")
def path(solids, tmp_path_factory):
    path = tmp_path_factory.mktemp("print") / "net.stl"
    write_stl(solids, path)
    return path


@pytest.fixture(scope="module")
def shells(path):
    """Every closed shell of the file, as trimesh finds them by the corners that facets share."""
    return trimesh.load_mesh(path).split(only_watertight=False)


def test_every_shell_is_closed_and_right_side_out(shells, solids):
    assert len(shells) == sum(solid.shell_count for solid in solids)
    assert all(shell.is_watertight and shell.volume > 0 for shell in shells)


def test_it_stands_on_nothing(path):
    """Slicers take the model as it lies: its lowest facet on the plate."""
    assert trimesh.load_mesh(path).bounds[0, 2] == pytest.approx(0.0, abs=1e-4)


def lumps(body):
    """The pieces of a body, but for crumbs that rounding leaves where surfaces meet: under 1e-6 mm3."""
    return [piece for piece in body.decompose() if piece.volume() > 1e-6]


def test_everything_is_joined_to_the_foot(shells):
    """Joined into one body by manifold3d, an unrelated program, the model falls into one piece."""
    pieces = [
        manifold3d.Manifold(manifold3d.Mesh(np.float32(s.vertices), np.uint32(s.faces))) for s in shells
    ]
    assert all(piece.status() == manifold3d.Error.NoError for piece in pieces)
    whole = manifold3d.Manifold.batch_boolean(pieces, manifold3d.OpType.Add)
    assert len(lumps(whole)) == 1
    hoops = manifold3d.Manifold.batch_boolean(pieces[:3], manifold3d.OpType.Add)
    assert len(lumps(hoops)) == 3  # they stand apart, so that the count above can be another


def least_width(shell):
    """How wide a prism is at least, between parallel faces along its length."""
    normals, areas = shell.face_normals, shell.area_faces
    long = np.argsort(-areas)[: len(areas) // 2]
    return min(np.ptp(shell.vertices @ normals[face]) for face in long)


def test_no_twine_is_thinner_than_asked(net, solids):
    prisms = [solid for solid in solids if len(solid.faces) == 4 * 8 - 4]
    assert {BRIDLE, ANCHOR_LINE} <= set(net.netting.parts)
    tied = {part.name for part in net.netting.parts}
    assert {solid.part for solid in prisms} == tied - {"bridle", "anchor-line"}
    for solid in prisms:
        for vertices in solid.vertices(0, solid.shell_count):
            shell = trimesh.Trimesh(1000 * vertices, solid.faces, process=False)
            assert least_width(shell) >= 1000 * THICKNESS - FLOAT


def test_twine_that_is_thick_enough_at_scale_stays_as_it_is(net):
    """Area of the prism's section against the round twine's: pi d^2 / 4, as the full-size model's."""
    fine = scale_model(net, 1.0, 1e-5)
    section = next(solid for solid in fine if solid.part == "section-1-2" and len(solid.faces) == 28)
    bars = net.netting.bars_of(Part.section(1, 2))
    ends = net.shape.knot_positions[net.netting.bars[bars[0]]]
    shell = trimesh.Trimesh(section.vertices(0, 1)[0], section.faces, process=False)
    area = shell.volume / np.linalg.norm(ends[1] - ends[0])
    assert area == pytest.approx(np.pi * net.netting.bar_diameters[bars[0]] ** 2 / 4, rel=1e-3)


def test_it_stands_upright_on_a_flat_ring(path, net, solids):
    model = trimesh.load_mesh(path)
    (low, high) = model.bounds
    down = (model.face_normals[:, 2] < -0.999) & np.isclose(model.triangles[:, :, 2], low[2], atol=FLOAT).all(
        axis=1
    )
    radius = 1000 * (net.plan.hoops[0].outside_diameter - net.plan.hoops[0].rod_diameter) / 2 / SCALE
    ring = np.pi * ((radius + 4) ** 2 - (radius - 4) ** 2)  # 8 mm wide
    assert model.area_faces[down].sum() == pytest.approx(ring, rel=0.01)
    # from the plate: 1.2 mm of foot below the mouth hoop's rod, half of the rod, and the net
    tail = 1.2 + 1000 * (net.plan.hoops[0].rod_diameter / 2 + net.shape.tail_end) / SCALE
    assert high[2] == pytest.approx(tail, abs=1000 * THICKNESS * 1.5)  # but for the twine itself
    centre = model.triangles_center[down].mean(axis=0)
    assert centre[:2] == pytest.approx([0, 0], abs=0.01)


def test_hoops_are_to_scale(net, solids):
    for hoop in net.plan.hoops:
        (ring,) = next(solid for solid in solids if solid.part == f"hoop-{hoop.number}").vertices(0, 1)
        wide = 1000 * np.ptp(ring[:, :2], axis=0)
        rod = max(1000 * hoop.rod_diameter / SCALE, 1.5 * 1000 * THICKNESS)
        middle = 1000 * (hoop.outside_diameter - hoop.rod_diameter) / SCALE
        assert wide == pytest.approx([middle + rod] * 2, rel=0.01)
        assert np.ptp(1000 * ring[:, 2]) >= 1000 * THICKNESS


@pytest.mark.parametrize(("scale", "thickness"), [(0.0, 0.001), (20.0, 0.0), (-1.0, 0.001)])
def test_what_cannot_be_printed_is_refused(net, scale, thickness):
    with pytest.raises(NetError, match="above 0"):
        scale_model(net, scale, thickness)


def test_a_slicer_takes_it(path, tmp_path, solids):
    slicer = shutil.which("prusa-slicer")
    need(slicer, "prusa-slicer")
    gcode = tmp_path / "net.gcode"
    command = [slicer, "--export-gcode", "--layer-height", "0.3", str(path), "-o", str(gcode)]
    ended = subprocess.run(command, capture_output=True, text=True, check=False)
    assert ended.returncode == 0, ended.stderr
    said = (ended.stdout + ended.stderr).lower()
    assert "error" not in said
    assert "empty layer" not in said
    heights = [float(height) for height in re.findall(r"^;Z:([0-9.]+)", gcode.read_text(), re.MULTILINE)]
    points = np.concatenate([1000 * chunk.reshape(-1, 3) for solid in solids for chunk in solid.chunks(999)])
    assert max(heights) == pytest.approx(np.ptp(points[:, 2]), abs=0.6)  # two layers
    assert max(np.diff(heights)) == pytest.approx(0.3, abs=0.01)  # none is left out


def test_no_two_parts_share_a_corner(solids):
    """Programs join facets by their corners: two shells with one in common would no longer be closed."""
    corners = [np.unique(np.float32(s.vertices(0, s.shell_count).reshape(-1, 3)), axis=0) for s in solids]
    for one, other in combinations(corners, 2):
        assert len(np.unique(np.concatenate([one, other]), axis=0)) == len(one) + len(other)
