"""net.glb read back by trimesh, assimp, VTK and three.js, and judged by the Khronos validator."""

from __future__ import annotations

import json
import shutil
import subprocess
from itertools import product
from pathlib import Path

import assimp_py
import numpy as np
import pytest
import trimesh
from vtkmodules.vtkFiltersGeometry import vtkCompositeDataGeometryFilter
from vtkmodules.vtkIOGeometry import vtkGLTFReader

from net3d.parts import KINDS
from net3d.solids.knots import knot_faces
from net3d.writers.glb import write_glb
from tests.solids.nets import all_triangles, awkward_net, need, net_of_tube, river_net, solids_for

pytestmark = pytest.mark.second_route

NODE = Path(__file__).parent / "node"
PARTS = ["hoop-1", "hoop-2", "hoop-3", "section-1-2", "section-2-3", "tail", "bridle", "anchor-line"]
UNSIGNED_SHORT = 5123  # glTF 2.0, table in section 3.6.2.2


def run_node(script, path):
    need(shutil.which("node"), "node")
    need((NODE / "node_modules").is_dir(), f"npm install in tests/writers/{NODE.name}")
    command = ["node", str(NODE / script), str(path)]
    return json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def description(path):
    """The JSON chunk: after 12 bytes of header its length, its type, its text (glTF 2.0, section 4.4)."""
    content = path.read_bytes()
    assert content[:4] == b"glTF"
    assert int.from_bytes(content[8:12], "little") == len(content)
    return json.loads(content[20 : 20 + int.from_bytes(content[12:16], "little")])


@pytest.fixture(scope="module")
def small_glb(small_solids, tmp_path_factory):
    path = tmp_path_factory.mktemp("glb") / "net.glb"
    write_glb(small_solids, path)
    return path


@pytest.fixture(scope="module")
def triangle_count(small_solids):
    return len(all_triangles(small_solids))


@pytest.fixture(scope="module")
def y_up_bounds(small_solids):
    """Least and greatest corner once z is up no more but y: (x, y, z) becomes (x, z, -y)."""
    x, y, z = np.moveaxis(all_triangles(small_solids), -1, 0)
    turned = np.stack([x, z, -y])
    return np.array([turned.min(axis=(1, 2)), turned.max(axis=(1, 2))])


def test_trimesh_reads_it(small_glb, triangle_count, y_up_bounds):
    scene = trimesh.load_scene(small_glb)
    assert sum(len(surface.faces) for surface in scene.geometry.values()) == triangle_count
    assert np.allclose(scene.bounds, y_up_bounds, atol=1e-6)
    assert set(PARTS) <= set(scene.graph.nodes)
    assert all(surface.is_watertight for surface in scene.geometry.values())


def test_assimp_reads_it(small_glb, triangle_count, y_up_bounds):
    flags = assimp_py.Process_Triangulate | assimp_py.Process_PreTransformVertices
    surfaces = assimp_py.import_file(str(small_glb), flags).meshes
    assert sum(surface.num_faces for surface in surfaces) == triangle_count
    vertices = np.concatenate([np.reshape(surface.vertices, (-1, 3)) for surface in surfaces])
    assert np.allclose([vertices.min(axis=0), vertices.max(axis=0)], y_up_bounds, atol=1e-6)
    root = assimp_py.import_file(str(small_glb), assimp_py.Process_Triangulate).root_node
    assert [part.name for part in root.children] == PARTS


def test_vtk_reads_it(small_glb, triangle_count, y_up_bounds):
    reader = vtkGLTFReader()
    reader.SetFileName(str(small_glb))
    surface = vtkCompositeDataGeometryFilter()
    surface.SetInputConnection(reader.GetOutputPort())
    surface.Update()
    assert surface.GetOutput().GetNumberOfPolys() == triangle_count
    assert np.allclose(np.reshape(surface.GetOutput().GetBounds(), (3, 2)).T, y_up_bounds, atol=1e-6)


def test_three_reads_it(small_glb, triangle_count, y_up_bounds):
    found = run_node("read_three.mjs", small_glb)
    assert found["triangles"] == triangle_count
    assert np.allclose(found["bounds"], y_up_bounds, atol=1e-6)
    words = ["hoop"] * 3 + ["section"] * 2 + ["tail", "bridle", "anchor-line"]
    materials = [KINDS[word].material for word in words]
    colours = ["".join(f"{round(255 * level):02x}" for level in kind.colour) for kind in materials]
    assert found["parts"] == dict(zip(PARTS, colours, strict=True))


@pytest.mark.parametrize(("net", "sides"), [*product([net_of_tube, awkward_net], [3, 6, 16]), (river_net, 6)])
def test_the_khronos_validator_has_nothing_to_say(net, sides, tmp_path):
    solids = solids_for(net(), sides)
    write_glb(solids, tmp_path / "net.glb")
    report = run_node("validate.mjs", tmp_path / "net.glb")
    assert report["issues"]["messages"] == []
    assert report["info"]["totalTriangleCount"] == sum(solid.triangle_count for solid in solids)


@pytest.mark.parametrize("sides", [3, 16])
def test_a_net_of_many_runs_is_whole(sides, tmp_path):
    # More bars than one run holds; with 16 sides 2,048 of them would have one vertex too many for uint16.
    solids = solids_for(net_of_tube(100, 30, 2), sides)
    write_glb(solids, tmp_path / "net.glb")
    report = run_node("validate.mjs", tmp_path / "net.glb")
    assert report["issues"]["messages"] == []
    read = trimesh.load_scene(tmp_path / "net.glb").geometry.values()  # as stored, before the root turns it
    assert np.array_equal(np.concatenate([surface.triangles for surface in read]), all_triangles(solids))


def test_one_named_node_a_part_under_one_root(small_glb):
    nodes = description(small_glb)["nodes"]
    assert [node["name"] for node in nodes] == ["net", *PARTS]
    assert nodes[0]["children"] == list(range(1, len(nodes)))


def test_only_core_gltf_and_one_run_of_indices_for_each_kind_of_shell(small_glb):
    found = description(small_glb)
    assert not {"extensionsUsed", "extensionsRequired"} & set(found)
    indexed = {primitive["indices"] for mesh in found["meshes"] for primitive in mesh["primitives"]}
    accessors = [found["accessors"][number] for number in indexed]
    assert {accessor["componentType"] for accessor in accessors} == {UNSIGNED_SHORT}
    assert len({accessor["bufferView"] for accessor in accessors}) == 3  # hoops, bars, knots
    assert len(found["bufferViews"]) == 5  # indices of each, vertices, and normals of hoops and lines


def test_the_river_net_takes_under_250_bytes_a_bar_knots_apart(tmp_path):
    net = river_net()
    write_glb([solid for solid in solids_for(net) if solid.faces is not knot_faces()], tmp_path / "net.glb")
    assert (tmp_path / "net.glb").stat().st_size / len(net.netting.bars) < 250
