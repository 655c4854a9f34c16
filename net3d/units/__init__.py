"""The only place where inches, pounds or feet a second become SI, and where SI is written for the maker."""

from net3d.units.figures import three_figures
from net3d.units.reading import read_number, read_quantity
from net3d.units.tape import Tape, plain_tape
from net3d.units.units import KINDS, UnitError, Units, default_unit, si_unit, unit_factor

__all__ = [
    "KINDS",
    "Tape",
    "UnitError",
    "Units",
    "default_unit",
    "plain_tape",
    "read_number",
    "read_quantity",
    "si_unit",
    "three_figures",
    "unit_factor",
]
