"""The net as a scene of trimesh, to go on with: to slice, measure, render, or write in other formats."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from net3d.chain import Design
from net3d.errors import OutputError
from net3d.solids import Solid, solids_of
from net3d.writers.about import about_parts, node_name
from net3d.writers.glb import Y_UP

if TYPE_CHECKING:
    from trimesh import Scene, Trimesh

MISSING = "A scene needs trimesh, which comes with pip install 'net3d[scene]'."
SIDES = 6


def scene(design: Design, sides: int = SIDES) -> Scene:
    """The net as ``trimesh.Scene``, the same as net.glb: a geometry a part, in metres, in its colours.

    Geometries stand as the net does, x from the mouth to the tail and z up; the scene turns them Y up, as 3D
    files have it. What is said of a part is in its ``metadata``, and of all of it in the scene's.

    Raises ``OutputError`` where trimesh is not installed.
    """
    try:
        from trimesh import Scene  # noqa: PLC0415 - an extra
        from trimesh.transformations import quaternion_matrix  # noqa: PLC0415
    except ImportError as error:
        raise OutputError(MISSING) from error
    about, solids = about_parts(design), solids_of(design, sides)
    made = Scene(base_frame="net", metadata=about["net"])
    turned = quaternion_matrix([Y_UP[3], *Y_UP[:3]])  # type: ignore[no-untyped-call]
    for part, material in dict.fromkeys((solid.part, solid.material) for solid in solids):
        alike = [solid for solid in solids if (solid.part, solid.material) == (part, material)]
        name = node_name(part, alike[0].whole)
        if name in made.geometry:  # the tail's drawstring
            name = f"{name}-{material.name}"
        made.add_geometry(_joined(alike, about.get(part, {})), name, name, transform=turned)
    return made


def _joined(solids: Sequence[Solid], about: dict[str, object]) -> Trimesh:
    """All shells of some solids of one part and material as one mesh."""
    from trimesh import Trimesh  # noqa: PLC0415
    from trimesh.visual import TextureVisuals  # noqa: PLC0415
    from trimesh.visual.material import PBRMaterial  # noqa: PLC0415

    look, points, faces, count = solids[0].material, [], [], 0
    for solid in solids:
        starts = count + solid.vertex_count * np.arange(solid.shell_count)
        faces.append((solid.faces[None] + starts[:, None, None]).reshape(-1, 3))
        points.append(solid.vertices(0, solid.shell_count).reshape(-1, 3))
        count += len(points[-1])
    paint = PBRMaterial(  # type: ignore[no-untyped-call]
        name=look.name,
        baseColorFactor=[*look.linear_colour, 1.0],
        metallicFactor=look.metallic,
        roughnessFactor=look.roughness,
    )
    visual = TextureVisuals(material=paint)  # type: ignore[no-untyped-call]
    mesh = Trimesh(np.concatenate(points), np.concatenate(faces), process=False, visual=visual)
    mesh.metadata.update(about, units="meters")
    return mesh
