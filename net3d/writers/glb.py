"""GLB: the net as one binary glTF 2.0 file that opens in any 3D program.

Only core glTF is used, and no extension: several readers show instanced or compressed netting wrongly without
a word. Instead the bars (and the knots, and the hoops) share one run of triangle indices, since their shells
are all alike. Only hoops and lines, which are thick, bring normals and look round; all else readers shade
facet by facet, as the standard asks.

Source: Khronos Group, glTF 2.0 Specification, sections 3.6 (buffers), 3.7.2 (meshes), 3.9.2 (materials) and
4.4 (GLB).
"""

from __future__ import annotations

import json
import struct
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np
from numpy.typing import NDArray

from net3d.errors import OutputError
from net3d.parts.looks import Material
from net3d.solids.solids import Singles, Solid, smooth_normals
from net3d.version import __version__
from net3d.writers.about import node_name, said_of

INDEX_LIMIT = 65535  # vertices that a uint16 can number; its last value means something else
SHELL_LIMIT = 1024  # keeps the shared indices small beside the vertices of a small net
FILE_LIMIT = 2**32 - 1  # bytes that a GLB's own header can count
UNSIGNED_SHORT, FLOAT, ARRAY_BUFFER, ELEMENT_ARRAY_BUFFER = 5123, 5126, 34962, 34963
VERTEX_BYTES = 12
HEADER_BYTES, CHUNK_HEADER_BYTES = 12, 8
Y_UP = [-(0.5**0.5), 0.0, 0.0, 0.5**0.5]  # quaternion (x, y, z, w): a quarter turn about x, z-up to Y-up

Json = dict[str, Any]
Bounds = NDArray[np.float64]  # (runs, 2, 3) least and greatest coordinates [m]


@dataclass(frozen=True)
class _ShellRun:
    """As many shells of a solid as share one primitive."""

    solid: Solid
    start: int
    stop: int
    template: int  # two runs whose shells have the same faces can share indices

    @property
    def shells(self) -> int:
        return self.stop - self.start

    @property
    def vertex_total(self) -> int:
        return self.shells * self.solid.vertex_count


def write_glb(solids: Sequence[Solid], path: Path, about: Mapping[str, Json] | None = None) -> None:
    """Write solids as GLB, in metres, Y up, one named node a part.

    The JSON stands first in the file but holds the bounds of what follows. So room for it is left, the
    vertices are written a run at a time, and the JSON comes last: memory does not grow with the net.

    Raises ``OutputError`` for more than 4 GiB, ``OSError`` if the file cannot be written.

    Parameters
    ----------
    solids : what to write
    path : where to
    about : what the nodes' ``extras`` say, by the names of the parts; ``net`` is all of it
    """
    templates: dict[bytes, int] = {}
    kinds = [templates.setdefault(solid.faces.tobytes(), len(templates)) for solid in solids]
    runs = [run for solid, kind in zip(solids, kinds, strict=True) for run in _runs_of(solid, kind)]
    about = about or {}
    longest_number = np.full((len(runs), 2, 3), -float(np.finfo(np.float32).tiny))  # 23 letters
    room = len(_document(runs, longest_number, about))
    with path.open("wb") as file:
        file.seek(HEADER_BYTES + CHUNK_HEADER_BYTES + room)
        bounds = _write_binary(file, runs)
        total = file.tell()
        file.seek(0)
        file.write(struct.pack("<4sII", b"glTF", 2, total))
        file.write(struct.pack("<I4s", room, b"JSON"))
        file.write(_document(runs, bounds, about).ljust(room))


