"""A design as a scene of trimesh, beside the GLB of the same design read back by trimesh."""

from collections import defaultdict

import numpy as np
import pytest
import trimesh
from pxr import Usd, Vt

import net3d
from net3d.solids import solids_of
from net3d.writers.about import about_parts
from net3d.writers.glb import write_glb
from net3d.writers.usdz import write_usdz
from tests.nets import EACH_SAMPLE, sample
from tests.writers.test_glb import description

pytestmark = pytest.mark.second_route


@pytest.fixture(scope="module", params=EACH_SAMPLE)
def written(request, tmp_path_factory):
    """A sample, and its model as a file."""
    design = sample(request.param)
    path = tmp_path_factory.mktemp("scene") / "net.glb"
    write_glb(solids_of(design), path, about_parts(design))
    return design, path


def volumes(scene, parts):
    """Volume of every part [m3]; a part may be read in pieces, whose names go on where the part's ends."""
    found = defaultdict(float)
    for name, mesh in scene.geometry.items():
        (part,) = [one for one in parts if name == one or name.startswith((f"{one}_", f"{one}-strings"))]
        found[part] += mesh.volume
    return dict(found)


def test_the_scene_is_the_file(written):
    design, path = written
    scene, read = net3d.scene(design), trimesh.load_scene(path)
    parts = [node["name"] for node in description(path)["nodes"][1:]]
    assert np.allclose(scene.bounds, read.bounds, atol=1e-6)
    assert scene.units == read.units == "meters"
    own, theirs = volumes(scene, parts), volumes(read, parts)
    assert list(own) == list(theirs) == parts
    assert np.allclose(list(own.values()), list(theirs.values()), rtol=1e-5)
    colours = {name: mesh.visual.material.baseColorFactor.tolist() for name, mesh in read.geometry.items()}
    assert all(
        mesh.visual.material.baseColorFactor.tolist() == colours[name]
        for name, mesh in scene.geometry.items()
        if name in colours
    )


def test_the_file_says_how_large_things_are(written):
    """Read from its ``extras``, and measured on its surfaces."""
    design, path = written
    read = trimesh.load_scene(path)
    about = {node["name"]: node.get("extras", {}) for node in description(path)["nodes"]}
    assert about["net"]["units"] == "m"
    for hoop in design.plan.hoops:
        own = about[f"hoop-{hoop.number}"]
        flat = np.ptp(read.geometry[f"hoop-{hoop.number}"].bounds[:, 1:], axis=0)
        if hoop.is_frame:
            assert flat == pytest.approx([own["outside_width_m"], own["outside_height_m"]], rel=2e-3)
            continue
        told = own["outside_diameter_m"]
        assert flat.mean() == pytest.approx(told, rel=2e-3)
        assert about["net"]["outside_diameters_m"][hoop.number - 1] == told
    mesh = about["section-1-2"]["stretched_mesh_m"]
    assert mesh == pytest.approx(design.spec.netting.stretched, abs=1e-6)


def test_a_long_line_is_a_stub_that_says_how_long_it_is(written):
    design, path = written
    nodes = [node for node in description(path)["nodes"] if node["name"].startswith("anchor-line")]
    line = design.spec.rigging.line
    if "anchor-line" not in [part.name for part in design.netting.parts]:
        assert nodes == []
        return
    (node,) = nodes
    assert node["extras"]["length_m"] == pytest.approx(line, rel=1e-6)  # as it is cut
    assert node["name"] == f"anchor-line ({node['extras']['length_m']:.3f} m)"
    length = design.shape.length
    drawn = trimesh.load_scene(path).geometry[node["name"]].bounds
    assert np.linalg.norm(np.ptp(drawn, axis=0)) == pytest.approx(0.35 * length, rel=0.02)
    whole = [solid for solid in solids_of(design, whole=True) if solid.part == "anchor-line"]
    far = max(abs(solid.vertices(0, solid.shell_count)).max() for solid in whole)
    assert far > line


def test_a_phones_file_says_the_same(written, tmp_path):
    """The ``customData`` of the USDZ are the ``extras`` of the GLB, read by usd-core and from the JSON."""
    design, path = written
    if design.plan.throats:
        return  # nothing else is said of them, and they take the longest
    write_usdz(solids_of(design), tmp_path / "net.usdz", about_parts(design))
    stage = Usd.Stage.Open(str(tmp_path / "net.usdz"))
    for node in description(path)["nodes"]:
        part = node["name"].partition(" (")[0]
        prim = stage.GetPrimAtPath("/net" if part == "net" else f"/net/{part.replace('-', '_')}")
        told = prim.GetCustomData()
        told.pop("userDocBrief", None)  # what usd-core says of the kind itself
        said = {key: list(one) if isinstance(one, Vt.DoubleArray) else one for key, one in told.items()}
        assert said == node.get("extras", {}), part
        assert prim.GetDisplayName() == ("" if part == "net" else node["name"])


def test_hoops_and_lines_are_smooth_and_twine_is_flat(written):
    """Of a flat round hoop a normal points from the rod's middle to its surface: geometry of the torus."""
    design, path = written
    told = description(path)
    for mesh in told["meshes"]:
        has = {"NORMAL" in primitive["attributes"] for primitive in mesh["primitives"]}
        lines = "lines" in mesh["name"] or mesh["name"].startswith(("hoop", "rib", "bridle", "anchor-line"))
        assert (True in has) if lines or mesh["name"] == "tail" else has == {False}
    if design.plan.framed or any(
        waves.height > 1e-9 for pose in design.shape.poses for waves in (pose.bow, pose.oval)
    ):
        return
    mesh = trimesh.load(path, process=False).geometry["hoop-1"]
    hoop = design.plan.hoops[0]
    middle = (hoop.outside_diameter - hoop.rod_diameter) / 2
    around = mesh.vertices[:, 1:] / np.linalg.norm(mesh.vertices[:, 1:], axis=1, keepdims=True)
    ring = np.column_stack([np.full(len(around), mesh.vertices[:, 0].mean()), middle * around])
    outward = mesh.vertices - ring
    outward /= np.linalg.norm(outward, axis=1, keepdims=True)
    assert (outward * mesh.vertex_normals).sum(axis=1).min() > 0.995
