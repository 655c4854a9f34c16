"""USDZ: a net at true size, to stand in a room in a phone's own viewer."""

from __future__ import annotations

import re
import shutil
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from net3d.errors import OutputError
from net3d.parts.looks import Material
from net3d.solids.solids import Singles, Solid
from net3d.writers.about import node_name, said_of

MISSING = "USDZ files need usd-core, which comes with pip install 'net3d[usdz]'."


About = Mapping[str, dict[str, Any]]


def write_usdz(solids: Sequence[Solid], path: Path, about: About | None = None) -> None:
    """Write solids as USDZ in metres, Y up, one mesh of triangles a part.

    ``about`` says what stands in the ``customData`` of the parts, by their names; ``net`` is all of it.

    Raises ``OutputError`` where usd-core is not installed, and ``OSError`` if the file cannot be written.
    """
    try:
        from pxr import Gf, Usd, UsdGeom  # noqa: PLC0415 - an extra that few need
    except ImportError as error:
        raise OutputError(MISSING) from error
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:  # Windows holds open files
        layer = str(Path(folder, "net.usdc"))
        stage = Usd.Stage.CreateNew(layer)
        UsdGeom.SetStageUpAxis(stage, UsdGeom.Tokens.y)
        UsdGeom.SetStageMetersPerUnit(stage, 1.0)
        net = UsdGeom.Xform.Define(stage, "/net")
        stage.SetDefaultPrim(net.GetPrim())
        _say(net.GetPrim(), (about or {}).get("net", {}))
        _add_parts(stage, solids, about or {})
        lowest = min(float(chunk[..., 2].min()) for solid in solids for chunk in solid.chunks(4096))
        net.AddTranslateOp().Set(Gf.Vec3d(0.0, -lowest, 0.0))  # viewers stand y = 0 on the floor
        package = Path(folder, "net.usdz")
        _pack(stage, layer, str(package))
        shutil.copyfile(package, path)


def _pack(stage: Any, layer: str, package: str) -> None:  # noqa: ANN401 - usd-core ships no types
    from pxr import Tf, UsdUtils  # noqa: PLC0415

    try:
        stage.GetRootLayer().Save()
        packed = UsdUtils.CreateNewUsdzPackage(layer, package)
    except Tf.ErrorException:
        packed = False
    if not packed:
        raise OSError(f"it is put together in {tempfile.gettempdir()}, which is full or closed")


def _add_parts(stage: Any, solids: Sequence[Solid], about: About) -> None:  # noqa: ANN401 - usd-core ships no types
    materials = {solid.material: _material(stage, solid.material) for solid in solids}
    for part in dict.fromkeys(solid.part for solid in solids):
        for number, material in enumerate(dict.fromkeys(s.material for s in solids if s.part == part)):
            alike = [solid for solid in solids if (solid.part, solid.material) == (part, material)]
            name = part + (f"_{number + 1}" if number else "")
            prim = _add_mesh(stage, _identifier(name), alike, materials[material])
            prim.SetDisplayName(node_name(name, alike[0].whole))
            _say(prim, said_of(part, about, alike[0].whole))


def _say(prim: Any, said: Mapping[str, Any]) -> None:  # noqa: ANN401 - usd-core ships no types
    """Write what is said of a part with it; rows of numbers in USD's own arrays."""
    from pxr import Vt  # noqa: PLC0415

    for key, value in said.items():
        prim.SetCustomDataByKey(key, Vt.DoubleArray(value) if isinstance(value, list) else value)


def _identifier(name: str) -> str:
    """A name as USD takes it: of letters, figures and underscores."""
    return re.sub(r"\W", "_", name)


def _add_mesh(stage: Any, name: str, solids: Sequence[Solid], material: Any) -> Any:  # noqa: ANN401
    from pxr import UsdGeom, UsdShade, Vt  # noqa: PLC0415

    points, faces = _joined(solids)
    mesh = UsdGeom.Mesh.Define(stage, f"/net/{name}")
    mesh.CreateSubdivisionSchemeAttr(UsdGeom.Tokens.none)
    mesh.CreatePointsAttr(Vt.Vec3fArray.FromNumpy(points))
    mesh.CreateFaceVertexIndicesAttr(Vt.IntArray.FromNumpy(faces.ravel()))
    mesh.CreateFaceVertexCountsAttr(Vt.IntArray.FromNumpy(np.full(len(faces), 3, np.int32)))
    mesh.CreateExtentAttr(Vt.Vec3fArray.FromNumpy(np.stack([points.min(axis=0), points.max(axis=0)])))
    UsdShade.MaterialBindingAPI.Apply(mesh.GetPrim()).Bind(material)
    return mesh.GetPrim()


def _joined(solids: Sequence[Solid]) -> tuple[Singles, np.ndarray[Any, np.dtype[np.int32]]]:
    """All shells of some solids as one list of points, turned Y up, and one of triangles."""
    points, faces, count = [], [], 0
    for solid in solids:
        shells = solid.vertices(0, solid.shell_count)
        starts = count + solid.vertex_count * np.arange(solid.shell_count)
        faces.append((solid.faces[None] + starts[:, None, None]).reshape(-1, 3))
        points.append(shells.reshape(-1, 3))
        count += len(points[-1])
    x, y, z = np.concatenate(points).T
    return np.ascontiguousarray(np.stack([x, z, -y], axis=1)), np.concatenate(faces).astype(np.int32)


def _material(stage: Any, material: Material) -> Any:  # noqa: ANN401
    from pxr import Gf, Sdf, UsdShade  # noqa: PLC0415

    made = UsdShade.Material.Define(stage, f"/net/materials/{material.name}")
    shader = UsdShade.Shader.Define(stage, f"/net/materials/{material.name}/surface")
    shader.CreateIdAttr("UsdPreviewSurface")
    shader.CreateInput("diffuseColor", Sdf.ValueTypeNames.Color3f).Set(Gf.Vec3f(*material.linear_colour))
    shader.CreateInput("roughness", Sdf.ValueTypeNames.Float).Set(material.roughness)
    shader.CreateInput("metallic", Sdf.ValueTypeNames.Float).Set(material.metallic)
    made.CreateSurfaceOutput().ConnectToSource(shader.ConnectableAPI(), "surface")
    return made
