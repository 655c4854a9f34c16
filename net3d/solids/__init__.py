"""The closed surfaces of a net, for 3D files and for printing in 3D.

``solids.py`` holds the record; ``parts.py`` puts a net together from the shapes of ``tubes.py``,
``rings.py``, ``knots.py`` and ``drawstring.py``; ``scale_model.py`` makes one that can be printed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from net3d.parts.looks import Material
from net3d.solids.parts import build_solids
from net3d.solids.solids import Solid

if TYPE_CHECKING:  # the surfaces need the records only, not the solver that a Design's import loads
    from net3d.chain import Design

__all__ = ["Material", "Solid", "build_solids", "solids_of"]


def solids_of(design: Design, sides: int = 6) -> tuple[Solid, ...]:
    """Make the closed solids of a design: hoops, then netting, tail and lines; twine with ``sides`` sides."""
    return build_solids(design.plan, design.netting, design.shape, sides)
