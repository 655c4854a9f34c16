"""STL: every shell as triangles, for slicers and printing services."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np

from net3d.solids.solids import Ints, Singles, Solid

HEADER = b"net3d, binary, millimetres".ljust(80)  # one that starts with "solid" would be read as text
MILLIMETRES = np.float32(1000.0)  # slicers take the numbers for millimetres; a net in metres would be a speck
CHUNK_TRIANGLES = 16384  # 800 kB of file: less takes more calls, more would not fit the processor's cache

# A facet of 50 bytes: normal and three corners in 12 numbers, then the length of attributes that nobody uses.
FACET = np.dtype([("numbers", "V48"), ("attributes", "<u2")])


def write_stl(solids: Sequence[Solid], path: Path) -> None:
    """Write solids as binary STL in millimetres, z up, with unit outward normals.

    Shells that touch overlap, each closed in itself. The file is written a piece at a time, so that memory
    does not grow with it. Raises ``OSError`` if it cannot be written.

    >>> import tempfile
    >>> from net3d.solids.knots import knot_faces, knot_template
    >>> from net3d.parts import KINDS
    >>> lump = knot_template()[None].astype(np.float32)
    >>> look = KINDS["section"].material
    >>> solid = Solid("lump", look, knot_faces(), 10, 1, lambda start, stop: lump[start:stop])
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     write_stl([solid], Path(folder, "lump.stl"))
    ...     Path(folder, "lump.stl").stat().st_size  # 84 and 50 for each of 16 triangles
    884
    """
    with path.open("wb") as file:
        file.write(HEADER)
        file.write(np.array(sum(solid.triangle_count for solid in solids), "<u4").tobytes())
        for solid in solids:
            for vertices in solid.chunks(max(1, CHUNK_TRIANGLES // len(solid.faces))):
                numbers = facets(vertices * MILLIMETRES, solid.faces)
                records = np.empty(numbers.shape[:2], FACET)
                records["attributes"] = 0
                records["numbers"] = numbers.view("V48")[..., 0]
                file.write(records.data)


def facets(vertices: Singles, faces: Ints) -> Singles:
    """Normal and corners of every facet of some shells: (k, v, 3), (f, 3) -> (k, f, 12) [mm].

    Normals come from the corners as they are written, rounding included, so that a reader who works them
    out again finds the same. Coordinates are kept apart because that is three times faster.
    """
    coordinates = np.ascontiguousarray(vertices.transpose(2, 1, 0))
    first, second, third = coordinates.take(faces.T, axis=1).swapaxes(0, 1)
    numbers = np.empty((len(vertices), len(faces), 12), "<f4")
    for place, column in enumerate([*_unit_normals(first, second, third), *first, *second, *third]):
        numbers[..., place] = column.T
    return numbers


def _unit_normals(first: Singles, second: Singles, third: Singles) -> tuple[Singles, Singles, Singles]:
    """Cross two edges of each triangle, counter-clockwise from outside: x, y and z of its normal."""
    a, b, c = second - first
    d, e, f = third - first
    x, y, z = b * f - c * e, c * d - a * f, a * e - b * d
    shrink = 1 / np.sqrt(x * x + y * y + z * z)
    return x * shrink, y * shrink, z * shrink
