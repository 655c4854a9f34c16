"""Text STL in metres with one named solid a part, for programs that compute the flow around a net."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from net3d.solids.solids import Solid
from net3d.writers.stl import CHUNK_TRIANGLES, facets

CORNER = "vertex %.7g %.7g %.7g\n"
FACET = f"facet normal %.7g %.7g %.7g\nouter loop\n{3 * CORNER}endloop\nendfacet\n"

ABOUT = """{title}: surfaces for a drag study

Metres, x from the mouth to the tail, z up. Text STL with one named solid a part:

{parts}

Every bar, knot and hoop is a closed shell of its own, and shells that touch overlap: the file is not one
welded surface. Meshing programs that keep what lies outside of all surfaces take it as it is; others need a
union made first. Twine is a prism as thick as the round twine, standing as the net hangs in still water.
"""


def write_named_stl(solids: Sequence[Solid], path: Path) -> None:
    """Write solids as text STL in metres, z up, all solids of a part under its name.

    Raises ``OSError`` if it cannot be written.
    """
    with path.open("w", encoding="ascii", newline="\n") as file:
        for part in dict.fromkeys(solid.part for solid in solids):
            file.write(f"solid {part}\n")
            for solid in solids:
                if solid.part == part:
                    for vertices in solid.chunks(max(1, CHUNK_TRIANGLES // len(solid.faces))):
                        numbers = facets(vertices, solid.faces).reshape(-1, 12)
                        file.write(FACET * len(numbers) % tuple(numbers.ravel().tolist()))
            file.write(f"endsolid {part}\n")


def explanation(title: str, solids: Sequence[Solid]) -> str:
    """What the surfaces are, part by part."""
    shells = dict.fromkeys((solid.part for solid in solids), 0)
    for solid in solids:
        shells[solid.part] += solid.shell_count
    parts = "\n".join(
        f"    {part}: {count} closed shell{'s' if count > 1 else ''}" for part, count in shells.items()
    )
    return ABOUT.format(title=title, parts=parts)