def _runs_of(solid: Solid, template: int) -> Iterator[_ShellRun]:
    step = min(SHELL_LIMIT, INDEX_LIMIT // solid.vertex_count)
    for start in range(0, solid.shell_count, step):
        yield _ShellRun(solid, start, min(start + step, solid.shell_count), template)


def _longest_runs(runs: Sequence[_ShellRun]) -> list[_ShellRun]:
    """Of the runs that can share indices, the longest: the shorter ones use the first of its indices."""
    longest: dict[int, _ShellRun] = {}
    for run in runs:
        known = longest.setdefault(run.template, run)
        if run.shells > known.shells:
            longest[run.template] = run
    return list(longest.values())


def _write_binary(file: BinaryIO, runs: Sequence[_ShellRun]) -> Bounds:
    """Write the binary chunk and return the bounds of every run."""
    size = sum(_index_bytes(run) for run in _longest_runs(runs)) + VERTEX_BYTES * (
        _vertex_total(runs) + _vertex_total(_smooth(runs))
    )
    if file.tell() + CHUNK_HEADER_BYTES + size > FILE_LIMIT:
        raise OutputError(f"{size / 1e9:.1f} GB of triangles are too many for a GLB file; use fewer sides.")
    file.write(struct.pack("<I4s", size, b"BIN\0"))
    for run in _longest_runs(runs):
        shells = np.arange(run.shells, dtype="<u2")[:, None, None] * np.uint16(run.solid.vertex_count)
        file.write((run.solid.faces.astype("<u2") + shells).data)
    bounds = np.array([_write_vertices(file, run) for run in runs]).reshape(-1, 2, 3)
    for run in _smooth(runs):
        normals = smooth_normals(run.solid.vertices(run.start, run.stop), run.solid.faces)
        file.write(np.ascontiguousarray(normals, "<f4").data)
    return bounds


def _smooth(runs: Sequence[_ShellRun]) -> list[_ShellRun]:
    return [run for run in runs if run.solid.smooth]


def _write_vertices(file: BinaryIO, run: _ShellRun) -> tuple[Singles, Singles]:
    vertices = run.solid.vertices(run.start, run.stop)
    file.write(np.ascontiguousarray(vertices, "<f4").data)
    return _extremes(vertices, np.minimum), _extremes(vertices, np.maximum)


def _extremes(vertices: Singles, extreme: np.ufunc) -> Singles:
    """Least or greatest x, y and z of some shells, halving many of them: three times faster than one by one.

    >>> _extremes(np.arange(9.0, dtype=np.float32).reshape(3, 1, 3), np.maximum).tolist()
    [6.0, 7.0, 8.0]
    """
    while len(vertices) > 64:
        half = (len(vertices) + 1) // 2
        vertices = extreme(vertices[:half], vertices[-half:])  # of an odd number the middle one counts twice
    found: Singles = extreme.reduce(extreme.reduce(vertices))
    return found


def _index_bytes(run: _ShellRun) -> int:
    """Bytes of a run's indices; a multiple of 4, for a closed surface has an even number of triangles."""
    return 2 * run.solid.faces.size * run.shells


def _vertex_total(runs: Sequence[_ShellRun]) -> int:
    return sum(run.vertex_total for run in runs)


def _document(runs: Sequence[_ShellRun], bounds: Bounds, about: Mapping[str, Json]) -> bytes:
    """Make the JSON that describes the binary part, padded with spaces to a multiple of 4 bytes."""
    parts = list(dict.fromkeys(run.solid.part for run in runs))
    materials = list(dict.fromkeys(run.solid.material for run in runs))
    whole = {run.solid.part: run.solid.whole for run in runs}
    views = _buffer_views(runs)
    indices, index_numbers = _index_accessors(runs)
    primitives: list[list[Json]] = [[] for _ in parts]
    normals = {
        number: place for place, number in enumerate(n for n, run in enumerate(runs) if run.solid.smooth)
    }
    for number, run in enumerate(runs):
        attributes = {"POSITION": len(indices) + number}
        if number in normals:
            attributes["NORMAL"] = len(indices) + len(runs) + normals[number]
        primitive = {
            "attributes": attributes,
            "indices": index_numbers[run.template, run.shells],
            "material": materials.index(run.solid.material),
        }
        primitives[parts.index(run.solid.part)].append(primitive)
    document = {
        "asset": {"version": "2.0", "generator": f"net3d {__version__}"},
        "scene": 0,
        "scenes": [{"nodes": [0]}],
        "nodes": [
            _node("net", about) | {"rotation": Y_UP, "children": list(range(1, len(parts) + 1))},
            *(_node(part, about, whole[part]) | {"mesh": number} for number, part in enumerate(parts)),
        ],
        "meshes": [
            {"name": node_name(part, whole[part]), "primitives": some}
            for part, some in zip(parts, primitives, strict=True)
        ],
        "materials": [_material(material) for material in materials],
        "accessors": [
            *indices,
            *_position_accessors(runs, bounds, len(_longest_runs(runs))),
            *_normal_accessors(_smooth(runs), len(views) - 1),
        ],
        "bufferViews": views,
        "buffers": [{"byteLength": views[-1]["byteOffset"] + views[-1]["byteLength"]}],
    }
    text = json.dumps(document, separators=(",", ":")).encode()
    return text.ljust(-(-len(text) // 4) * 4)


def _buffer_views(runs: Sequence[_ShellRun]) -> list[Json]:
    """Describe the binary part: a stretch of indices for each kind of shell, all vertices, then normals."""
    views: list[Json] = []
    offset = 0
    for run in _longest_runs(runs):
        size = _index_bytes(run)
        views.append({"buffer": 0, "byteOffset": offset, "byteLength": size, "target": ELEMENT_ARRAY_BUFFER})
        offset += size
    for some in filter(None, (runs, _smooth(runs))):
        size = VERTEX_BYTES * _vertex_total(some)
        place = {"buffer": 0, "byteOffset": offset, "byteLength": size}
        views.append(place | {"byteStride": VERTEX_BYTES, "target": ARRAY_BUFFER})
        offset += size
    return views


def _index_accessors(runs: Sequence[_ShellRun]) -> tuple[list[Json], dict[tuple[int, int], int]]:
    """Describe the indices of runs of every kind and length; also the accessor number of each of those."""
    templates = [run.template for run in _longest_runs(runs)]
    kinds = {(run.template, run.shells): run.solid.faces.size * run.shells for run in runs}
    accessors = [
        {
            "bufferView": templates.index(template),
            "componentType": UNSIGNED_SHORT,
            "count": count,
            "type": "SCALAR",
        }
        for (template, _), count in kinds.items()
    ]
    return accessors, {kind: number for number, kind in enumerate(kinds)}


def _position_accessors(runs: Sequence[_ShellRun], bounds: Bounds, view: int) -> Iterator[Json]:
    """Describe the vertices of every run, with the exact bounds that the standard demands."""
    offset = 0
    for run, (least, greatest) in zip(runs, bounds.tolist(), strict=True):
        yield {
            "bufferView": view,
            "byteOffset": offset,
            "componentType": FLOAT,
            "count": run.vertex_total,
            "type": "VEC3",
            "min": least,
            "max": greatest,
        }
        offset += VERTEX_BYTES * run.vertex_total


def _normal_accessors(runs: Sequence[_ShellRun], view: int) -> Iterator[Json]:
    """Describe the normals of those runs that have any."""
    offset = 0
    for run in runs:
        place = {"bufferView": view, "byteOffset": offset, "componentType": FLOAT}
        yield place | {"count": run.vertex_total, "type": "VEC3"}
        offset += VERTEX_BYTES * run.vertex_total


def _node(part: str, about: Mapping[str, Json], whole: float = 0.0) -> Json:
    """Describe a part's node; a line that is not drawn whole says how long it is."""
    extras = said_of(part, about, whole)
    return {"name": node_name(part, whole)} | ({"extras": extras} if extras else {})


def _material(material: Material) -> Json:
    """Describe a material; the standard wants light intensities where a screen colour is usual."""
    return {
        "name": material.name,
        "pbrMetallicRoughness": {
            "baseColorFactor": [*material.linear_colour, 1.0],
            "metallicFactor": material.metallic,
            "roughnessFactor": material.roughness,
        },
    }
