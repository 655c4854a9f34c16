"""The USDZ file, read back by usd-core's own reader."""

import builtins
import struct
import zipfile

import numpy as np
import pytest
from pxr import Usd, UsdGeom, UsdShade

from net3d.errors import OutputError
from net3d.writers.usdz import write_usdz
from tests.solids.nets import KNOT_RADIUS, ROD_DIAMETER

pytestmark = pytest.mark.second_route


@pytest.fixture(scope="module")
def stage(small_solids, tmp_path_factory):
    path = tmp_path_factory.mktemp("usdz") / "net.usdz"
    write_usdz(small_solids, path)
    return Usd.Stage.Open(str(path))


def points_of(stage, part):
    """Every point of a part as it stands in the room [m]."""
    mesh = UsdGeom.Mesh(stage.GetPrimAtPath(f"/net/{part}"))
    place = np.array(UsdGeom.Xformable(mesh).ComputeLocalToWorldTransform(Usd.TimeCode.Default()))
    return np.array(mesh.GetPointsAttr().Get()) @ place[:3, :3] + place[3, :3]


def test_metres_and_y_up(stage):
    assert UsdGeom.GetStageUpAxis(stage) == UsdGeom.Tokens.y
    assert UsdGeom.GetStageMetersPerUnit(stage) == 1.0
    assert stage.GetDefaultPrim().GetPath() == "/net"


def test_every_part_is_there_with_all_its_triangles(stage, small_solids):
    parts = {solid.part for solid in small_solids}
    meshes = [prim for prim in stage.Traverse() if prim.IsA(UsdGeom.Mesh)]
    assert {prim.GetName().replace("_", "-") for prim in meshes} == parts
    for prim in meshes:
        part = prim.GetName().replace("_", "-")
        faces = np.array(UsdGeom.Mesh(prim).GetFaceVertexIndicesAttr().Get()).reshape(-1, 3)
        assert len(faces) == sum(solid.triangle_count for solid in small_solids if solid.part == part)
        assert faces.max() == len(UsdGeom.Mesh(prim).GetPointsAttr().Get()) - 1
        assert set(np.array(UsdGeom.Mesh(prim).GetFaceVertexCountsAttr().Get())) == {3}


def test_true_size_and_standing_on_the_floor(stage, small_net):
    outside = 2 * (KNOT_RADIUS + ROD_DIAMETER)
    hoop = points_of(stage, "hoop_1")
    assert np.ptp(hoop, axis=0)[1:] == pytest.approx([outside] * 2, rel=0.005)
    every = np.concatenate(
        [points_of(stage, f"hoop_{n}") for n in (1, 2, 3)] + [points_of(stage, "anchor_line")]
    )
    assert every[:, 1].min() == pytest.approx(0.0, abs=1e-6)
    apart = points_of(stage, "hoop_3")[:, 0].mean() - hoop[:, 0].mean()
    assert apart == pytest.approx(small_net.shape.hoop_positions[2] - small_net.shape.hoop_positions[0])


def test_no_side_is_mirrored(stage, small_net):
    """The bridle's ring stands 0.6 m to the left, y, which is -z once y is up: x, y, z become x, z, -y."""
    bridle, middle = points_of(stage, "bridle"), points_of(stage, "hoop_1").mean(axis=0)
    ring = bridle[bridle[:, 0] < bridle[:, 0].min() + 0.01].mean(axis=0) - middle
    assert ring == pytest.approx([-0.75, 0.0, -0.6], abs=0.01)


def test_shells_are_right_side_out(stage):
    """Volume by the divergence theorem: the sum of det(a, b, c) / 6 over all triangles is above 0."""
    for prim in stage.Traverse():
        if prim.IsA(UsdGeom.Mesh):
            mesh = UsdGeom.Mesh(prim)
            faces = np.array(mesh.GetFaceVertexIndicesAttr().Get()).reshape(-1, 3)
            assert np.linalg.det(np.array(mesh.GetPointsAttr().Get(), float)[faces]).sum() > 0
            assert mesh.GetOrientationAttr().Get() == UsdGeom.Tokens.rightHanded


def test_every_part_has_a_colour(stage):
    for prim in stage.Traverse():
        if prim.IsA(UsdGeom.Mesh):
            material, _ = UsdShade.MaterialBindingAPI(prim).ComputeBoundMaterial()
            shader, _, _ = material.ComputeSurfaceSource()
            assert shader.GetIdAttr().Get() == "UsdPreviewSurface"
            assert max(shader.GetInput("diffuseColor").Get()) > 0


def test_it_is_a_package_by_the_rules(small_solids, tmp_path):
    """Files are stored as they are, and each starts at a multiple of 64 bytes: USDZ specification."""
    path = tmp_path / "net.usdz"
    write_usdz(small_solids, path)
    with zipfile.ZipFile(path) as archive:
        (about,) = archive.infolist()
    assert about.filename.endswith(".usdc")
    assert about.compress_type == zipfile.ZIP_STORED
    content = path.read_bytes()
    named, extra = struct.unpack_from("<HH", content, about.header_offset + 26)  # of the local file header
    start = about.header_offset + 30 + named + extra
    assert start % 64 == 0
    assert content[start : start + 8] == b"PXR-USDC"


def test_without_usd_core_it_says_what_to_install(small_solids, tmp_path, monkeypatch):
    real = builtins.__import__

    def without(name, *rest, **more):
        if name.startswith("pxr"):
            raise ImportError(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(OutputError, match="usd-core"):
        write_usdz(small_solids, tmp_path / "net.usdz")
    assert not list(tmp_path.iterdir())
