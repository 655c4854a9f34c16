"""The closed surfaces of a net, for 3D files and for printing in 3D.

``solids.py`` holds the record; ``parts.py`` puts a net together from the shapes of ``tubes.py``,
``rings.py``, ``knots.py`` and ``drawstring.py``; ``stub.py`` cuts long lines short; ``scale_model.py``
makes one that can be printed.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from net3d.parts.looks import Material
from net3d.solids.parts import build_solids
from net3d.solids.solids import Solid
from net3d.solids.stub import far_lengths, stubbed

if TYPE_CHECKING:  # the surfaces need the records only, not the solver that a Design's import loads
    from net3d.chain import Design

__all__ = ["Material", "Solid", "build_solids", "solids_of"]


def solids_of(design: Design, sides: int = 6, whole: bool = False) -> tuple[Solid, ...]:
    """Make the closed solids of a design: hoops, then netting, tail and lines.

    Parameters
    ----------
    design : the net
    sides : of the polygon that stands for a twine
    whole : draw a long anchor line as far as it runs, and not a stub of it; no wings and leader, of which
        not every mesh is drawn
    """
    if whole:
        return build_solids(design.plan, design.netting, design.shape, sides)
    drawn = design.whole
    netting, shape = drawn.netting, drawn.shape
    far = far_lengths(netting, shape)
    near = replace(shape, knot_positions=stubbed(netting, shape))
    return tuple(
        replace(solid, whole=far.get(solid.part, 0.0))
        for solid in build_solids(design.plan, netting, near, sides)
    )
