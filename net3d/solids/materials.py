"""What each kind of part looks like.

The colours step in lightness, each at least 9 of 100 in CIE L* from the next, so that they stay apart
for every kind of colour blindness and in grey print.
"""

from __future__ import annotations

from net3d.solids.solids import Material

HOOP = Material("hoop", (0.20, 0.22, 0.26), 0.0, 0.5)
TAIL = Material("tail", (0.13, 0.36, 0.62), 0.0, 0.9)
ROPE = Material("rope", (0.75, 0.31, 0.17), 0.0, 0.9)
THROAT = Material("throat", (0.84, 0.55, 0.15), 0.0, 0.9)
TWINE = Material("twine", (0.66, 0.79, 0.66), 0.0, 0.9)
STRINGS = Material("strings", (0.97, 0.93, 0.78), 0.0, 0.9)

MATERIALS = (HOOP, TAIL, ROPE, THROAT, TWINE, STRINGS)

_KINDS = {
    "section": TWINE,
    "tail": TAIL,
    "throat": THROAT,
    "strings": STRINGS,
    "bridle": ROPE,
    "anchor": ROPE,
}


def material_of(part: str) -> Material:
    """Look up the material of a part of the netting or the rigging, by the first word of its name.

    >>> material_of("section-1-2").name
    'twine'
    """
    return _KINDS[part.split("-", maxsplit=1)[0]]
