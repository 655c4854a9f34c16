"""A hole, and how one piece of twine mends it."""

from __future__ import annotations

from dataclasses import dataclass

from net3d.mending.torn import Hole
from net3d.mending.trail import Mend, mend
from net3d.mending.trimming import HoleError, trim


@dataclass(frozen=True, eq=False)
class Mended:
    """A hole and the way of the twine through it."""

    hole: Hole
    way: Mend


def mended(hole: Hole) -> Mended:
    """How a hole is mended. Raises HoleError, with its number, where one piece of twine does not do it."""
    try:
        return Mended(hole, mend(hole.lattice, trim(hole.lattice, hole.bars)))
    except HoleError as error:
        raise HoleError(f"Hole {hole.number}, in {hole.place}: {error}") from None
