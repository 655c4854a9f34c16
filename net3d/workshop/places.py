"""Beside which boxes a finding is told: those of the piece it is about, or else of the table it hangs on."""

from __future__ import annotations

from net3d.checks.checks import Finding

_BY_START = {
    "local": "limits",
    "doubt-fish": "fish",
    "line": "rigging",
    "anchor": "anchor",
    "river": "rigging",
    "drag": "water",
    "hanging": "netting",
    "mesh": "netting",
    "sheet": "netting",
    "twine": "netting",
    "doubt-twine": "netting",
    "built": "built",
    "hole": "hole",
}


def place_of(finding: Finding) -> str:
    """The key of the table, or the hoop or throat, that a finding belongs to; empty where it is the net's."""
    if finding.part is not None:
        return finding.part.table
    if finding.code == "hole-opening":
        return finding.where.replace(" ", ".")
    starts = (table for start, table in _BY_START.items() if finding.code.startswith(start))
    return next(starts, "")
