"""The surfaces for a drag study, read back by an unrelated reader (PyPI trimesh) and in a plain loop."""

import numpy as np
import pytest
import trimesh

from net3d.solids import build_solids
from net3d.writers.named_stl import explanation, write_named_stl
from tests.nets import make

pytestmark = pytest.mark.second_route

KEYS = {"diameters": (0.32, 0.32), "deep": (4,), "tail": 5, "legs": 3}
SIDES = 4


@pytest.fixture(scope="module")
def solids():
    net = make(**KEYS)
    return build_solids(net.plan, net.netting, net.settled(), SIDES)


@pytest.fixture(scope="module")
def path(solids, tmp_path_factory):
    path = tmp_path_factory.mktemp("cfd") / "net.stl"
    write_named_stl(solids, path)
    return path


def test_one_named_solid_a_part(solids, path):
    lines = path.read_text("ascii").splitlines()
    opened = [line.split()[1] for line in lines if line.startswith("solid ")]
    closed = [line.split()[1] for line in lines if line.startswith("endsolid ")]
    assert opened == closed == list(dict.fromkeys(solid.part for solid in solids))
    assert sum(line.startswith("facet ") for line in lines) == sum(s.triangle_count for s in solids)


def test_an_unrelated_reader_finds_closed_shells_in_metres(solids, path):
    scene = trimesh.load(path)
    meshes = list(scene.geometry.values())
    assert sum(len(mesh.faces) for mesh in meshes) == sum(solid.triangle_count for solid in solids)
    assert all(mesh.is_watertight for mesh in meshes)
    # The hoop: a torus of 0.32 m outside, 0.01 m rod, 2 pi^2 R r^2 with R = 0.155, r = 0.005.
    volumes = [mesh.volume for mesh in meshes]
    torus = 2 * np.pi**2 * 0.155 * 0.005**2
    assert min(abs(volume / torus - 1) for volume in volumes) < 0.01
    assert scene.extents[1] == pytest.approx(0.32, rel=0.02)


def test_the_page_beside_it_counts_the_shells(solids):
    text = explanation("Test net", solids)
    count = sum(solid.shell_count for solid in solids if solid.part == "section-1-2")
    assert f"section-1-2: {count} closed shells" in text
