"""net.stl read back by numpy-stl, trimesh, VTK and admesh."""

from __future__ import annotations

import re
import shutil
import subprocess
from itertools import product

import numpy as np
import pytest
import stl
import trimesh
from vtkmodules.vtkIOGeometry import vtkSTLReader

from net3d.writers.stl import write_stl
from tests.solids.nets import all_triangles, awkward_net, need, net_of_tube, river_net, solids_for

pytestmark = pytest.mark.second_route


@pytest.fixture(scope="module")
def small_stl(small_solids, tmp_path_factory):
    path = tmp_path_factory.mktemp("stl") / "net.stl"
    write_stl(small_solids, path)
    return path


@pytest.fixture(scope="module")
def small_triangles(small_solids):
    return all_triangles(small_solids) * 1000  # STL has no unit; slicers take millimetres


def test_size_is_what_the_format_says(small_stl, small_triangles):
    # Binary STL: 80 bytes of header, a count of 4, then 50 bytes a facet.
    content = small_stl.read_bytes()
    assert not content.lower().startswith(b"solid")
    assert len(content) == 84 + 50 * len(small_triangles)
    assert int.from_bytes(content[80:84], "little") == len(small_triangles)


def test_numpy_stl_reads_the_same_triangles_and_unit_normals(small_stl, small_triangles):
    facets = stl.mesh.Mesh.from_file(str(small_stl), calculate_normals=False)
    assert np.allclose(facets.vectors, small_triangles, rtol=1e-6)
    written = facets.normals.copy()
    assert np.allclose(np.linalg.norm(written, axis=1), 1.0, atol=1e-6)
    facets.update_normals()
    lengths = np.linalg.norm(facets.normals, axis=1, keepdims=True)
    assert np.allclose(written, facets.normals / lengths, atol=1e-5)


def test_trimesh_reads_a_closed_outward_surface_of_the_same_volume(small_stl, small_solids, small_triangles):
    surface = trimesh.load_mesh(small_stl)
    assert len(surface.faces) == len(small_triangles)
    assert surface.is_watertight
    assert surface.is_winding_consistent
    assert surface.body_count == sum(solid.shell_count for solid in small_solids)
    # Signed volume of a closed surface: sum of a . (b x c) / 6.
    first, second, third = np.moveaxis(small_triangles.astype(float), 1, 0)
    volume = (first * np.cross(second, third)).sum() / 6
    assert surface.volume == pytest.approx(volume, rel=1e-4)
    assert volume > 0


def test_vtk_reads_all_triangles_where_they_are(small_stl, small_triangles):
    reader = vtkSTLReader()
    reader.SetFileName(str(small_stl))
    reader.Update()
    surface = reader.GetOutput()
    assert surface.GetNumberOfPolys() == len(small_triangles)
    bounds = np.reshape(surface.GetBounds(), (3, 2)).T
    assert np.allclose(
        bounds, [small_triangles.min(axis=(0, 1)), small_triangles.max(axis=(0, 1))], atol=1e-3
    )


@pytest.mark.parametrize(("net", "sides"), [*product([net_of_tube, awkward_net], [3, 6, 16]), (river_net, 6)])
def test_admesh_finds_nothing_to_mend(net, sides, tmp_path):
    need(shutil.which("admesh"), "admesh: apt-get install admesh")
    solids = solids_for(net(), sides)
    write_stl(solids, tmp_path / "net.stl")
    command = ["admesh", str(tmp_path / "net.stl")]
    printed = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    report = {
        name.strip(): int(count) for name, count in re.findall(r"^([A-Z][\w ]+?) *: +(\d+)\b", printed, re.M)
    }
    assert report["Number of facets"] == sum(solid.triangle_count for solid in solids)
    assert report["Total disconnected facets"] == 0
    assert report["Number of parts"] == sum(solid.shell_count for solid in solids)
    mended = ["Degenerate facets", "Edges fixed", "Facets removed", "Facets added"]
    mended += ["Facets reversed", "Backwards edges", "Normals fixed"]
    assert [report[what] for what in mended] == [0] * len(mended)
