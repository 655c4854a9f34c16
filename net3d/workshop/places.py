"""Beside which boxes a finding is told: those of the piece it is about, or else of the table it hangs on."""

from __future__ import annotations

from net3d.checks.checks import Finding
from net3d.parts import Part

_BY_WORD = {"hoop": "hoop", "section": "hoop", "throat": "throat", "strings": "throat"}
_BY_START = {
    "local": "limits",
    "doubt-fish": "fish",
    "line": "rigging",
    "anchor": "anchor",
    "river": "rigging",
    "drag": "water",
    "hanging": "netting",
    "sheet": "netting",
    "twine": "netting",
    "doubt-twine": "netting",
    "built": "built",
}


def place_of(finding: Finding) -> str:
    """The key of the table, or the hoop or throat, that a finding belongs to; empty where it is the net's."""
    if finding.part is not None:
        return _of_part(finding.part)
    starts = (table for start, table in _BY_START.items() if finding.code.startswith(start))
    return next(starts, "")


def _of_part(part: Part) -> str:
    """A section stands beside the hoop before it, whose box says how deep it is.

    >>> _of_part(Part.section(2, 3)), _of_part(Part.strings(1)), _of_part(Part("bridle"))
    ('hoop.2', 'throat.1', 'rigging')
    """
    if part.word in _BY_WORD and part.numbers:
        return f"{_BY_WORD[part.word]}.{part.numbers[0]}"
    return "tail" if part.word in ("tail", "drawstring") else "rigging"
