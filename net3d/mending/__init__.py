"""The mending room: holes in netting, how to trim them for one piece of twine, and the way it then takes."""

from net3d.mending.lattice import Lattice, lattice_of
from net3d.mending.mended import Mended, mended
from net3d.mending.torn import Hole, holes_of
from net3d.mending.trail import Mend, mend
from net3d.mending.trimming import HoleError, Trim, trim

__all__ = [
    "Hole",
    "HoleError",
    "Lattice",
    "Mend",
    "Mended",
    "Trim",
    "holes_of",
    "lattice_of",
    "mend",
    "mended",
    "trim",
]
