"""Tubes along every bar, as STL: by net3d, and by general-purpose libraries that were not made for nets.

net3d also draws the knots and the hoops; the others draw the bars alone. Every tube has six sides.
"""

from __future__ import annotations

import tracemalloc
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

import numpy as np

from net3d.solids import build_solids
from net3d.writers.glb import write_glb
from net3d.writers.stl import write_stl
from tests.tools.benchmarks.nets import whole

SIDES = 6
KERNEL_BARS = 500  # a CAD kernel takes a millisecond and more over each: so many are timed, the rest reckoned


def ours(writer: str, size: str) -> dict[str, float]:
    """Build and write a net; then write the same bytes again, raw, as the floor."""
    net = whole("repeats", size)
    shape = net.settled()
    with TemporaryDirectory() as folder:
        path = Path(folder, "net")
        start = perf_counter()
        solids = build_solids(net.plan, net.netting, shape, SIDES)
        {"glb": write_glb, "stl": write_stl}[writer](solids, path)
        seconds = perf_counter() - start
        content = path.read_bytes()
        start = perf_counter()
        Path(folder, "raw").write_bytes(content)
        raw = perf_counter() - start
    return {"seconds": seconds, "raw": raw, "bytes": len(content), "bars": len(net.netting.bars)}


def stl_memory(size: str) -> int:
    """The most that the STL writer holds at once [bytes], numpy's arrays included."""
    net = whole("repeats", size)
    solids = build_solids(net.plan, net.netting, net.settled(), SIDES)
    with TemporaryDirectory() as folder:
        tracemalloc.start()
        write_stl(solids, Path(folder, "net.stl"))
        return tracemalloc.get_traced_memory()[1]


def numpy_stl(size: str) -> dict[str, float]:
    """numpy-stl writes the very triangles that net3d makes, which it is given."""
    from stl import Mesh

    net = whole("repeats", size)
    solids = build_solids(net.plan, net.netting, net.settled(), SIDES)
    triangles = np.concatenate([s.vertices(0, s.shell_count)[:, s.faces].reshape(-1, 3, 3) for s in solids])
    with TemporaryDirectory() as folder:
        start = perf_counter()
        mesh = Mesh(np.zeros(len(triangles), Mesh.dtype))
        mesh.vectors[:] = triangles * 1000
        mesh.save(Path(folder, "net.stl"))
        return {"seconds": perf_counter() - start}


def vtk(size: str) -> dict[str, float]:
    """VTK's tube filter, by way of pyvista."""
    import pyvista

    ends, radius = _bars(size)
    with TemporaryDirectory() as folder:
        start = perf_counter()
        lines = np.insert(np.arange(2 * len(ends)).reshape(-1, 2), 0, 2, axis=1)
        centres = pyvista.PolyData(ends.reshape(-1, 3), lines=lines.ravel())
        tubes = centres.tube(radius=radius, n_sides=SIDES, capping=True).triangulate()
        tubes.save(Path(folder, "net.stl"))
        return {"seconds": perf_counter() - start}


def trimesh(size: str) -> dict[str, float]:
    """The cylinders of trimesh itself, one a bar, put together."""
    from trimesh.creation import cylinder
    from trimesh.util import concatenate

    ends, radius = _bars(size)
    with TemporaryDirectory() as folder:
        start = perf_counter()
        tubes = concatenate([cylinder(radius, sections=SIDES, segment=segment) for segment in ends])
        tubes.export(Path(folder, "net.stl"))
        return {"seconds": perf_counter() - start}


def cad_kernel(size: str) -> dict[str, float]:
    """Open CASCADE extrudes a hexagon along some bars and meshes them; the time is scaled up to all bars."""
    from OCP.BRep import BRep_Builder
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.StlAPI import StlAPI_Writer
    from OCP.TopoDS import TopoDS_Compound

    ends, radius = _bars(size)
    some = ends[: min(KERNEL_BARS, len(ends))]
    with TemporaryDirectory() as folder:
        start = perf_counter()
        builder, tubes = BRep_Builder(), TopoDS_Compound()
        builder.MakeCompound(tubes)
        for first, last in some:
            builder.Add(tubes, _prism(first, last, radius))
        BRepMesh_IncrementalMesh(tubes, radius)
        StlAPI_Writer().Write(tubes, str(Path(folder, "net.stl")))
        return {"seconds": (perf_counter() - start) * len(ends) / len(some)}


def _prism(first, last, radius):
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Pnt, gp_Vec

    along = last - first
    across = np.cross(along, np.eye(3)[np.abs(along).argmin()])
    across /= np.linalg.norm(across)
    over = np.cross(along, across) / np.linalg.norm(along)
    polygon = BRepBuilderAPI_MakePolygon()
    for angle in 2 * np.pi * np.arange(SIDES) / SIDES:
        corner = first + radius * (np.cos(angle) * across + np.sin(angle) * over)
        polygon.Add(gp_Pnt(*corner.tolist()))
    polygon.Close()
    face = BRepBuilderAPI_MakeFace(polygon.Wire()).Face()
    return BRepPrimAPI_MakePrism(face, gp_Vec(*along.tolist())).Shape()


def _bars(size):
    """Both ends of every bar (k, 2, 3) and the radius of the twine, in millimetres."""
    net = whole("repeats", size)
    ends = net.settled().knot_positions[net.netting.bars]
    return ends * 1000, float(net.netting.bar_diameters[0]) * 500
