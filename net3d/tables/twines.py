"""The list of twines that net3d knows, by the figures of the handbook table."""

from __future__ import annotations

from net3d.handbook.twine import known_twines
from net3d.tables.sheet import Column, Sheet, noted
from net3d.units import Tape


def twines_sheet(tape: Tape) -> Sheet:
    """Every twine of the table: what to call it in a spec, and its figures."""
    columns = (
        Column("twine", "twine"),
        Column("fibre", "fibre"),
        Column("diameter", "diameter", "thickness"),
        Column("strength", "strength, straight and dry", "force"),
        Column("length_per_weight", "length for weight", "length per weight"),
        Column("source", "source"),
    )
    rows = tuple(
        (twine.name, twine.material, twine.diameter, twine.strength, 1 / twine.mass_per_length, twine.source)
        for twine in known_twines()
    )
    notes = noted("how", "Your own spool's figures are the better ones: a table [twine.NAME] takes them.")
    return Sheet("twines", "Twines", tape, columns, rows, notes)
